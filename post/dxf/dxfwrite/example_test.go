package dxfwrite_test

import (
	"fmt"
	"strings"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/dxf/dxfwrite"
)

// A triangle in inches: each number stands on a line of its own below its code.
func ExampleBytes() {
	data, err := dxfwrite.Bytes(cut.Drawing{Name: "triangle", UnitMM: 25.4, Contours: []cut.Contour{
		{Layer: cut.Outline, Contour: geom.Polygon(geom.Pt(0, 0), geom.Pt(50.8, 0), geom.Pt(0, 25.4))}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	_, entities, _ := strings.Cut(string(data), "ENTITIES")
	fields := strings.Fields(entities)
	fmt.Println(strings.Join(fields[:2], " "), "...", strings.Count(entities, "VERTEX"), "vertices")
	// Output:
	// 0 POLYLINE ... 3 vertices
}
