package ncwrite_test

import (
	"fmt"

	"starwright/geom"
	"starwright/post/rs274/ncwrite"
	"starwright/toolpath"
)

// Write a cut of 40 mm, 1.5 mm deep.
func ExampleBytes() {
	p := toolpath.Program{
		Name: "groove", Header: []string{"Groove, cutter 6 mm"},
		RPM: 18000, SpinUpS: 3, SafeZ: 10,
		Steps: []toolpath.Step{
			toolpath.RapidTo(geom.Point3{X: 10, Y: 5, Z: 10}),
			toolpath.FeedTo(geom.Point3{X: 10, Y: 5, Z: -1.5}, 300),
			toolpath.FeedTo(geom.Point3{X: 50, Y: 5, Z: -1.5}, 1200),
			toolpath.RapidTo(geom.Point3{X: 50, Y: 5, Z: 10}),
		},
	}
	text, err := ncwrite.Bytes(p, 1)
	if err != nil {
		fmt.Println(err)
	}
	fmt.Print(string(text))
	// Output:
	// (Groove, cutter 6 mm)
	// G17
	// G21
	// G40
	// G54
	// G80
	// G90
	// G94
	// G0 Z10.0
	// S18000 M3
	// G4 P3.0
	// G0 X10.0 Y5.0
	// G1 Z-1.5 F300.0
	// G1 X50.0 F1200.0
	// G0 Z10.0
	// M5
	// M2
}
