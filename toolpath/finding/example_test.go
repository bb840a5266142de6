package finding_test

import (
	"fmt"

	"starwright/toolpath/finding"
)

// A figure of a proof, and a fault of a file in the words of the bench.
func Example() {
	c := finding.AtMost("uncut", 0.5, 0.01, "mm")
	fmt.Println(c.Name, c.Value, c.Unit, "passes:", c.Pass)
	fmt.Println(finding.Finding{File: "gcode/slot-left.nc", Line: 20, Block: "G1 X30.0", Rule: "uncut",
		What: "the slot ends 0.5 mm short"})
	// Output:
	// uncut 0.5 mm passes: false
	// gcode/slot-left.nc:20: the slot ends 0.5 mm short [G1 X30.0]
}
