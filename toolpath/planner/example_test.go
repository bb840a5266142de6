package planner_test

import (
	"fmt"

	"starwright/geom"
	"starwright/toolpath/planner"
)

// A spline slot in a facet, 10 mm deep in passes of no more than 3 mm.
func ExampleSlot() {
	n, each := planner.Passes(10, 3)
	fmt.Printf("%d passes of %g mm\n", n, each)
	p, err := planner.Slot(planner.SlotJob{Name: "slot-left", Start: 20, End: 80, FromFace: 9.5, Width: 6.35, Depth: 10,
		Stations: 1, Loads: 1,
		Cutting: planner.Cutting{CutterDiameter: 6.35, DepthPerPass: 3, Feed: 1200, PlungeFeed: 300, RampMax: 5 * geom.Degree, RPM: 18000, SafeZ: 10, Approach: 2}})
	if err != nil {
		fmt.Println(err)
		return
	}
	deepest := 0.0
	for _, s := range p.Steps {
		deepest = min(deepest, s.To.Z)
	}
	fmt.Printf("%d steps, the deepest at Z%g\n", len(p.Steps), deepest)
	// Output:
	// 4 passes of 2.5 mm
	// 17 steps, the deepest at Z-10
}
