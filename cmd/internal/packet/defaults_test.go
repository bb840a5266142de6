package packet

import (
	"bytes"
	gocmp "cmp"
	"context"
	"fmt"
	"maps"
	"math/rand"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"starwright/cmd/internal/jobgen"
	"starwright/geom/problem"
	"starwright/geom/star"
)

// TestDefaultsGoBack writes the defaults that a plan prints into the job, each by
// itself and all of them at once: the job comes to the same numbers, and every
// program and drawing to the same bytes. Of some jobs the whole packet is made.
// STARWRIGHT_DEFAULTS=300 tries so many jobs.
func TestDefaultsGoBack(t *testing.T) {
	jobs := 12
	if n, err := strconv.Atoi(os.Getenv("STARWRIGHT_DEFAULTS")); err == nil {
		jobs = n
	}
	const packets = 20 // of so many jobs one is made whole
	rng := rand.New(rand.NewSource(15))
	tried, written, failed := 0, 0, map[string]int{}
	for n := 0; tried < jobs && n < 10*jobs; n++ {
		source := jobgen.Job(func(_ string, n int) int { return rng.Intn(n) }, n%4 == 0) + ownShop(rng)
		if n%5 == 0 {
			source = someStars(rng)
		}
		w, err := Load(context.Background(), adviceInput(source), nil)
		if err != nil {
			continue // asks for more than its wood holds
		}
		tried++
		fail := func(key, what string) {
			failed[key]++
			if failed[key] <= 3 {
				t.Errorf("%s: %s\n%s", key, what, source)
			}
		}
		all := source
		notes := slices.Concat(w.Job.Defaults, w.Order.Defaults)
		for i, d := range notes {
			written++
			one := withDefault(source, d)
			all = withDefault(all, d)
			alone, err := Start(context.Background(), adviceInput(one), nil)
			if err == nil && (i == n%len(notes) || strings.HasPrefix(d.Key, "sheet.")) {
				if err = alone.Finish(context.Background()); err == nil {
					if what := otherFiles(w, alone); what != "" {
						fail(d.Key, d.Value+": "+what)
					}
				}
			}
			if err != nil {
				fail(d.Key, err.Error())
			} else if otherNumbers(w, alone) != "" { // or its sheets ask for another cutter
				if err := alone.Finish(context.Background()); err != nil {
					fail(d.Key, err.Error())
				} else if what := otherNumbers(w, alone); what != "" {
					fail(d.Key, d.Value+": "+what)
				}
			}
		}
		same, err := Load(context.Background(), adviceInput(all), nil)
		if err != nil {
			fail("all at once", err.Error())
			continue
		}
		if what := gocmp.Or(otherNumbers(w, same), otherFiles(w, same)); what != "" {
			fail("all at once", what)
		} else if tried%packets == 1 {
			if what := otherPacket(w, same); what != "" {
				fail("packet", what)
			}
		}
	}
	t.Logf("%d defaults of %d jobs were written into them; failed: %v", written, tried, failed)
	if tried < jobs {
		t.Errorf("only %d of %d jobs were tried", tried, jobs)
	}
}

// ownShop gives some jobs what their shop has, which moves the defaults.
func ownShop(rng *rand.Rand) string {
	return []string{"", "", "",
		"[shop]\ncutters = [\"7.3 mm\", { diameter = \"3.175 mm\", cut_length = \"17.25 mm\", flutes = 1 }]\n[stock]\nboard_width = \"20 in\"\n[wood]\nspecies = \"red oak\"\n",
		"[shop]\ncutters = [{ diameter = \"1/4 in\", cut_length = \"1 1/64 in\", flutes = 3 }, \"3 mm\"]\n",
		"[shop]\nhas = [\"mitre saw\", \"router table\"]\n",
	}[rng.Intn(6)]
}

// someStars returns an order of two or three stars.
func someStars(rng *rand.Rand) string {
	var b strings.Builder
	fmt.Fprintf(&b, "units = %q\n", []string{"mm", "in"}[rng.Intn(2)])
	for i := range 2 + rng.Intn(2) {
		fmt.Fprintf(&b, "[[star]]\nname = \"s%d\"\npoints = %d\nthickness = \"%.2f mm\"\noffcut_star = %t\n",
			i, 5+rng.Intn(5), 10+15*rng.Float64(), rng.Intn(2) == 0)
		if rng.Intn(3) == 0 {
			fmt.Fprintf(&b, "board_width = %q\n", []string{"1x4", "1x6", "2x4"}[rng.Intn(3)])
		} else {
			fmt.Fprintf(&b, "board_width = \"%.2f mm\"\n", 50+90*rng.Float64())
		}
	}
	return b.String() + "[jigs]\nmake = []\n"
}

