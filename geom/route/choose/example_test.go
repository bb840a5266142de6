package choose_test

import (
	"fmt"

	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/route/choose"
	"starwright/geom/star"
)

// The way to three plain glued stars in a shop with a mitre saw.
func ExampleNew() {
	no := false
	order, problems := star.NewOrder([]star.Spec{{Unit: geom.Millimetre, Points: 5, BoardWidth: 114, Thickness: 19, Count: 3,
		EndTrim: 8, RoundTo: 1, Kerf: 2.4, Slot: star.SlotSpec{Make: &no}}})
	if err := problems.Err(); err != nil {
		fmt.Println(err)
		return
	}
	way, problems := choose.New(choose.Given{Order: order,
		Shop: choose.Shop{MitreSaw: true, MaxMiter: 60 * geom.Degree},
		Jigs: jig.Params{Cutter: order.Cutter, MaxMiter: 60 * geom.Degree, MaxW: 1200, MaxH: 800, Thickness: 12},
		Path: func(u *star.Unit, hand string) string { return "gcode/" + u.File("slot-"+hand) + ".nc" }})
	if err := problems.Err(); err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range way.Route.Setups {
		fmt.Printf("%s: %s\n", s.Machine, s.Name)
	}
	// Output:
	// mitre saw: blanks to length
	// mitre saw: facets, first side, the first star
	// mitre saw: facets, second side, the first star
	// hand: test fit of the first star
	// mitre saw: facets, first side, the other stars
	// mitre saw: facets, second side, the other stars
	// mitre saw: tips, first side
	// mitre saw: tips, second side
	// hand: glue 3 segments to a half
	// hand: glue 2 segments to a half
	// hand: true the halves
	// hand: glue the halves
	// hand: flush and finish
}
