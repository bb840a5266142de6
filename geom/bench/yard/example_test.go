package yard_test

import (
	"fmt"

	"starwright/geom/bench/yard"
)

func ExampleMake() {
	p, err := yard.Make(yard.Ask{
		Rack:   []yard.Board{{Length: 1000, Width: 124, Thickness: 19, Count: 3}},
		Pieces: []yard.Piece{{Length: 200, Width: 60, Thickness: 19, Count: 8}, {Length: 300, Width: 120, Thickness: 19, Count: 2}},
		Kerf:   3, RipKerf: 3,
	})
	fmt.Println(len(p.Boards), p.Exact, p.Given, err)
	// Output: 2 true [8 2] <nil>
}
