package planner

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
)

// Lines along an oblong piece of waste, of which every square lies within the cutter's
// radius of one; and none reaches out of it by more than a cutter needs to ramp down.
func TestStripLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const cell = 1.0
		r := rapid.Float64Range(2, 6).Draw(t, "radius")
		wide := rapid.Float64Range(1, 2*r*stripPasses*stripStep-3*cell).Draw(t, "wide")
		long := rapid.Float64Range(3*wide, 200).Draw(t, "long")
		turn := rapid.Float64Range(0, 180).Draw(t, "turn")
		along := geom.Polar(1, geom.Deg(turn))
		var squares []geom.Point
		for x := -120; x <= 120; x++ {
			for y := -120; y <= 120; y++ {
				q := geom.Pt(float64(x)*cell, float64(y)*cell)
				if math.Abs(q.Dot(along)) <= long/2 && math.Abs(q.Dot(along.Left())) <= wide/2 {
					squares = append(squares, q)
				}
			}
		}
		lines := stripLines(squares, cell, r)
		if len(lines) == 0 || len(lines) > stripPasses {
			t.Fatalf("%d passes over %d squares", len(lines), len(squares))
		}
		for _, q := range squares {
			near := math.Inf(1)
			for _, c := range lines {
				near = min(near, c.DistTo(q))
			}
			if near > r+geom.Touch {
				t.Fatalf("the square at %v lies %.3f from the passes %v", q, near, lines)
			}
		}
		for _, c := range lines {
			for _, end := range [...]geom.Point{c.A, c.B} {
				if math.Abs(end.Dot(along)) > long/2+r || math.Abs(end.Dot(along.Left())) > wide/2+cell {
					t.Fatalf("a pass from %v to %v leaves a piece %.1f by %.1f", c.A, c.B, long, wide)
				}
			}
		}
	})
}

// A piece as broad as it is long takes more passes than are worth it.
func TestNoStripOfAPatch(t *testing.T) {
	var squares []geom.Point
	for x := range 40 {
		for y := range 40 {
			squares = append(squares, geom.Pt(float64(x), float64(y)))
		}
	}
	if lines := stripLines(squares, 1, 3); len(lines) > 0 {
		t.Errorf("%d passes", len(lines))
	}
	if lines := stripLines(nil, 1, 3); len(lines) > 0 {
		t.Errorf("%d passes over nothing", len(lines))
	}
}
