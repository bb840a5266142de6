package planner_test

import (
	"errors"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/geom/problem"
	"starwright/toolpath"
	"starwright/toolpath/planner"
)

// The ramp that is offered for a hole hardly wider than the cutter works at once:
// on a machine without arcs too, where the hole is gone round in straight lines.
func TestRampAdviceWorks(t *testing.T) {
	for _, arcs := range []bool{true, false} {
		j := planner.SheetJob{
			Name: "plate", SheetW: 100, SheetH: 80, Thickness: 12.7, Breakthrough: 0.3, Arcs: arcs,
			Parts: []toolpath.Part{{Name: "plate", Outline: geom.Rect(geom.Box{Min: geom.Pt(20, 20), Max: geom.Pt(80, 60)}),
				Holes: []geom.Contour{geom.Circle(geom.Pt(50, 40), 4.61).Reversed()}}},
			Cutting: planner.Cutting{CutterDiameter: 8.73125, DepthPerPass: 0.8, Feed: 1040, PlungeFeed: 173, RampMax: geom.Deg(2), RPM: 16500, SafeZ: 10, Approach: 1}}
		_, _, err := planner.Sheet(j)
		var ps problem.List
		if !errors.As(err, &ps) || ps[0].Key != "cutter.ramp" {
			t.Fatalf("arcs %t: %v, want a steeper ramp", arcs, err)
		}
		text, _ := strings.CutPrefix(ps[0].Would, "ramp = ")
		if j.RampMax, err = geom.ParseAngle(strings.Trim(text, `"`)); err != nil {
			t.Fatal(err)
		}
		if _, _, err = planner.Sheet(j); err != nil {
			t.Errorf("arcs %t: %s: %v", arcs, ps[0].Would, err)
		}
	}
}