// withDefault writes a default into a job as it is printed.
func withDefault(source string, d problem.Note) string {
	value := d.Value
	if !regexp.MustCompile(`^(\d+|true|false|\[.*\])$`).MatchString(value) {
		value = strconv.Quote(value)
	}
	table, key, _ := strings.Cut(d.Key, ".")
	line := key + " = " + value
	if key == "" {
		return table + " = " + value + "\n" + source
	}
	lines := strings.Split(source, "\n")
	at := slices.Index(lines, "["+table+"]")
	switch {
	case d.Star != "": // of a star of an order: under its name
		if at = slices.Index(lines, fmt.Sprintf("name = %q", d.Star)); table != "star" {
			key = table + "." + key
		}
		line = key + " = " + value
	case d.Key == "star.board_width" && at < 0: // stands there: the trade's name of a board
		return source
	case table == "star" && at < 0: // of every star of an order
		return strings.ReplaceAll(source, "[[star]]", "[[star]]\n"+line)
	}
	if at < 0 {
		return source + "\n[" + table + "]\n" + line + "\n"
	}
	for k := at + 1; k < len(lines) && !strings.HasPrefix(lines[k], "["); k++ {
		if strings.HasPrefix(lines[k], key+" ") {
			lines[k] = line
			return strings.Join(lines, "\n")
		}
	}
	return strings.Join(slices.Insert(lines, at+1, line), "\n")
}

// otherNumbers says where two works differ in what the job and its stars came to,
// by more than ten roundings.
func otherNumbers(a, b *Work) string {
	type numbers struct {
		Cutter                         float64
		Feed, Plunge, Pass, RPM, Flute float64
		Stars                          []star.Star
		Slots                          []*star.Slot
		Splines                        []*star.Spline
		Hangs                          []*star.Hang
		Blanks                         []*star.Blank
		Tables                         []any // whose keys are what their defaults are
	}
	of := func(w *Work) numbers {
		c := w.Job.Cutter
		n := numbers{Cutter: w.Order.Cutter, Feed: c.Feed, Plunge: c.PlungeFeed, Pass: c.DepthPerPass, RPM: c.SpindleRPM, Flute: float64(c.Flutes)}
		n.Tables = []any{w.Job.Saw, w.Job.Tabs, w.Job.Machine, w.Job.Stock.RipKerf, w.Job.Stock.Jointing, w.Job.Spline.Fit, w.Job.Spline.GlueGap}
		for _, u := range w.Order.Units {
			n.Stars, n.Slots, n.Splines = append(n.Stars, u.Star), append(n.Slots, u.Slot), append(n.Splines, u.Spline)
			n.Hangs, n.Blanks = append(n.Hangs, u.Hang), append(n.Blanks, u.Blank)
		}
		return n
	}
	return cmp.Diff(of(a), of(b), cmpopts.EquateApprox(0, 1e-8))
}

// otherFiles names a drawing or program that has other bytes in two works.
func otherFiles(a, b *Work) string {
	return otherTree(written(a), written(b))
}

func written(w *Work) Tree {
	g := &growing{tree: Tree{}}
	if err := w.writeFiles(g); err != nil {
		return Tree{"error": []byte(err.Error())}
	}
	return g.tree
}

// pageKey is what the page keeps its ticks under, which is the job's.
var pageKey = regexp.MustCompile(`data-key="[0-9a-f]+"`)

// otherPacket names a file that has other bytes in two packets.
func otherPacket(a, b *Work) string {
	var trees [2]Tree
	for i, w := range []*Work{a, b} {
		made, tree, err := MakeTree(context.Background(), w)
		if err != nil || tree == nil {
			return fmt.Sprintf("no packet: %v %v", err, made)
		}
		tree["bench.html"] = pageKey.ReplaceAll(tree["bench.html"], nil)
		trees[i] = tree
	}
	return otherTree(trees[0], trees[1])
}

