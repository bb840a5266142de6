package picture_test

import (
	"bytes"
	"fmt"

	"starwright/geom"
	"starwright/post/picture"
)

// A triangle with the length of its base.
func ExampleDraw() {
	say := func(mm float64) string { return fmt.Sprintf("%g mm", mm) }
	s := picture.Draw(picture.OneView{Title: "A triangle", Say: say, Panel: picture.Panel{
		Name:   "seen from above",
		Shapes: []picture.Shape{{Contour: geom.Polygon(geom.Pt(0, 0), geom.Pt(90, 0), geom.Pt(40, 60)), Look: picture.Part}},
		Dims:   []picture.Dim{{A: geom.Pt(0, 0), B: geom.Pt(90, 0), Side: picture.Below}},
	}})
	svg, err := s.SVG()
	fmt.Println(err, len(s.Faults()), "faults, says 90 mm:", bytes.Contains(svg, []byte("90 mm")))
	// Output:
	// <nil> 0 faults, says 90 mm: true
}
