package flat_test

import (
	"context"
	"fmt"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/flat"
)

// Ten segments, 70 mm by 60 mm, from a board with a knot, on a machine that takes
// 600 mm.
func ExampleLay() {
	segment := toolpath.Part{Name: "segment", Outline: geom.Polygon(geom.Pt(0, 0), geom.Pt(30, -30), geom.Pt(70, 0), geom.Pt(30, 30))}
	board := flat.Board{Width: 100, Length: 1200, Bad: []flat.Span{{Start: 480, End: 500}}}
	r, err := flat.Lay(context.Background(), []flat.Item{{Part: segment, Count: 10}}, []flat.Board{board},
		flat.Options{BedX: 600, EndTrim: 10, Kerf: 3, Margin: 10, Spacing: 7, Cutter: 6.35, Unit: geom.Millimetre})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d laid, %d missing\n", r.Laid[0], r.Missing[0])
	for _, p := range r.Panels {
		fmt.Printf("%.1f mm to %.1f mm:", p.Start, p.Start+p.Length)
		for _, q := range p.Parts {
			b := q.Part.Outline.Bounds()
			way := "tip right"
			if q.At.Turn != 0 {
				way = "tip left"
			}
			fmt.Printf(" %s at X%.1f Y%.0f;", way, b.Min.X, b.Min.Y)
		}
		fmt.Println()
	}
	// Output:
	// 10 laid, 0 missing
	// 10.0 mm to 444.7 mm: tip right at X10.0 Y10; tip left at X65.0 Y30; tip right at X124.9 Y10; tip left at X179.9 Y30; tip right at X239.8 Y10; tip left at X294.8 Y30; tip right at X354.7 Y10;
	// 500.0 mm to 704.9 mm: tip right at X10.0 Y10; tip left at X65.0 Y30; tip right at X124.9 Y10;
}
