package bench_test

import (
	"fmt"

	"starwright/geom"
	"starwright/geom/bench"
)

// The one who asks says how lengths are written.
func ExampleSay() {
	fmt.Println(bench.Say(nil).Of(12.7), "or", bench.Say(geom.Inch.Format).Of(12.7))
	// Output:
	// 12.7 mm or 1/2 in
}
