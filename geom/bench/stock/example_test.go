package stock_test

import (
	"fmt"

	"starwright/geom/bench/stock"
)

// Two boards, one with a knot; five blanks of 235 mm a star.
func ExampleMake() {
	plan, err := stock.Make(stock.CutList{
		Boards: []stock.Board{
			{Length: 1180},
			{Length: 1575, Bad: []stock.Span{{Start: 457, End: 533}}},
		},
		Parts:   []stock.Part{{Name: "blank", Length: 235, PerStar: 5}},
		Kerf:    2.4,
		EndTrim: 10,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d star, exact: %v, longest rest %.1f mm\n", plan.Stars, plan.Exact, plan.LongestRest)
	for _, s := range plan.Boards[1].Stretches {
		fmt.Printf("%6.1f to %6.1f  %s\n", s.Start, s.End, s.Kind)
	}
	// Output:
	// 1 star, exact: true, longest rest 209.6 mm
	//    0.0 to    7.6  trim
	//    7.6 to   10.0  kerf
	//   10.0 to  245.0  blank
	//  245.0 to  247.4  kerf
	//  247.4 to  457.0  rest
	//  457.0 to  530.6  bad
	//  530.6 to  533.0  kerf
	//  533.0 to  768.0  blank
	//  768.0 to  770.4  kerf
	//  770.4 to 1005.4  blank
	// 1005.4 to 1007.8  kerf
	// 1007.8 to 1242.8  blank
	// 1242.8 to 1245.2  kerf
	// 1245.2 to 1480.2  blank
	// 1480.2 to 1482.6  kerf
	// 1482.6 to 1565.0  rest
	// 1565.0 to 1575.0  trim
}