// otherTree names the files that differ, but for the job and the manifest with
// its digest.
func otherTree(a, b Tree) string {
	var out []string
	for _, name := range slices.Sorted(maps.Keys(a)) {
		if name != "job.toml" && name != ManifestName && !bytes.Equal(a[name], b[name]) {
			out = append(out, name)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(b)) {
		if _, there := a[name]; !there {
			out = append(out, "only the second has "+name)
		}
	}
	return strings.Join(out, ", ")
}

// A star without slots has the cutter that its sheets end with, and says so where
// it is a default: the first choice does not get round every part of this one.
func TestDefaultCutterOfSheets(t *testing.T) {
	const source = `[star]
points = 6
board_width = "35.8 mm"
thickness = "9.4 mm"
count = 1
offcut_star = true
joint = "plain"
woods = ["walnut", "hard maple"]
halves = "whole"
[cutter]
depth_per_pass = "0.333 cm"
feed = "1240 mm/min"
plunge_feed = "620 mm/min"
spindle_rpm = 6500
ramp = "3 deg"
arcs = false
[sheet]
width = "1000 mm"
height = "800 mm"
thickness = "15 mm"
[shop]
cutters = [{ diameter = "1/4 in", cut_length = "1 1/64 in", flutes = 3 }, "3 mm"]
`
	w, err := Load(context.Background(), adviceInput(source), nil)
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(w.Order.Defaults, func(n problem.Note) bool { return n.Key == "cutter.diameter" })
	if i < 0 {
		t.Fatalf("no cutter among the defaults: %+v", w.Order.Defaults)
	}
	if n := w.Order.Defaults[i]; w.Order.Cutter != 3 || n.Value != "3 mm" {
		t.Errorf("cut with %v mm, said to be %s", w.Order.Cutter, n.Value)
	}
}

// thinPlates is a job whose plates its shop's first choice of cutter does not cut.
const thinPlates = `[star]
points = 11
board_width = "150 mm"
thickness = "35.6 mm"
tip = "26.4 deg"
count = 6
offcut_star = true
joint = "plate"
woods = ["walnut", "hard maple"]
halves = "turning"
[cutter]
depth_per_pass = "1.3 mm"
feed = "1540 mm/min"
plunge_feed = "308 mm/min"
spindle_rpm = 22000
ramp = "3 deg"
arcs = true
[sheet]
width = "1000 mm"
height = "800 mm"
thickness = "18 mm"
[jigs]
make = []
[shop]
cutters = [{ diameter = "1/4 in", cut_length = "1 1/64 in", flutes = 3 }, "3 mm"]
`

// Jobs whose defaults once led elsewhere: the cutter for their sheets was settled after
// their back plates were laid out and their spacing was refused, or the joint of their
// stars from off-cuts was called a default of all their stars.
func TestDefaultsThatFailed(t *testing.T) {
	for name, source := range map[string]string{
		"two cutters":               thinPlates,
		"off-cuts short of a plate": "[star]\npoints = 6\nboard_width = 101.4\nthickness = \"15.7 mm\"\noffcut_star = true\njoint = \"plate\"\n[jigs]\nmake = []\n",
	} {
		t.Run(name, func(t *testing.T) {
			w, err := Load(context.Background(), adviceInput(source), nil)
			if err != nil {
				t.Fatal(err)
			}
			all := source
			for _, d := range slices.Concat(w.Job.Defaults, w.Order.Defaults) {
				if all = withDefault(all, d); !strings.HasPrefix(d.Key, "sheet.") && d.Key != "star.joint" {
					continue
				}
				if alone, err := Load(context.Background(), adviceInput(withDefault(source, d)), nil); err != nil {
					t.Errorf("%s = %s: %v", d.Key, d.Value, err)
				} else if what := otherFiles(w, alone); what != "" {
					t.Errorf("%s = %s: %s", d.Key, d.Value, what)
				}
			}
			same, err := Load(context.Background(), adviceInput(all), nil)
			if err != nil {
				t.Fatal(err)
			}
			if what := otherNumbers(w, same) + otherFiles(w, same); what != "" {
				t.Errorf("all at once: %s", what)
			}
		})
	}
}

// A plate's holes take the bit that cuts its sheet, which the slots of another star of
// the order are not cut with: 6.35 mm and half a millimetre, not 5 for the thin one.
func TestPlateHasTheSheetsCutter(t *testing.T) {
	const source = `[[star]]
name = "slots"
board_width = "90 mm"
[star.slot]
width = "3 mm"
[[star]]
name = "plates"
board_width = "150 mm"
joint = "plate"
[jigs]
make = []
[sheet]
width = "600 mm"
height = "600 mm"
[shop]
cutters = ["6.35 mm", "3 mm"]
`
	w, err := Load(context.Background(), adviceInput(source), nil)
	if err != nil {
		t.Fatal(err)
	}
	if p := w.Order.Units[1].Plate; w.Order.Cutter != 3 || w.sheetBit() != 6.35 || p.Bore != 6.85 {
		t.Errorf("slots by %v mm, sheets by %v mm, holes of %v mm", w.Order.Cutter, w.sheetBit(), p.Bore)
	}
}

// A plate that is checked by itself is held against the one for the cutter that its
// sheet ended with.
func TestCheckOfOnePlate(t *testing.T) {
	w, err := Load(context.Background(), adviceInput(thinPlates), nil)
	if err != nil {
		t.Fatal(err)
	}
	_, tree, err := MakeTree(context.Background(), w)
	if err != nil || tree == nil {
		t.Fatal("no packet: ", err)
	}
	c, err := CheckTree("packet", tree, []string{"dxf/plate.dxf"}, nil)
	if err != nil || !c.OK() || len(c.Proofs) != 1 {
		t.Errorf("%v %+v", err, c)
	}
}
