package backplot_test

import (
	"fmt"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/backplot"
)

// A groove that was to be 40 mm long and 1.5 mm deep, and ends 2 mm short.
func ExampleJudge() {
	pt := func(x, z float64) geom.Point3 { return geom.Point3{X: x, Y: 5, Z: z} }
	moves := []toolpath.Move{
		{Line: 8, Kind: toolpath.Rapid, From: pt(0, 10), To: pt(10, 10), RPM: 18000},
		{Line: 9, Kind: toolpath.Linear, From: pt(10, 10), To: pt(10, 0), Feed: 300, RPM: 18000},
		{Line: 10, Kind: toolpath.Linear, From: pt(10, 0), To: pt(48, -1.5), Feed: 1200, RPM: 18000},
		{Line: 11, Kind: toolpath.Linear, From: pt(48, -1.5), To: pt(10, -1.5), Feed: 1200, RPM: 18000},
		{Line: 12, Kind: toolpath.Linear, From: pt(10, -1.5), To: pt(10, 10), Feed: 1200, RPM: 18000},
	}
	task := backplot.Task{File: "groove.nc", Cutter: 6,
		Limits: backplot.Limits{StepDown: 1.5, Feed: 1200, PlungeFeed: 300, RampMax: 90 * geom.Degree,
			RPMMin: 10000, RPMMax: 24000, SafeZ: 10, Approach: 2},
		Pockets: []backplot.Pocket{{Name: "groove", Depth: 1.5,
			Outline: geom.RoundedRect(geom.Box{Min: geom.Pt(7, 2), Max: geom.Pt(53, 8)}, 3)}},
	}
	r := backplot.Judge(task, moves)
	fmt.Println("passes:", r.OK())
	for _, f := range r.Findings {
		fmt.Println(f)
	}
	// Output:
	// passes: false
	// groove.nc:11: 1.501 mm of wood left standing in the groove (limit 0.010); in wood: the groove is 1.50 mm too shallow at X 49.1 Y 2.0
}
