package toolpath_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/toolpath"
)

// plateJob is a job that works: a plate of 80 by 50 with three holes, a
// rounded window and four tabs, in 12 mm plywood.
func plateJob() toolpath.SheetJob {
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
	return toolpath.SheetJob{
		Name: "jigs-1", Parts: []toolpath.Part{plate.Placed(geom.Place{Move: geom.Pt(20, 15)})},
		SheetW: 150, SheetH: 100, Thickness: 12, Breakthrough: 0.3, Travel: geom.Point3{X: 400, Y: 400, Z: 90},
		CutterDiameter: 6.35, CutLength: 22, DepthPerPass: 3, Feed: 1200, PlungeFeed: 300, RampMax: geom.Deg(5),
		RPM: 18000, SafeZ: 10, Approach: 2, Arcs: true,
		Tabs: toolpath.Tabs{Count: 4, Width: 6, Height: 1.5},
	}
}

// prove replays a program in the slow twin and returns all that is wrong.
func prove(j toolpath.SheetJob, p toolpath.Program, rep toolpath.SheetReport, cell float64) []string {
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
		edit func(*toolpath.SheetJob)
	}{
		{"as it is", func(j *toolpath.SheetJob) {}},
		{"climb", func(j *toolpath.SheetJob) { j.Climb = true }},
		{"lines only", func(j *toolpath.SheetJob) { j.Arcs = false }},
		{"lines only, climb", func(j *toolpath.SheetJob) { j.Arcs, j.Climb = false, true }},
		{"no tabs", func(j *toolpath.SheetJob) { j.Tabs.Count = 0 }},
		{"one tab", func(j *toolpath.SheetJob) { j.Tabs.Count = 1 }},
		{"high tabs over three passes", func(j *toolpath.SheetJob) { j.Tabs.Height = 8 }},
		{"tabs over all passes", func(j *toolpath.SheetJob) { j.Tabs.Height = 11 }},
		{"tab top at a pass", func(j *toolpath.SheetJob) { j.Breakthrough = 0; j.Tabs.Height = 3 - 0.01 }},
		{"one pass", func(j *toolpath.SheetJob) { j.DepthPerPass = 20 }},
		{"many passes", func(j *toolpath.SheetJob) { j.DepthPerPass = 0.7 }},
		{"flat ramp", func(j *toolpath.SheetJob) { j.RampMax = geom.Deg(1) }},
		{"steep ramp", func(j *toolpath.SheetJob) { j.RampMax = geom.Deg(30) }},
		{"as many tabs as fit", func(j *toolpath.SheetJob) { j.Tabs.Count = 10; j.Tabs.Width = 3 }},
		{"turned part", func(j *toolpath.SheetJob) {
			j.Parts[0] = j.Parts[0].Placed(geom.Place{Turn: geom.Deg(17), Move: geom.Pt(20, -10)})
		}},
		{"mirrored part", func(j *toolpath.SheetJob) {
			j.Parts[0] = j.Parts[0].Placed(geom.Place{Mirror: true, Move: geom.Pt(0, 90)})
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			j := plateJob()
			tt.edit(&j)
			p, rep, err := toolpath.PlanSheet(j)
			if err != nil {
				t.Fatal(err)
			}
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
		j.Tabs = toolpath.Tabs{Count: rapid.IntRange(0, 5).Draw(t, "tabs"), Width: rapid.Float64Range(0.5, 8).Draw(t, "width"),
			Height: rapid.Float64Range(0.1, j.Thickness-0.3).Draw(t, "height")}
		hole := rapid.Float64Range(j.CutterDiameter/2+0.3, 9).Draw(t, "hole")
		j.Parts = []toolpath.Part{{Name: "part", Outline: out, Holes: []geom.Contour{geom.Circle(geom.Pt(0, 0), hole)}}}
		j.Parts[0] = j.Parts[0].Placed(geom.Place{Turn: geom.Deg(rapid.Float64Range(0, 360).Draw(t, "turn")), Move: geom.Pt(200, 200)})
		p, rep, err := toolpath.PlanSheet(j)
		if err != nil {
			var ps toolpath.Problems
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
			p, rep, err := toolpath.PlanSheet(j)
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
				if ccw := (c.Kind == toolpath.CutOutline) != climb; ccw != (area > 0) {
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
