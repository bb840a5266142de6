package jig_test

import (
	"fmt"

	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/star"
)

// The jigs for a star of five points on a saw that swings to 50 degrees.
func Example() {
	no := false
	order, problems := star.NewOrder([]star.Spec{{Points: 5, BoardWidth: 114, Thickness: 19, Count: 6,
		EndTrim: 8, Kerf: 2.4, Slot: star.SlotSpec{Make: &no}}})
	if err := problems.Err(); err != nil {
		fmt.Println(err)
		return
	}
	kit, problems := jig.Kit(order, jig.Params{Cutter: 6.35, MaxMiter: 50 * geom.Degree, MaxW: 600, MaxH: 600, Thickness: 12},
		jig.Named([]string{"angle-block", "centre-gauge"}))
	if err := problems.Err(); err != nil {
		fmt.Println(err)
		return
	}
	for _, j := range kit {
		fmt.Printf("%d of %s: %.0f by %.0f mm\n", j.Quantity, j.Title, j.Outline.Bounds().W(), j.Outline.Bounds().H())
	}
	// Output:
	// 2 of angle block 54°: 178 by 169 mm
	// 1 of centre gauge 72°: 112 by 144 mm
}
