package feeds_test

import (
	"fmt"

	"starwright/geom"
	"starwright/geom/bench/feeds"
)

// A quarter-inch bit that is fed too slowly rubs instead of cutting.
func ExampleJudge() {
	r, err := feeds.Judge(feeds.Cut{Diameter: 6.35, Flutes: 2, RPM: 18000, FeedMMMin: 600, Depth: 3,
		Material: feeds.Hardwood, Unit: geom.Millimetre})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f mm a tooth, the edge runs at %.1f m/s\n", r.ChipLoad, r.SurfaceMS)
	for _, w := range r.Warnings {
		fmt.Printf("%s: %s\n", w.Setting, w)
	}
	// Output:
	// 0.017 mm a tooth, the edge runs at 6.0 m/s
	// feed: the bit rubs and burns: 0.017 mm a tooth in hardwood, common for a 6.35 mm bit is 0.064 to 0.178 mm (common practice). Feed 2290 mm/min.
}
