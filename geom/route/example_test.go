package route_test

import (
	"fmt"

	"starwright/geom"
	"starwright/geom/route"
)

// A blank lies face down against the fence: what the readings say is where its
// corners come to lie.
func ExampleHold() {
	blank := []geom.Point{geom.Pt(0, -57), geom.Pt(260, -57), geom.Pt(260, 57), geom.Pt(0, 57)}
	hold := route.Hold{ShowFaceDown: true, X: 0, Y: -57}
	for _, p := range blank {
		q := hold.Place().Point(p)
		fmt.Printf("%v comes to X %g, Y %g\n", p, q.X, q.Y)
	}
	// Output:
	// {0 -57} comes to X 0, Y 0
	// {260 -57} comes to X 260, Y 0
	// {260 57} comes to X 260, Y -114
	// {0 57} comes to X 0, Y -114
}
