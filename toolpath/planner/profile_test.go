package planner_test

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/geom/problem"
	"starwright/toolpath"
	"starwright/toolpath/planner"
)

// plannedPlate plans the plate after an edit of its job.
func plannedPlate(t *testing.T, edit func(*planner.SheetJob)) (planner.SheetJob, toolpath.Program, planner.SheetReport) {
	t.Helper()
	j := plateJob()
	edit(&j)
	p, rep, err := planner.Sheet(j)
	if err != nil {
		t.Fatal(err)
	}
	return j, p, rep
}

// plateJob is a job that works: a plate of 80 by 50 with three holes, a
// rounded window and four tabs, in 12 mm plywood.
func plateJob() planner.SheetJob {
	plate := toolpath.Part{
		Name:    "plate",
		Outline: geom.Rect(geom.Box{Max: geom.Pt(80, 50)}),
		Holes: []geom.Contour{
			geom.Circle(geom.Pt(12, 12), 4), // little wider than the cutter
			geom.Circle(geom.Pt(30, 14), 9), // cleared in two rings
			geom.Circle(geom.Pt(60, 18), 12),
			geom.RoundedRect(geom.Box{Min: geom.Pt(10, 32), Max: geom.Pt(50, 44)}, 3.175),
		},
	}
	return planner.SheetJob{
		Name: "jigs-1", Parts: []toolpath.Part{plate.Placed(geom.Place{Move: geom.Pt(20, 15)})},
		SheetW: 150, SheetH: 100, Thickness: 12, Breakthrough: 0.3, Travel: geom.Point3{X: 400, Y: 400, Z: 90}, CutLength: 22, Arcs: true,
		Tabs:    planner.Tabs{Count: 4, Width: 6, Height: 1.5},
		Cutting: planner.Cutting{CutterDiameter: 6.35, DepthPerPass: 3, Feed: 1200, PlungeFeed: 300, RampMax: geom.Deg(5), RPM: 18000, SafeZ: 10, Approach: 2},
	}
}

// prove replays a program in the slow twin and returns all that is wrong.
func prove(j planner.SheetJob, p toolpath.Program, rep planner.SheetReport, cell float64) []string {
	box := geom.EmptyBox()
	for _, part := range j.Parts {
		box = box.Union(part.Outline.Bounds())
	}
	// The odd hundredths keep the grid off edges that are only grazed.
	w := newWood(box.Grow(j.CutterDiameter+0.0137), cell, j.CutterDiameter/2)
	w.run(p, j.SafeZ, j.Approach)
	w.expect(j, rep.Tabs)
	if w.bite > j.DepthPerPass+1e-6 {
		w.fault("takes %.4f at once, the job allows %g", w.bite, j.DepthPerPass)
	}
	if w.slopeMax > j.RampMax.Tan()*(1+1e-9) {
		w.fault("goes down at %.4f, the job allows %.4f", w.slopeMax, j.RampMax.Tan())
	}
	if w.sinkMax > j.PlungeFeed*(1+1e-9) {
		w.fault("sinks at %.2f mm/min", w.sinkMax)
	}
	if w.feedMax > j.Feed {
		w.fault("feed %.2f", w.feedMax)
	}
	if want := -j.Thickness - j.Breakthrough; math.Abs(w.lowest-want) > 1e-9 {
		w.fault("deepest %.4f, want %.4f", w.lowest, want)
	}
	return w.faults
}

