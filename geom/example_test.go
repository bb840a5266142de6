package geom_test

import (
	"fmt"

	"starwright/geom"
)

// A length as it is written at a bench, and a board of that width with a round
// hole in it.
func Example() {
	width, err := geom.ParseLength("3 1/2 in", geom.Millimetre)
	if err != nil {
		fmt.Println(err)
		return
	}
	board := geom.Rect(geom.Box{Max: geom.Pt(200, width)})
	hole := geom.Circle(geom.Pt(50, width/2), 10)
	fmt.Println(geom.Millimetre.Format(width), "or", geom.Inch.Format(width))
	fmt.Printf("wood %.0f mm², from the hole to the edge %.2f mm\n", board.Area()-hole.Area(), hole.DistTo(geom.Pt(50, 0)))
	turned := geom.Place{Turn: 90 * geom.Degree}.Contour(board)
	fmt.Printf("turned it is %.1f mm wide\n", turned.Bounds().W())
	// Output:
	// 88.9 mm or 3 1/2 in
	// wood 17466 mm², from the hole to the edge 34.45 mm
	// turned it is 88.9 mm wide
}
