package toolpath_test

import (
	"fmt"

	"starwright/geom"
	"starwright/toolpath"
)

// A groove, and the part that it is cut in laid on a sheet.
func Example() {
	groove := toolpath.Program{Name: "groove", RPM: 18000, SafeZ: 10, Steps: []toolpath.Step{
		toolpath.RapidTo(geom.Point3{X: 10, Y: 5, Z: 10}),
		toolpath.FeedTo(geom.Point3{X: 10, Y: 5, Z: -1.5}, 300),
		toolpath.FeedTo(geom.Point3{X: 50, Y: 5, Z: -1.5}, 1200),
	}}
	for _, s := range groove.Steps {
		fmt.Printf("%v to X%g Y%g Z%g\n", s.Kind, s.To.X, s.To.Y, s.To.Z)
	}
	part := toolpath.Part{Name: "plate", Outline: geom.Rect(geom.Box{Max: geom.Pt(60, 10)})}
	fmt.Println(part.Placed(geom.Place{Turn: 90 * geom.Degree, Move: geom.Pt(40, 20)}).Outline.Bounds().Min)
	// Output:
	// G0 to X10 Y5 Z10
	// G1 to X10 Y5 Z-1.5
	// G1 to X50 Y5 Z-1.5
	// {30 20}
}
