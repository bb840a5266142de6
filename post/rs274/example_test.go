package rs274_test

import (
	"bytes"
	"fmt"

	"starwright/geom"
	"starwright/post/rs274/ncread"
	"starwright/post/rs274/ncwrite"
	"starwright/toolpath"
)

// What one package writes the other reads: the moves are the same.
func Example() {
	file, err := ncwrite.Bytes(toolpath.Program{Name: "groove", RPM: 18000, SpinUpS: 3, SafeZ: 10, Steps: []toolpath.Step{
		toolpath.RapidTo(geom.Point3{X: 10, Y: 5, Z: 10}),
		toolpath.FeedTo(geom.Point3{X: 10, Y: 5, Z: -1.5}, 300),
		toolpath.FeedTo(geom.Point3{X: 50, Y: 5, Z: -1.5}, 1200),
		toolpath.RapidTo(geom.Point3{X: 50, Y: 5, Z: 10}),
	}}, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	report, err := ncread.Read(bytes.NewReader(file), "groove.nc", ncread.Events{Move: func(m *toolpath.Move) error {
		fmt.Printf("line %d: %v to X%g Y%g Z%g\n", m.Line, m.Kind, m.To.X, m.To.Y, m.To.Z)
		return nil
	}})
	fmt.Println(len(report.Findings), "findings,", err)
	// Output:
	// line 11: G0 to X10 Y5 Z10
	// line 12: G1 to X10 Y5 Z-1.5
	// line 13: G1 to X50 Y5 Z-1.5
	// line 14: G0 to X50 Y5 Z10
	// 0 findings, <nil>
}
