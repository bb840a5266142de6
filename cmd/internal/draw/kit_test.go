package draw

import (
	"testing"

	"starwright/geom"
	"starwright/geom/jig"
	"starwright/toolpath"
	"starwright/toolpath/nest"
	"starwright/toolpath/planner"
)

// TestKitPictures draws every jig of several kits, and every sheet they are
// cut from.
func TestKitPictures(t *testing.T) {
	const cutter, sheet, thickness = 3.175, 400.0, 12.0
	for _, j := range jobs(t) {
		// 5 points in millimetres, 4, 7 and 8 in inches.
		n, w := j.order.Units[0].Points, j.order.Units[0].Segment.Width
		if !(n == 5 && w == 96 || w == 88.9 && (n == 4 || n == 7 || n == 8)) {
			continue
		}
		p := jig.Params{Cutter: cutter, MaxMiter: 50 * geom.Degree, MaxW: sheet - 20, MaxH: sheet - 20, Thickness: thickness}
		keys := []string{"centre-gauge", "tip-gauge", "segment-nest"}
		for _, c := range jig.Default(j.order, p, jig.Shop{MitreSaw: true, CNC: true, RouterTable: true}) {
			keys = append(keys, c.Key)
		}
		kit, ps := jig.Kit(j.order, p, jig.Named(keys))
		if len(ps) > 0 {
			t.Logf("%s: no kit: %v", j.name, ps)
			continue
		}
		var items []nest.Item
		for _, g := range kit {
			s := Jig(g, thickness, j.unit)
			for _, f := range s.Faults() {
				t.Errorf("%s, %s: %s", j.name, g.Title, f)
			}
			part := toolpath.Part{Name: g.Title, Outline: g.Outline}
			for _, h := range g.Holes {
				part.Holes = append(part.Holes, h.Contour)
			}
			items = append(items, nest.Item{Part: part})
		}
		zones := nest.CornerZones(sheet, sheet, 20)
		r, err := nest.NewBatch(items).Nest(t.Context(), nest.Options{W: sheet, H: sheet, Margin: 10, Spacing: 6, Cutter: cutter, Zones: zones})
		if err != nil {
			t.Logf("%s: no nest: %v", j.name, err)
			continue
		}
		for i, sh := range r.Sheets {
			sheetPicture(t, j, sh, zones, i)
		}
	}
}

func sheetPicture(t *testing.T, j job, sh nest.Sheet, zones []geom.Box, i int) {
	t.Helper()
	var parts []toolpath.Part
	for _, p := range sh.Parts {
		parts = append(parts, p.Part)
	}
	plan, report, err := planner.Sheet(planner.SheetJob{Name: "jigs", Parts: parts, SheetW: 400, SheetH: 400, Thickness: 12, Breakthrough: 0.3,
		ScrewZones: zones, Tabs: planner.Tabs{Count: 4, Width: 6, Height: 1.5},
		Cutting: planner.Cutting{CutterDiameter: 3.175, DepthPerPass: 3, Feed: 1200, PlungeFeed: 300, RampMax: 5 * geom.Degree, RPM: 18000, SafeZ: 10, Approach: 2}})
	if err != nil {
		t.Logf("%s: no program: %v", j.name, err)
		return
	}
	s := Sheet(SheetProgram{Title: "Jigs", File: "gcode/jigs-1.nc", Verdict: "Nothing was found wrong.", W: 400, H: 400, Thickness: 12, Breakthrough: 0.3,
		Parts: parts, Zones: zones, Tabs: report.Tabs, Cutter: 3.175, Moves: read(plan)}, j.unit)
	for _, f := range s.Faults() {
		t.Errorf("%s, sheet %d: %s", j.name, i+1, f)
	}
}
