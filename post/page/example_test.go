package page_test

import (
	"bytes"
	"fmt"

	"starwright/geom"
	"starwright/post/page"
)

// A page is one file that asks for no other.
func ExampleBuild() {
	var b bytes.Buffer
	err := page.Build(&b, page.Data{Title: "six stars", Unit: geom.Millimetre, Drawings: []page.Drawing{{
		Name: "segment", File: "dxf/segment.dxf", UnitMM: 1,
		Contours: []page.LayerContour{{Layer: "OUTLINE", Contour: geom.Rect(geom.Box{Max: geom.Pt(60, 40)})}},
	}}})
	text := b.Bytes()
	fmt.Println(err, bytes.Contains(text, []byte("six stars")), bytes.Contains(text, []byte("src=\"http")))
	// Output:
	// <nil> true false
}
