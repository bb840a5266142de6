package planner

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The nearest allowed place against all runs asked one by one.
func TestNearestPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var runs []span
		end := 0.0
		for range rapid.IntRange(1, 12).Draw(t, "runs") {
			from := end + float64(rapid.IntRange(1, 40).Draw(t, "gap"))/4
			end = from + float64(rapid.IntRange(0, 60).Draw(t, "long"))/4
			runs = append(runs, span{from, end})
		}
		length := end + float64(rapid.IntRange(1, 40).Draw(t, "last gap"))/4
		s := float64(rapid.IntRange(0, int(4*length)-1).Draw(t, "place")) / 4
		best, least := runs[0], math.Inf(1)
		for _, r := range runs {
			d := 0.0
			if s < r.from || s > r.to {
				d = math.Min(around(length, s, r.from), around(length, s, r.to))
			}
			if d < least {
				best, least = r, d
			}
		}
		want := s
		if least > 0 {
			if want = best.from; around(length, s, best.to) < around(length, s, best.from) {
				want = best.to
			}
		}
		at, moved, off := nearestPlace(runs, length, s)
		if at != want || moved != around(length, s, want) || off != math.Abs(want-best.mid()) {
			t.Fatalf("%g of %g on %v: %g, moved %g, off %g; want %g of %v", s, length, runs, at, moved, off, want, best)
		}
	})
}
