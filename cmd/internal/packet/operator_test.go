package packet

import (
	"slices"
	"strings"
	"testing"

	"starwright/geom"
)

// What holds the work, and how low it stays, stands as a number at the head of each
// program, on the page, on the phone and in the picture of the sheet; a length has
// the job's own digits.
func TestOperatorIsTold(t *testing.T) {
	for _, c := range []struct{ name, job, low, cutter, hold, inPicture string }{
		{"mm", "units = \"mm\"\n[star]\nboard_width = \"100 mm\"\ncount = 1\n[cutter]\ndiameter = \"3.175 mm\"\n[machine]\nsafe_z = \"13 mm\"\n", "13 mm", "3.175 mm",
			"Screws: in the four corners, within 25 mm of both edges", "screws, keep out"},
		{"inches", "units = \"in\"\n[star]\nboard_width = \"4 in\"\ncount = 1\n[cutter]\ndiameter = 0.1875\n[machine]\nsafe_z = \"5/8 in\"\n", "5/8 in", "3/16 in",
			"Screws: in the four corners, within 31/32 in of both edges", "screws, keep out"},
		{"no screws", "units = \"mm\"\n[star]\nboard_width = \"100 mm\"\ncount = 1\n[cutter]\ndiameter = \"2.381 mm\"\n[machine]\nsafe_z = \"13 mm\"\n[sheet]\nscrew_zones = false\n", "13 mm", "2.381 mm",
			"Hold: no place is kept free for screws, use tape or a vacuum under", "tape or vacuum"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w, errs := load("job.toml", []byte(c.job+"[jigs]\nmake = []\n"))
			if len(errs) > 0 {
				t.Fatal(errs)
			}
			_, tree, err := MakeTree(t.Context(), w)
			if err != nil || tree == nil {
				t.Fatal(err)
			}
			said := func(file string, words ...string) {
				t.Helper()
				text := strings.Join(strings.Fields(strings.NewReplacer(")\n(", " ").Replace(string(tree[file]))), " ")
				for _, want := range words {
					if !strings.Contains(text, want) {
						t.Errorf("%s does not say %q", file, want)
					}
				}
			}
			cutter := "Cutter: straight, " + c.cutter + ","
			said("gcode/slot-left.nc", "Clamps: lower than "+c.low+" over the facet", cutter)
			said("gcode/splines-1.nc", "Clamps: lower than "+c.low+" over the sheet's top", c.hold, "on a spoilboard", cutter)
			said("bench.html", "lower than "+c.low+" over")
			said("pictures/backplot-splines-1.svg", "clamps lower than", c.low, c.inPicture)
			said("pictures/backplot-slot-left.svg", "lower than "+c.low+" over the facet")
			for i := range w.Programs {
				if g := &w.Programs[i]; g.Sheet != nil {
					lines := w.sheetOf(g).Hold
					if name, text, _ := strings.Cut(c.hold, ": "); !slices.ContainsFunc(lines, func(l [2]string) bool { return l[0] == name && strings.HasPrefix(l[1], text) }) {
						t.Errorf("the page of %s says %q", g.Path, lines)
					}
					if !slices.ContainsFunc(lines, func(l [2]string) bool { return strings.Contains(l[1], "lower than "+c.low+" over") }) {
						t.Errorf("the page of %s does not say how low clamps stay: %q", g.Path, lines)
					}
				}
			}
		})
	}
}

// A program that stops for other segments says so at its head, and the page for the
// machine and the one for the phone say what to do then.
func TestOperatorIsToldOfLoads(t *testing.T) {
	w := loaded(t, mutationJobs[4].source)
	page, err := w.BenchPage()
	if err != nil {
		t.Fatal(err)
	}
	if want := "2 in one run; at each stop wait for the spindle, change the segments, then go on"; !strings.Contains(string(page), want) {
		t.Errorf("the phone does not say %q", want)
	}
	if head := strings.Join(w.Programs[0].Plan.Header, "\n"); !strings.Contains(head, "Loads: 2, the program stops between them") {
		t.Errorf("the head says nothing of loads:\n%s", head)
	}
}

// The page writes no part's name on a slug, which is waste, nor on a hole. In some parts
// the middle, where a name would stand, is one.
func TestNamesLieOnWood(t *testing.T) {
	parts, middles := 0, 0
	for name, source := range kits {
		w := loaded(t, source)
		for i := range w.Programs {
			g := &w.Programs[i]
			if g.Sheet == nil {
				continue
			}
			for _, p := range g.Sheet.Parts {
				cutOut := func(at geom.Point) bool {
					return slices.ContainsFunc(p.Holes, func(h geom.Contour) bool { return h.Contains(at) })
				}
				if len(p.Holes) > 0 && cutOut(p.Outline.Bounds().Center()) {
					middles++
				}
				at := p.Outline.Bounds().Center()
				if spot := nameSpot(p); spot != nil {
					at, parts = spot.Point, parts+1
				}
				if len(p.Holes) > 0 && (cutOut(at) || !p.Outline.Contains(at)) {
					t.Errorf("%s: the name of %s lies at X%.1f Y%.1f, where there is no wood", name, p.Name, at.X, at.Y)
				}
			}
		}
	}
	if parts < 10 || middles < 2 {
		t.Errorf("only %d parts with holes, %d with one in the middle", parts, middles)
	}
}
