package outline_test

import (
	"fmt"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/outline"
)

// An outline drawn twice is cut twice.
func ExampleJudge() {
	plate := cut.FileContour{Layer: cut.Outline, Contour: geom.Rect(geom.Box{Max: geom.Pt(60, 40)}), Closed: true}
	again := plate
	plate.Line, again.Line = 12, 40
	f := &cut.File{Name: "plate.dxf", UnitMM: 1, UnitLine: 1, Contours: []cut.FileContour{plate, again}}
	for _, found := range outline.Judge(f) {
		fmt.Println(found)
	}
	// Output:
	// plate.dxf: no check bar on GUIDE: a line with ticks across its ends and a text with its length; in wood: nobody can tell with a rule whether the file was read in the right unit
	// plate.dxf:40: the contour of line 12 is drawn a second time [ on OUTLINE]; in wood: the same line is cut twice: charred edges, a wider kerf, a loose part struck again
}