func TestPlanSheet(t *testing.T) {
	tests := []struct {
		name string
		edit func(*planner.SheetJob)
	}{
		{"as it is", func(j *planner.SheetJob) {}},
		{"climb", func(j *planner.SheetJob) { j.Climb = true }},
		{"lines only", func(j *planner.SheetJob) { j.Arcs = false }},
		{"lines only, climb", func(j *planner.SheetJob) { j.Arcs, j.Climb = false, true }},
		{"no tabs", func(j *planner.SheetJob) { j.Tabs.Count = 0 }},
		{"one tab", func(j *planner.SheetJob) { j.Tabs.Count = 1 }},
		{"high tabs over three passes", func(j *planner.SheetJob) { j.Tabs.Height = 8 }},
		{"tabs over all passes", func(j *planner.SheetJob) { j.Tabs.Height = 11 }},
		{"tab top at a pass", func(j *planner.SheetJob) { j.Breakthrough = 0; j.Tabs.Height = 3 - 0.01 }},
		{"one pass", func(j *planner.SheetJob) { j.DepthPerPass = 20 }},
		{"many passes", func(j *planner.SheetJob) { j.DepthPerPass = 0.7 }},
		{"flat ramp", func(j *planner.SheetJob) { j.RampMax = geom.Deg(1) }},
		{"steep ramp", func(j *planner.SheetJob) { j.RampMax = geom.Deg(30) }},
		{"as many tabs as fit", func(j *planner.SheetJob) { j.Tabs.Count = 10; j.Tabs.Width = 3 }},
		{"turned part", func(j *planner.SheetJob) {
			j.Parts[0] = j.Parts[0].Placed(geom.Place{Turn: geom.Deg(17), Move: geom.Pt(20, -10)})
		}},
		{"mirrored part", func(j *planner.SheetJob) {
			j.Parts[0] = j.Parts[0].Placed(geom.Place{Mirror: true, Move: geom.Pt(0, 90)})
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			j, p, rep := plannedPlate(t, tt.edit)
			if len(rep.Tabs) != j.Tabs.Count {
				t.Errorf("%d tabs, want %d", len(rep.Tabs), j.Tabs.Count)
			}
			for _, f := range first(prove(j, p, rep, 0.4), 5) {
				t.Error(f)
			}
		})
	}
}

func first(s []string, n int) []string { return s[:min(n, len(s))] }

func TestSheetOfRandomParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := plateJob()
		j.SheetW, j.SheetH, j.Travel = 400, 400, geom.Point3{}
		out := drawOutline(t)
		j.CutterDiameter = rapid.Float64Range(1, 7).Draw(t, "cutter")
		j.CutLength = 0
		j.Thickness = rapid.Float64Range(3, 15).Draw(t, "thickness")
		j.Breakthrough = rapid.Float64Range(0, 0.5).Draw(t, "breakthrough")
		j.DepthPerPass = rapid.Float64Range(0.8, 6).Draw(t, "per pass")
		j.RampMax = geom.Deg(rapid.Float64Range(1, 30).Draw(t, "ramp"))
		j.Climb, j.Arcs = rapid.Bool().Draw(t, "climb"), rapid.Bool().Draw(t, "arcs")
		j.Tabs = planner.Tabs{Count: rapid.IntRange(0, 5).Draw(t, "tabs"), Width: rapid.Float64Range(0.5, 8).Draw(t, "width"),
			Height: rapid.Float64Range(0.1, j.Thickness-0.3).Draw(t, "height")}
		hole := rapid.Float64Range(j.CutterDiameter/2+0.3, 9).Draw(t, "hole")
		j.Parts = []toolpath.Part{{Name: "part", Outline: out, Holes: []geom.Contour{geom.Circle(geom.Pt(0, 0), hole)}}}
		j.Parts[0] = j.Parts[0].Placed(geom.Place{Turn: geom.Deg(rapid.Float64Range(0, 360).Draw(t, "turn")), Move: geom.Pt(200, 200)})
		p, rep, err := planner.Sheet(j)
		if err != nil {
			var ps problem.List
			if !errors.As(err, &ps) || len(ps) == 0 {
				t.Fatalf("error without a problem: %v", err)
			}
			t.Skip("refused")
		}
		if len(rep.Tabs) != j.Tabs.Count {
			t.Errorf("%d tabs, want %d", len(rep.Tabs), j.Tabs.Count)
		}
		if bad := prove(j, p, rep, 0.7); len(bad) > 0 {
			t.Fatal(strings.Join(first(bad, 5), "\n"))
		}
	})
}

