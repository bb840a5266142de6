package svgwrite_test

import (
	"fmt"
	"strings"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/svg/svgwrite"
)

// A triangle as a laser takes it: its size in millimetres, its line on the layer
// that is cut.
func ExampleBytes() {
	data, err := svgwrite.Bytes(cut.Drawing{Name: "triangle", UnitMM: 1, Contours: []cut.Contour{
		{Layer: cut.Outline, Contour: geom.Polygon(geom.Pt(0, 0), geom.Pt(50, 0), geom.Pt(0, 25))}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	text := string(data)
	for _, want := range []string{"width=\"54mm\"", "id=\"OUTLINE\"", "<path"} {
		fmt.Println(want, strings.Contains(text, want))
	}
	// Output:
	// width="54mm" true
	// id="OUTLINE" true
	// <path true
}
