package cut_test

import (
	"fmt"

	"starwright/geom"
	"starwright/post/cut"
)

// A plate with a hole, and the bar on it that shows whether an import has
// scaled the drawing.
func Example() {
	d := cut.Drawing{Name: "plate", UnitMM: 1, Contours: []cut.Contour{
		{Layer: cut.Outline, Contour: geom.Rect(geom.Box{Max: geom.Pt(60, 40)})},
		{Layer: cut.Hole, Contour: geom.Circle(geom.Pt(30, 20), 5)},
	}}.WithCheckBar()
	for _, l := range d.Texts {
		mm, ok := cut.StatedLength(l.Text)
		fmt.Printf("%q states %g mm: %v\n", l.Text, mm, ok)
	}
	for _, l := range d.Lines {
		fmt.Println(l.Layer, "is cut:", cut.Cuts(l.Layer))
		break
	}
	// Output:
	// "20 mm" states 20 mm: true
	// GUIDE is cut: false
}
