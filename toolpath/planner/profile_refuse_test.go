package planner_test

import (
	"math"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/planner"
)

// Every refusal names the key, the value, what is wrong with its place, and a
// value that works.
func TestPlanSheetRefuses(t *testing.T) {
	at := func(c geom.Contour) toolpath.Part { // a plate with one cut-out
		return toolpath.Part{Name: "block", Outline: geom.Rect(geom.Box{Min: geom.Pt(20, 15), Max: geom.Pt(120, 85)}), Holes: []geom.Contour{c}}
	}
	type job = planner.SheetJob
	tests := []struct {
		name string
		edit func(*job)
		want []string
	}{
		{"tabs taller than the sheet", func(j *job) { j.Tabs.Height = 12.5 }, []string{"tabs.height = 12.5 mm", "12 mm", `height = "1.5 mm"`}},
		{"tabs as tall as the sheet", func(j *job) { j.Tabs.Height = 12 }, []string{"tabs.height = 12 mm"}},
		{"tabs no number", func(j *job) { j.Tabs.Height = math.NaN() }, []string{"tabs.height"}},
		// The plate's longest side is 80: less 6.35 for the cutter and 1 to
		// each corner, 72.6 are left.
		{"tabs wider than the edge", func(j *job) { j.Tabs.Width = 75 }, []string{"tabs.width = 75 mm", "the outline of plate", `width = "71.6 mm"`}},
		{"more tabs than fit", func(j *job) { j.Tabs.Count = 40 }, []string{"tabs.count = 40", "the outline of plate", "count = "}},
		{"fewer than no tabs", func(j *job) { j.Tabs.Count = -1 }, []string{"tabs.count = -1", "count = 4"}},
		{"no width", func(j *job) { j.Tabs.Width = 0 }, []string{"tabs.width = 0 mm"}},
		{"sheet thicker than the cutting length", func(j *job) { j.CutLength = 12 }, []string{"sheet.thickness = 12 mm", "12.3 mm deep", `thickness = "11.7 mm"`, `cut_length = "12.3 mm"`}},
		{"sheet wider than the travel", func(j *job) { j.Travel.X = 120 }, []string{"sheet.width = 150 mm", "120 mm in X", `width = "120 mm"`}},
		{"sheet higher than the travel", func(j *job) { j.Travel.Y = 80 }, []string{"sheet.height = 100 mm", `height = "80 mm"`}},
		{"no room in Z", func(j *job) { j.Travel.Z = 20 }, []string{"machine.safe_z = 10 mm", `safe_z = "7.7 mm"`}},
		{"hole narrower than the cutter", func(j *job) { j.Parts = []toolpath.Part{at(geom.Circle(geom.Pt(50, 40), 2.5))} },
			[]string{"cutter.diameter = 6.4 mm", "hole 1 of block", "X 50 mm, Y 40 mm", "5 mm wide", `diameter = "4.7 mm"`}},
		{"hole as wide as the cutter", func(j *job) { j.Parts = []toolpath.Part{at(geom.Circle(geom.Pt(50, 40), 3.175))} },
			[]string{"cutter.diameter = 6.4 mm", "hole 1 of block"}},
		{"seat too narrow for the cutter", func(j *job) {
			j.Parts = []toolpath.Part{{Name: "block", Outline: geom.Polygon(geom.Pt(20, 15), geom.Pt(120, 15), geom.Pt(120, 85), geom.Pt(75, 85), geom.Pt(75, 40), geom.Pt(70, 40), geom.Pt(70, 85), geom.Pt(20, 85))}}
		}, []string{"cutter.diameter", "does not reach all of the outline of block", "X 75 mm"}},
		{"slot too narrow, with round end", func(j *job) {
			j.Parts = []toolpath.Part{{Name: "block", Outline: geom.Contour{{Point: geom.Pt(20, 15)}, {Point: geom.Pt(120, 15)}, {Point: geom.Pt(120, 85)},
				{Point: geom.Pt(75, 85)}, {Point: geom.Pt(75, 40), Bulge: -1}, {Point: geom.Pt(70, 40)}, {Point: geom.Pt(70, 85)}, {Point: geom.Pt(20, 85)}}}}
		}, []string{"cutter.diameter", "the outline of block", `diameter = "5 mm"`}},
		{"window too small", func(j *job) {
			j.Parts = []toolpath.Part{at(geom.RoundedRect(geom.Box{Min: geom.Pt(50, 40), Max: geom.Pt(60, 45)}, 2))}
		}, []string{"does not fit into cut-out 1 of block", "X 55 mm", `diameter = "4 mm"`}},
		{"window with sharp corners", func(j *job) {
			j.Parts = []toolpath.Part{at(geom.Rect(geom.Box{Min: geom.Pt(50, 40), Max: geom.Pt(80, 60)}))}
		}, []string{"does not reach all of cut-out 1 of block"}},
		{"parts too close", func(j *job) {
			j.Parts = append(j.Parts, toolpath.Part{Name: "other", Outline: geom.Rect(geom.Box{Min: geom.Pt(105, 20), Max: geom.Pt(140, 60)})})
		}, []string{"sheet.spacing", "1.35 mm into", `"6.4 mm"`}},
		{"parts too close for tabs", func(j *job) {
			p := j.Parts[0]
			p.Name, p.Holes = "middle", nil
			j.Parts = nil
			for i := range 3 {
				for k := range 3 {
					j.Parts = append(j.Parts, p.Placed(geom.Place{Move: geom.Pt(float64(i)*88, float64(k)*58)}))
				}
			}
			j.SheetW, j.SheetH = 400, 400
		}, []string{"sheet.spacing", "no scrap", `spacing = "15.7 mm"`}},
		{"parts on top of each other", func(j *job) {
			j.Parts = []toolpath.Part{at(nil), {Name: "pin", Outline: geom.Rect(geom.Box{Min: geom.Pt(50, 40), Max: geom.Pt(80, 70)})}}
			j.Parts[0].Holes = nil
		}, []string{"pin", "in the wood of block"}},
		{"hole outside its part", func(j *job) { j.Parts = []toolpath.Part{at(geom.Circle(geom.Pt(135, 50), 5))} }, []string{"block", "cut-out 1", "outside"}},
		{"part beyond the sheet", func(j *job) { j.SheetW = 90 }, []string{"sheet.width = 90 mm", "X 100 mm", "Try: 100 mm"}},
		{"cut in a screw zone", func(j *job) { j.ScrewZones = []geom.Box{{Min: geom.Pt(0, 0), Max: geom.Pt(18, 18)}} },
			[]string{"sheet.screw_zones", "X 9 mm, Y 9 mm"}},
		{"outline crosses itself", func(j *job) {
			j.Parts[0] = toolpath.Part{Name: "bow", Outline: geom.Polygon(geom.Pt(20, 20), geom.Pt(80, 80), geom.Pt(80, 20), geom.Pt(30, 80))}
		}, []string{"bow", "crosses"}},
		{"no outline", func(j *job) { j.Parts[0].Outline = nil }, []string{"plate", "no outline"}},
		{"no passes", func(j *job) { j.DepthPerPass = 0 }, []string{"cutter.depth_per_pass = 0 mm"}},
		{"ramp no number", func(j *job) { j.RampMax = geom.Angle(math.NaN()) }, []string{"cutter.ramp"}},
		{"no feed", func(j *job) { j.Feed = 0 }, []string{"cutter.feed", "1200 mm/min"}},
		{"spindle stands", func(j *job) { j.RPM = 0 }, []string{"cutter.spindle_rpm = 0", "18000"}},
		{"approach in the wood", func(j *job) { j.Approach = -1 }, []string{"machine.approach = -1 mm"}},
		{"safe height below the approach", func(j *job) { j.SafeZ = 1 }, []string{"machine.safe_z = 1 mm", `safe_z = "2 mm"`}},
		{"spoilboard upwards", func(j *job) { j.Breakthrough = -0.1 }, []string{"sheet.breakthrough"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			j := plateJob()
			tt.edit(&j)
			p, _, err := planner.Sheet(j)
			if err == nil {
				t.Fatal("was not refused")
			}
			if len(p.Steps) > 0 {
				t.Error("a refused job came with a program")
			}
			for _, w := range tt.want {
				if !strings.Contains(err.Error(), w) {
					t.Errorf("message lacks %q:\n%s", w, err)
				}
			}
		})
	}
}

// In inches a problem says inches.
func TestProblemsInInches(t *testing.T) {
	j := plateJob()
	j.Unit = geom.Inch
	j.Tabs.Height = 25.4
	_, _, err := planner.Sheet(j)
	if err == nil || !strings.Contains(err.Error(), "tabs.height = 1 in") {
		t.Errorf("message %v", err)
	}
}
