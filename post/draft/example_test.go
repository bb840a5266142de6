package draft_test

import (
	"fmt"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/draft"
)

// A contour that is drawn twice would be cut twice: no writer takes it.
func ExampleCheck() {
	square := cut.Contour{Layer: cut.Outline, Contour: geom.Rect(geom.Box{Max: geom.Pt(40, 40)})}
	fmt.Println(draft.Check(cut.Drawing{Name: "plate", UnitMM: 1, Contours: []cut.Contour{square, square}},
		draft.Grid(1e6), func(s string) string { return s }))
	// Output:
	// drawing "plate": contour 2 on OUTLINE is contour 1 drawn a second time: draw it once
}
