package cuttest_test

import (
	"fmt"

	"starwright/post/cut/cuttest"
)

// What a drawing to spoil has in it.
func Example() {
	d := cuttest.Plate(1)
	fmt.Println(len(d.Contours), "contours,", len(d.Lines), "lines, with the check bar's")
	// Output:
	// 4 contours, 4 lines, with the check bar's
}