// The order of the kit: holes, then cut-outs, then outlines; within a contour
// the side of cut, which shows in the direction it is run.
func TestSheetOrderAndSide(t *testing.T) {
	for _, climb := range []bool{false, true} {
		t.Run(fmt.Sprintf("climb %v", climb), func(t *testing.T) {
			j := plateJob()
			j.Climb = climb
			p, rep, err := planner.Sheet(j)
			if err != nil {
				t.Fatal(err)
			}
			var kinds []string
			for _, c := range rep.Cuts {
				kinds = append(kinds, c.Kind.String())
				// Conventional with a clockwise spindle: counter-clockwise
				// round an outside, clockwise inside (from the velocity of
				// the tooth at the wall).
				area := c.Way[0].Area()
				if ccw := (c.Kind == planner.CutOutline) != climb; ccw != (area > 0) {
					t.Errorf("%s of %s runs the wrong way: area %g", c.Kind, c.Part, area)
				}
			}
			if got, want := strings.Join(kinds, " "), "hole hole hole cut-out outline"; got != want {
				t.Errorf("order %q, want %q", got, want)
			}
			for _, s := range p.Steps {
				if s.Kind == toolpath.ArcCCW && !climb && s.To.X > 25 && s.To.Y > 20 && s.To.X < 95 && s.To.Y < 60 {
					t.Error("a counter-clockwise arc inside a hole, conventional was asked")
					break
				}
			}
			if rep.TravelMM < rep.TravelBound-1e-9 {
				t.Errorf("travel %g below its bound %g", rep.TravelMM, rep.TravelBound)
			}
		})
	}
}

// Passes are equal, none deeper than asked, and no block is spent on what
// needs none: a rounded rectangle takes four lines and four arcs a lap, and
// one block more for the place where its ramp ends.
func TestSheetBlocks(t *testing.T) {
	j := plateJob()
	j.Tabs.Count = 0
	j.Parts[0].Holes = nil
	p, rep, err := planner.Sheet(j)
	if err != nil {
		t.Fatal(err)
	}
	// 12.3 mm in passes of at most 3: five of 2.46.
	if rep.Passes != 5 || math.Abs(rep.PassDepth-2.46) > 1e-9 {
		t.Errorf("%d passes of %g, want 5 of 2.46", rep.Passes, rep.PassDepth)
	}
	levels := map[float64]int{}
	for _, s := range p.Steps {
		if s.Do == toolpath.StepMove && s.Kind != toolpath.Rapid && s.To.Z < 0 {
			levels[math.Round(s.To.Z*1000)/1000]++
		}
	}
	for k := 1; k <= 5; k++ {
		if n := levels[-2.46*float64(k)]; n < 8 {
			t.Errorf("pass %d: %d blocks at its depth", k, n)
		}
	}
	// Rapid over, rapid down, feed to the wood; five laps of 8, one more each
	// where the start cuts a side in two, one for each ramp's end; the last
	// stretch over the ramp; feed up, rapid up.
	if most := 3 + 5*(8+1+1) + 1 + 2; rep.Blocks > most {
		t.Errorf("%d blocks, %d are enough", rep.Blocks, most)
	}
	// Over, down and out; the eight pieces five times; what a ramp leaves.
	if want := 3 + 5*8 + 1; rep.BlocksBound != want {
		t.Errorf("no program with fewer than %d blocks, want %d", rep.BlocksBound, want)
	}
}

// Sides given in pieces are cut in one block.
func TestTidy(t *testing.T) {
	way := []geom.Curve{
		{A: geom.Pt(0, 0), B: geom.Pt(4, 0)}, {A: geom.Pt(4, 0), B: geom.Pt(10, 0)},
		{A: geom.Pt(10, 0), B: geom.Pt(12, 2), Bulge: math.Tan(math.Pi / 8)},
		{A: geom.Pt(12, 2), B: geom.Pt(10, 4), Bulge: math.Tan(math.Pi / 8)},
		{A: geom.Pt(10, 4), B: geom.Pt(-3, 4)}, {A: geom.Pt(-3, 4), B: geom.Pt(-3, 0)}, {A: geom.Pt(-3, 0), B: geom.Pt(0, 0)},
	}
	got := planner.Tidy(way)
	if len(got) != 4 {
		t.Fatalf("%d pieces %v, want 4", len(got), got)
	}
	if got[1].Bulge != 1 && math.Abs(got[1].Bulge-1) > 1e-12 {
		t.Errorf("two quarters make a bulge of %g, want 1", got[1].Bulge)
	}
}

