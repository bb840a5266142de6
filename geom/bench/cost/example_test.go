package cost_test

import (
	"fmt"

	"starwright/geom/bench/cost"
)

func ExampleAdd() {
	s, err := cost.Add(cost.Ask{
		Stars:  []cost.Star{{Name: "porch", Count: 2, Weight: 1}},
		Items:  []cost.Item{{What: "cuts", Kind: cost.Labour, Count: 20, Each: 0.6, Unit: "min"}, {What: "wood", Kind: cost.Wood, Count: 1, Each: 3, Unit: "board feet"}},
		Prices: map[cost.Kind]float64{cost.Labour: 40, cost.Wood: 6}, Margin: 20,
	})
	fmt.Printf("%.2f %.2f %v\n", s.Order.Cost, s.Order.Price, err)
	// Output: 26.00 32.50 <nil>
}
