package packet

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"starwright/cmd/internal/job"
)

const cutterShop = `units = "in"
[star]
board_width = "3 1/2 in"
count = 4
[sheet]
thickness = "1/2 in"
`

// Each cut has the cutter of the shop that suits it. By hand: the slot is 1/8 in wide,
// which the thickest cutter that fits has; the sheet is 1/2 in and 0.012 in deep, which
// the 1/8 in cutter's 1/2 in of edge do not reach, the 1/4 in cutter's 1 in do.
func TestEachCutHasItsCutter(t *testing.T) {
	const eighth, quarter = 25.4 / 8, 25.4 / 4
	for name, c := range map[string]struct {
		more          string
		slots, sheets float64
	}{
		"a narrow slot": {`[shop]
cutters = [{ diameter = "1/8 in", cut_length = "1/2 in" }, { diameter = "1/4 in", cut_length = "1 in" }]
[slot]
width = "1/8 in"
`, eighth, quarter},
		"one that does both": {`[shop]
cutters = [{ diameter = "1/8 in", cut_length = "1 in" }, { diameter = "1/4 in", cut_length = "1 in" }]
`, quarter, quarter},
		"named for both": {`[shop]
cutters = [{ diameter = "1/8 in", cut_length = "1 in" }, { diameter = "1/4 in", cut_length = "1 in" }]
[cutter]
diameter = "1/8 in"
cut_length = "1 in"
`, eighth, eighth},
		"no slots": {`[shop]
cutters = [{ diameter = "1/2 in", cut_length = "1/4 in" }, { diameter = "1/4 in", cut_length = "1 in" }]
[slot]
make = false
`, quarter, quarter},
		// The 1/2 in cutter is through soonest and does not go into the holes for
		// screws: the next best is taken.
		"too thick for the jigs' holes": {`[shop]
cutters = [{ diameter = "1/2 in", cut_length = "1 in" }, { diameter = "1/4 in", cut_length = "1 in" }]
`, quarter, quarter},
	} {
		t.Run(name, func(t *testing.T) {
			w, errs := load("job.toml", []byte(cutterShop+c.more))
			if len(errs) > 0 {
				t.Fatal(errs)
			}
			sheets := 0
			for i := range w.Programs {
				g := &w.Programs[i]
				want := c.slots
				if g.Task.Sheet != nil {
					want = c.sheets
					sheets++
				}
				head := strings.Join(g.Plan.Header, "\n")
				if math.Abs(g.Task.Cutter-want) > 1e-9 || !strings.Contains(head, "Cutter: straight, "+w.Job.Units.FormatSize(want)+",") {
					t.Errorf("%s is cut with %g mm, want %g:\n%s", g.Path, g.Task.Cutter, want, head)
				}
				// A pass is no deeper than the bit is thick, in softwood and plywood:
				// common practice, no source.
				if deep := g.Task.Limits.StepDown; deep > want+1e-9 {
					t.Errorf("%s takes %g mm a pass with a bit of %g", g.Path, deep, want)
				}
			}
			if sheets == 0 {
				t.Error("no sheets")
			}
			if one := w.Job.OneCutter(w.Order); one != (c.slots == c.sheets) {
				t.Errorf("one cutter: %t", one)
			}
		})
	}
}

// The papers say which bit each program wants.
func TestPapersNameBothCutters(t *testing.T) {
	source := cutterShop + "[shop]\ncutters = [{ diameter = \"1/8 in\", cut_length = \"1/2 in\" }, { diameter = \"1/4 in\", cut_length = \"1 in\" }]\n[slot]\nwidth = \"1/8 in\"\n"
	w, err := Load(context.Background(), job.Input{Job: job.File{Name: "job.toml", Data: []byte(source)}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	bits := map[string]string{}
	for _, s := range w.Route.Setups {
		for _, r := range s.Readings {
			if r.Name == "bit" {
				bits[s.Name] = r.Printed
			}
		}
	}
	for name, want := range map[string]string{"make the jigs": "1/4 in", "splines": "1/4 in", "slots in the left facets": "1/8 in"} {
		if bits[name] != want {
			t.Errorf("the set-up %q names the bit %q, want %q; all: %v", name, bits[name], want, bits)
		}
	}
	page, err := w.BenchPage()
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(page), "1/8 in") || !strings.Contains(string(page), "1/4 in") {
		t.Error("the page does not name both bits")
	}
}

// Whatever cutters a shop has, a job that is taken gives files that pass.
func TestRandomCuttersPass(t *testing.T) {
	const every = 4 // of those drawn one is made: it takes its time
	drawn, taken, two := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		var bits []string
		for _, k := range rapid.SliceOfNDistinct(rapid.IntRange(1, 8), 1, 4, rapid.ID[int]).Draw(t, "sixteenths of an inch") {
			long := rapid.IntRange(3, 20).Draw(t, "cut length, sixteenths")
			bits = append(bits, fmt.Sprintf(`{ diameter = "%d/16 in", cut_length = "%d/16 in", flutes = %d }`, k, long, rapid.IntRange(1, 3).Draw(t, "flutes")))
		}
		source := fmt.Sprintf("units = \"in\"\n[star]\npoints = %d\nboard_width = \"%d/8 in\"\n[sheet]\nwidth = \"20 in\"\nheight = \"20 in\"\nthickness = \"%d/16 in\"\n[shop]\ncutters = [%s]\n",
			rapid.IntRange(5, 7).Draw(t, "points"), rapid.IntRange(16, 40).Draw(t, "width, eighths"), rapid.IntRange(3, 9).Draw(t, "sheet, sixteenths"), strings.Join(bits, ", "))
		if drawn++; drawn%every != 0 {
			return
		}
		w, errs := load("job.toml", []byte(source))
		if len(errs) > 0 {
			return
		}
		taken++
		if !w.Job.OneCutter(w.Order) {
			two++
		}
		for _, p := range proofsOf(t, w, nil) {
			if !p.OK() {
				t.Errorf("%s: %v\n%s", p.Path, p.Findings[0], source)
			}
		}
	})
	t.Logf("%d jobs taken, %d of them with two cutters", taken, two)
}
