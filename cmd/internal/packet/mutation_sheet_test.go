package packet

import (
	"testing"

	"starwright/cmd/internal/mutate"
	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/backplot"
	"starwright/toolpath/planner"
)

// mutationSheet is a sheet as the judge of programs knows it, arcs as chords.
func mutationSheet(sh *backplot.Sheet) *mutate.Sheet {
	const chord = 0.0005 // mm
	poly := func(c geom.Contour) (out [][2]float64) {
		for _, p := range c.CCW().Flatten(chord) {
			out = append(out, [2]float64{p.X, p.Y})
		}
		return out
	}
	s := &mutate.Sheet{W: sh.Size.X, H: sh.Size.Y, Thickness: sh.Thickness,
		TabCount: sh.Tabs.Count, TabWidth: sh.Tabs.Width, TabHeight: sh.Tabs.Height}
	for _, p := range sh.Parts {
		part := mutate.Part{Outline: poly(p.Outline), Tabs: sh.Tabs.Count}
		if p.Tabs > 0 {
			part.Tabs = p.Tabs
		}
		for k, h := range p.Holes {
			part.Holes, part.SlugTabs = append(part.Holes, poly(h)), append(part.SlugTabs, 0)
			if k < len(p.Slugs) {
				part.SlugTabs[k] = p.Slugs[k].Tabs
			}
		}
		for _, q := range p.Seats {
			var row [][2]float64
			for i := 0; i <= q.Chords(chord); i++ {
				at := q.At(float64(i) / float64(q.Chords(chord)))
				row = append(row, [2]float64{at.X, at.Y})
			}
			part.Seats = append(part.Seats, row)
		}
		s.Parts = append(s.Parts, part)
	}
	for _, k := range sh.Keepouts {
		s.Keepouts = append(s.Keepouts, poly(k))
	}
	return s
}

// mutationPlate is a program for a plate with holes, a window and tabs, cut
// from sheet with the cutter of the job.
func mutationPlate(t *testing.T, w *Work) Program {
	t.Helper()
	c := w.Order.Cutter
	part := toolpath.Part{Name: "plate", Outline: geom.RoundedRect(geom.Box{Max: geom.Pt(70, 45)}, 6), Holes: []geom.Contour{
		geom.Circle(geom.Pt(12, 12), c*0.7), geom.Circle(geom.Pt(50, 14), c*1.3), geom.Circle(geom.Pt(58, 35), c*0.7),
		geom.RoundedRect(geom.Box{Min: geom.Pt(10, 26), Max: geom.Pt(40, 38)}, c/2),
	}}
	j := planner.SheetJob{
		Name: "plate", Unit: w.Job.Units, SheetW: 150, SheetH: 120, Thickness: 9, Breakthrough: 0.3,
		Parts:      []toolpath.Part{part.Placed(geom.Place{Move: geom.Pt(40, 35)})},
		ScrewZones: []geom.Box{{Max: geom.Pt(25, 25)}}, Arcs: w.Job.Cutter.Arcs,
		Tabs:    planner.Tabs{Count: 3, Width: 5, Height: 1.5},
		Cutting: planner.Cutting{CutterDiameter: c, DepthPerPass: w.Job.Cutter.DepthPerPass, Feed: w.Job.Cutter.Feed, PlungeFeed: w.Job.Cutter.PlungeFeed, RampMax: w.Job.Cutter.Ramp, RPM: w.Job.Cutter.SpindleRPM, SpinUpS: w.Job.Machine.SpinUp, SafeZ: w.Job.Machine.SafeZ, Approach: w.Job.Machine.Approach, Climb: w.Job.Cutter.Climb, Accel: w.Job.Machine.Accel},
	}
	p, _, err := planner.Sheet(j)
	if err != nil {
		t.Fatal(err)
	}
	sheet := &backplot.Sheet{Size: geom.Pt(j.SheetW, j.SheetH), Thickness: j.Thickness, Breakthrough: j.Breakthrough,
		Tabs:     backplot.Tabs{Count: j.Tabs.Count, Width: j.Tabs.Width, Height: j.Tabs.Height},
		Keepouts: []geom.Contour{geom.Rect(j.ScrewZones[0])},
		Parts:    []backplot.Part{{Name: "plate", Outline: j.Parts[0].Outline, Holes: j.Parts[0].Holes}}}
	return Program{Path: "gcode/plate.nc", Plan: p, UnitMM: w.Job.Output.GCodeUnits.MM(),
		Task: backplot.Task{Cutter: c, Limits: limits(w.Job, w.Job.Cutter, j.Thickness+j.Breakthrough), Climb: j.Climb, Sheet: sheet,
			Over: []geom.Box{geom.Box{Max: sheet.Size}.Grow(c / 2)}}}
}
