package words_test

import (
	"fmt"

	"starwright/geom/words"
)

// What was meant by a name that nobody knows, and a number of things.
func Example() {
	fmt.Println(words.Meant("boad_width", []string{"board_width", "star_width", "thickness"}))
	fmt.Println(words.Count(1, "blank", "blanks"), "and", words.Count(30, "segment", "segments"))
	for _, line := range words.Wrap("Turn the blank over along its length.", 20) {
		fmt.Println(line)
	}
	// Output:
	// board_width
	// 1 blank and 30 segments
	// Turn the blank over
	// along its length.
}
