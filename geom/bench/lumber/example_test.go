package lumber_test

import (
	"fmt"

	"starwright/geom/bench/lumber"
)

// What the yard calls 1x4 is narrower and thinner, and counted as if it were
// not.
func ExampleLookup() {
	s, ok := lumber.Lookup("1x4")
	fmt.Printf("%v: %.2f by %.2f mm\n", ok, s.Width, s.Thickness)
	fmt.Printf("%.2f board feet in 8 ft\n", lumber.BoardFeet(96*25.4, s.NominalWidth, s.NominalThickness))
	// Output:
	// true: 88.90 by 19.05 mm
	// 2.67 board feet in 8 ft
}