// A cut does not begin on a seat where there is another place.
func TestStartOffSeats(t *testing.T) {
	j := plateJob()
	j.Tabs.Count = 0
	j.Parts[0].Holes = nil
	c := j.Parts[0].Outline.Curves()
	j.Parts[0].NoTab = c[:3]
	p, _, err := planner.Sheet(j)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range p.Steps {
		if s.Do != toolpath.StepMove {
			continue
		}
		for _, seat := range c[:3] {
			if d := seat.DistTo(s.To.XY()); d < j.CutterDiameter/2+1 {
				t.Errorf("the cut begins at %v, %.2f from a seat", s.To, d)
			}
		}
		break // the first move goes to where the cut begins
	}
}

func TestPlanSheetSameTwice(t *testing.T) {
	a, ra, err := planner.Sheet(plateJob())
	if err != nil {
		t.Fatal(err)
	}
	b, rb, _ := planner.Sheet(plateJob())
	if !reflect.DeepEqual(a, b) || !reflect.DeepEqual(ra, rb) {
		t.Error("the same job gives another program the second time")
	}
}

// What the disc sweeps along its way, as a union of polygons by the reference
// geometry (balanced pairwise unions), against the area between the outline
// and the way of a disc twice as large.
func TestSweptAreaAgainstReference(t *testing.T) {
	for _, tt := range []struct {
		name string
		c    geom.Contour
		r    float64
	}{
		{"square", geom.Rect(geom.Box{Max: geom.Pt(40, 40)}), 3},
		{"kite", geom.Polygon(geom.Pt(0, 0), geom.Pt(55.1, -40), geom.Pt(178.2, 0), geom.Pt(55.1, 40)), 3.175},
		{"round bay", geom.Contour{{Point: geom.Pt(0, 0)}, {Point: geom.Pt(80, 0)}, {Point: geom.Pt(80, 50)}, {Point: geom.Pt(60, 50), Bulge: -1}, {Point: geom.Pt(20, 50)}, {Point: geom.Pt(0, 50)}}, 3.175},
		{"bulging", geom.Contour{{Point: geom.Pt(0, 0), Bulge: 0.3}, {Point: geom.Pt(60, 0), Bulge: 0.2}, {Point: geom.Pt(60, 40)}, {Point: geom.Pt(0, 40), Bulge: 0.1}}, 2},
	} {
		t.Run(tt.name, func(t *testing.T) {
			w, err := planner.OffsetOut(tt.c, tt.r)
			if err != nil || len(w.Missed) > 0 {
				t.Fatal(err, w.Missed)
			}
			far, err := planner.OffsetOut(tt.c, 2*tt.r)
			if err != nil {
				t.Fatal(err)
			}
			want := far.Loops[0].Area() - tt.c.Area()
			got := sweptArea(t, w.Loops[0], tt.r)
			// Discs and arcs stand as polygons within a thousandth of a mm.
			if tol := 0.004 * w.Loops[0].Length(); math.Abs(got-want) > tol {
				t.Errorf("swept %.4f mm², want %.4f within %.3f", got, want, tol)
			}
		})
	}
}

func sweptArea(t *testing.T, way geom.Contour, r float64) float64 {
	var all []sf.Geometry
	pts := way.Flatten(0.001)
	disc := geom.Circle(geom.Point{}, r).Flatten(0.001)
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		var cloud []float64
		for _, p := range disc {
			cloud = append(cloud, a.X+p.X, a.Y+p.Y, b.X+p.X, b.Y+p.Y)
		}
		all = append(all, sf.NewLineString(sf.NewSequence(cloud, sf.DimXY)).AsGeometry().ConvexHull())
	}
	for len(all) > 1 {
		var next []sf.Geometry
		for i := 0; i+1 < len(all); i += 2 {
			u, err := sf.Union(all[i], all[i+1])
			if err != nil {
				t.Fatal(err)
			}
			next = append(next, u)
		}
		if len(all)%2 == 1 {
			next = append(next, all[len(all)-1])
		}
		all = next
	}
	return all[0].Area()
}
