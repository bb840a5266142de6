package geom

import (
	"fmt"
	"math"
	"testing"
)

func ExampleRoundUp() {
	fmt.Println(RoundUp(213.2, 5), RoundUp(215, 5), RoundUp(7.3, 0))
	// Output: 215 215 7.3
}

func TestStepsForgiveRounding(t *testing.T) {
	tenth, fifth := 0.1, 0.2 // variables: constants are exact in Go
	sum := tenth + fifth
	for _, row := range []struct{ v, size, want float64 }{
		{9, 3, 3}, {sum, tenth, 3}, {9.001, 3, 4}, {0, 3, 0}, {2, 3, 1},
	} {
		if got := Steps(row.v, row.size); got != row.want {
			t.Errorf("%g steps of %g reach %g, want %g", got, row.size, row.v, row.want)
		}
	}
	if math.Ceil(sum/tenth) != 4 {
		t.Error("rounding no longer shows in this case: the test proves nothing")
	}
}
