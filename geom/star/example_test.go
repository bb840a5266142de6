package star_test

import (
	"fmt"

	"starwright/geom"
	"starwright/geom/star"
)

// Six stars of five points from boards 114 mm wide, and six small ones from
// what falls off.
func Example() {
	order, problems := star.NewOrder([]star.Spec{{
		Unit: geom.Millimetre, Points: 5, BoardWidth: 114, Thickness: 19, Count: 6, OffcutStar: true,
		EndTrim: 8, RoundTo: 1, Kerf: 2.4, SplineFit: 0.1, GlueGap: 1,
	}})
	if err := problems.Err(); err != nil {
		fmt.Println(err)
		return
	}
	for _, u := range order.Units {
		fmt.Printf("%d %s of %.1f mm, %d of %.1f mm from tip to tip\n",
			u.Segments(), u.Words("segments"), u.Segment.Length, u.Count(), u.Width())
		if u.Slot != nil {
			fmt.Printf("  slots from %.1f to %.1f mm, %.0f mm deep: %s.nc\n", u.Slot.Start, u.Slot.End, u.Slot.Depth, u.File("slot-left"))
		}
	}
	fmt.Printf("the saw stands at %s for the facets, at %s for the tips\n",
		star.FormatAngle(order.Units[0].Segment.CenterMiter()), star.FormatAngle(order.Units[0].Segment.TipMiter()))
	// Output:
	// 30 segments of 253.9 mm, 6 of 482.9 mm from tip to tip
	//   slots from 18.9 to 85.0 mm, 10 mm deep: slot-left.nc
	// 30 off-cut segments of 175.8 mm, 6 of 334.4 mm from tip to tip
	//   slots from 18.9 to 56.0 mm, 10 mm deep: offcut-slot-left.nc
	// the saw stands at 54° for the facets, at 72° for the tips
}

// A slot that the wood does not hold is refused, with one that it holds.
func ExampleNewOrder() {
	depth, start := 20.0, 15.0
	_, problems := star.NewOrder([]star.Spec{{Points: 5, BoardWidth: 114, Thickness: 19, Count: 1,
		Slot: star.SlotSpec{Depth: &depth, Start: &start}}})
	fmt.Println(problems.Err())
	// Output:
	// slot.start = 15 mm: with slots 20 mm deep it leaves no wood between the two slots of a segment; the least is 6 mm. Try: start = "32.7 mm" or depth = "7.1 mm"
}
