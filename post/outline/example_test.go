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

// One corner was dragged, and a hole lies beside its part.
func ExampleCompare() {
	part := geom.Rect(geom.Box{Max: geom.Pt(140, 60)})
	want := cut.Drawing{UnitMM: 1, Contours: []cut.Contour{{Layer: cut.Outline, Contour: part}}}.WithCheckBar()
	drawn := want
	drawn.Contours = []cut.Contour{
		{Layer: cut.Outline, Contour: geom.Polygon(geom.Pt(0, 0), geom.Pt(140, 0), geom.Pt(140, 60.5), geom.Pt(0, 60))},
		{Layer: cut.Hole, Contour: geom.Circle(geom.Pt(170, 30), 4)},
	}
	f := fileOf(drawn) // what a reader would have made of it
	for _, x := range outline.Compare(f, want, 0.002).Findings {
		fmt.Printf("%s at line %d: %s\n", x.Rule, x.Line, x.What)
	}
	// Output:
	// displaced at line 14: vertex 3 is 0.500 mm from its place, X 140.000 Y 60.000
	// not-wanted at line 16: a contour that does not belong here: 8.000 x 8.000 mm at X 166.000 Y 26.000
}

// What people set up by is data.
func ExampleTakeApart() {
	s := outline.TakeApart("Z0 6 1/2 in above foot")
	fmt.Println(s.Words, s.Figures[0].Value, "mm")
	// Output: [z0 above foot] 165.1 mm
}
