package tryout

import (
	"fmt"

	"starwright/geom"
	"starwright/geom/route"
)

// A block that is 0.07 degrees off opens the last joint of a star by a
// millimetre: ten facets add it up.
func Example_lastJoint() {
	gap, ok := lastGap(route.Route{Setups: facets(5)}, pencilWant(), Slips{Block: geom.Deg(0.07)}, 0)
	fmt.Printf("%.2f mm at the valley: %v\n", gap, ok)
	// Output: 1.04 mm at the valley: true
}
