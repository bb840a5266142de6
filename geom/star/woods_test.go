package star

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
)

var inTwoWoods = Spec{BoardWidth: 100, Thickness: 19, Count: 1, EndTrim: 8, RoundTo: 1, Kerf: 2.4, GlueGap: 1, SplineFit: 0.15,
	Woods: [2]string{"walnut", "hard maple"}}

// TestWoodsRoundAStar goes round stars joint by joint: where neighbours are
// mirrored like meets like, where they turn the one always meets the other, and
// whole segments differ from both neighbours. A ring of an odd number of points
// cannot take turns: two colours colour no odd cycle (any book on graphs).
func TestWoodsRoundAStar(t *testing.T) {
	tip := 40 * geom.Degree
	for n := MinPoints; n <= MaxPoints; n++ {
		for _, h := range []Halves{Turning, Mirrored, Whole} {
			spec := inTwoWoods
			spec.Points, spec.Halves, spec.Tip = n, h, &tip
			o, ps := NewOrder([]Spec{spec})
			if h != Turning && n%2 == 1 {
				if len(ps) != 1 || ps[0].Key != "star.halves" || !strings.Contains(ps[0].Would, `halves = "turning"`) {
					t.Errorf("%d points, %s: %v", n, h, ps)
				}
				continue
			}
			if len(ps) > 0 {
				t.Fatalf("%d points, %s: %v", n, h, ps)
			}
			u := o.Units[0]
			of := [2]int{}
			for k := range n {
				left, right := u.WoodsOf(k)
				of[left]++
				of[right]++
				// Counter-clockwise the left half of a segment meets the right one of the next.
				_, next := u.WoodsOf((k + 1) % n)
				if like := left == next; like != (h == Mirrored) {
					t.Errorf("%d points, %s: %d meets %d after segment %d", n, h, left, next, k)
				}
				if (left == right) != (h == Whole) {
					t.Errorf("%d points, %s: segment %d has %d and %d", n, h, k, left, right)
				}
			}
			if of[0] != n || of[1] != n {
				t.Errorf("%d points, %s: %v halves of each wood", n, h, of)
			}
			if u.Halved() != (h != Whole) || u.Alternates() != (h != Turning) {
				t.Errorf("%s: halved %v, alternates %v", h, u.Halved(), u.Alternates())
			}
		}
	}
}

// TestOffcutStarIsOfTwoWoods: in a blank that is of two woods on both sides of its
// middle line, all that the star from its off-cuts takes of an off-cut lies on one
// side of it: the first off-cut's on the left, the second one's on the right, and
// so they come to lie in the off-cut star.
func TestOffcutStarIsOfTwoWoods(t *testing.T) {
	seen := 0
	rapid.Check(t, func(t *rapid.T) {
		spec := inTwoWoods
		spec.Halves = Turning
		spec.OffcutStar = true
		spec.Points = rapid.IntRange(5, 12).Draw(t, "points")
		spec.BoardWidth = rapid.Float64Range(40, 300).Draw(t, "width")
		spec.EndTrim = rapid.Float64Range(0, 500).Draw(t, "trim")
		spec.Kerf = rapid.Float64Range(1, 4).Draw(t, "kerf")
		tip := geom.Deg(rapid.Float64Range(20, 80).Draw(t, "tip"))
		if tip < MaxTip(spec.Points)-geom.Degree {
			spec.Tip = &tip
		}
		o, ps := NewOrder([]Spec{spec})
		if len(ps) > 0 {
			return // too little is left for a second star, or too little wood for slots
		}
		seen++
		u, small := o.Units[0], o.Units[1]
		first, second := u.Offcuts()
		for i, cut := range []Offcut{first, second} {
			side := 1 - 2*float64(i) // of the blank's middle line, left first
			// Half a turn lays an off-cut where it is glued: its apex becomes the tip.
			for _, p := range []geom.Point{{}, {X: small.Segment.Length}, {X: small.Segment.Valley().X, Y: side * small.Segment.Valley().Y}} {
				q := geom.Pt(cut.Apex.X+small.Segment.Length-p.X, cut.Apex.Y-p.Y)
				if side*q.Y < 1e-9 {
					t.Fatalf("corner %v of the off-cut star lies at %v in the blank, in the other wood", p, q)
				}
				if d := cut.Wood.DistTo(q); !cut.Wood.Contains(q) && d > 1e-6 {
					t.Fatalf("corner %v of the off-cut star lies %g beside the off-cut", p, d)
				}
			}
		}
		if !small.Halved() || math.Abs(small.Segment.Width) < 1 {
			t.Fatal("the off-cut star is not of two woods")
		}
	})
	if seen < 10 {
		t.Errorf("only %d stars had a second one", seen)
	}
}
