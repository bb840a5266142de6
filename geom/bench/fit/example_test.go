package fit_test

import (
	"fmt"

	"starwright/geom"
	"starwright/geom/bench/fit"
)

// Five points from 114 mm boards, four joints pressed shut, the last one open
// by 1.7 mm at its valley. The stop sits 300 mm from the saw's pivot.
func ExampleRing_Read() {
	star := fit.Ring{Points: 5, BoardWidth: 114, Tip: geom.Deg(36)}
	r, err := star.Read(1.7, fit.Valley, fit.LastJoint, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("each of %d facets is %.2f deg off\n", r.Facets, r.Error.Degrees())
	fmt.Printf("move %.2f mm, towards square: %v\n", r.Move.At(300), r.Move.TowardsSquare)
	// Output:
	// each of 10 facets is -0.10 deg off
	// move 0.52 mm, towards square: true
}
