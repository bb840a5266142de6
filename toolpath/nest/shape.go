package nest

import (
	"math"
	"slices"

	"starwright/geom"
)

// How shapes are made simple for nesting. All of it makes them larger, never
// smaller.
const (
	// roundTol is how far the straight sides that stand for an arc may lie
	// outside of it, mm.
	roundTol = 0.1

	// bayShare is the share of a part's area below which a bay in its outline
	// is filled in: nothing would be laid into it.
	bayShare = 0.01

	// mostCorners is how many corners a shape keeps; more bays are filled in
	// until it has no more, or no bays.
	mostCorners = 24
)

// outside returns a polygon round the contour: arcs that bulge out as tangents,
// arcs that curve in as chords, small bays filled in.
func outside(c geom.Contour, spacing float64) []geom.Point {
	var pts []geom.Point
	add := func(p geom.Point) {
		if n := len(pts); n == 0 || pts[n-1].Dist(p) > geom.Touch {
			pts = append(pts, p)
		}
	}
	for _, e := range c.CCW().Curves() {
		add(e.A)
		if e.Bulge > 0 {
			n := tangents(e)
			for i := range n {
				p := e.Part(float64(i)/float64(n), float64(i+1)/float64(n))
				// The corner of two tangents lies as far outside the chord as
				// the arc's ends see it: tan(sweep/2) of half the chord.
				h := math.Tan(float64(p.Sweep())/2) / 2
				d := p.B.Sub(p.A)
				add(p.A.Lerp(p.B, 0.5).Sub(d.Left().Mul(h)))
			}
		} else if e.Bulge < 0 {
			n := e.Chords(4 * roundTol)
			for i := 1; i < n; i++ {
				add(e.At(float64(i) / float64(n)))
			}
		}
	}
	if n := len(pts); n > 1 && pts[0].Dist(pts[n-1]) <= geom.Touch {
		pts = pts[:n-1]
	}
	return fillBays(pts, math.Max(bayShare*math.Abs(c.Area()), spacing*spacing))
}

// tangents returns into how many tangents an arc is cut so that none of their
// corners lies farther outside than roundTol; each turns by less than 60
// degrees.
func tangents(e geom.Curve) int {
	step := 2 * math.Acos(e.Radius()/(e.Radius()+roundTol))
	return int(math.Ceil(math.Max(math.Abs(float64(e.Sweep()))/step, 3*math.Abs(float64(e.Sweep()))/math.Pi)))
}

// fillBays drops inward corners whose bay is small, smallest first.
func fillBays(pts []geom.Point, small float64) []geom.Point {
	for len(pts) > 3 {
		n, best, least := len(pts), -1, math.Inf(1)
		for i := range pts {
			a, b, c := pts[(i+n-1)%n], pts[i], pts[(i+1)%n]
			bay := cross(a, c, b) / 2 // positive where b lies inward
			if bay >= 0 && bay < least && !blocked(pts, i) {
				best, least = i, bay
			}
		}
		if best < 0 || least > small && n <= mostCorners {
			break
		}
		pts = append(pts[:best:best], pts[best+1:]...)
	}
	return pts
}

// blocked reports whether another corner lies in the bay at corner i.
func blocked(pts []geom.Point, i int) bool {
	n := len(pts)
	a, b, c := (i+n-1)%n, i, (i+1)%n
	for k, p := range pts {
		if k == a || k == b || k == c {
			continue
		}
		if cross(pts[a], pts[c], p) > 0 && cross(pts[c], pts[b], p) > 0 && cross(pts[b], pts[a], p) > 0 {
			return true
		}
	}
	return false
}

// facing is a part in one of its turnings, moved so that its box starts at the
// origin, and cut into convex pieces.
type facing struct {
	angle geom.Angle
	low   geom.Point // lower left of the box before it was moved
	w, h  float64
	back  []hull     // the pieces turned by half a turn, for sums
	bulk  []hull     // the pieces as they lie
	mid   geom.Point // centre of gravity
}

// turned is a part in one of its turnings at a spacing.
type turned struct {
	*facing
	grown    []hull // the pieces grown by the spacing
	kind     int    // alike shapes have the same
	offZones *between
}

// shape is what is known of a part whatever the spacing: its outline made simple
// and its turnings. To cut an outline into pieces takes longer than all else that
// is done before parts are laid out.
type shape struct {
	outside []geom.Point
	facings []facing
}

// turnings returns a part in all the turnings to be tried. known is what an
// earlier search found out about it, nil where there was none.
func turnings(it Item, spacing float64, known *shape) (*shape, []turned) {
	base := outside(it.Part.Outline, spacing)
	if known == nil || !slices.Equal(base, known.outside) {
		known = newShape(it, base)
	}
	grow := disc(spacing)
	out := make([]turned, len(known.facings))
	for i := range known.facings {
		f := &known.facings[i]
		out[i] = turned{facing: f, grown: make([]hull, len(f.bulk))}
		for k := range f.bulk {
			out[i].grown[k] = f.bulk[k].grownBy(&grow)
		}
	}
	return known, out
}

func newShape(it Item, base []geom.Point) *shape {
	angles := it.Turns
	if len(angles) == 0 {
		angles = freeTurns(it.Part.Outline)
	}
	s := &shape{base, make([]facing, len(angles))}
	pts := make([]geom.Point, len(base))
	for i, a := range angles {
		at := geom.Place{Turn: a}
		b := at.Contour(it.Part.Outline).Bounds()
		for i, p := range base {
			pts[i] = at.Point(p).Sub(b.Min)
		}
		ps, ok := pieces(pts)
		if !ok {
			// A shape that cannot be cut into convex pieces is laid out as
			// its convex hull.
			ps = []hull{newHull(hullOf(pts))}
		}
		back := make([]hull, len(ps))
		for k, p := range ps {
			back[k] = p.reflected()
		}
		s.facings[i] = facing{angle: a, low: b.Min, w: b.W(), h: b.H(), back: back, bulk: ps, mid: middle(pts)}
	}
	return s
}

// freeTurns returns the quarter turns, and those that lay the longest side of
// the hull along an edge of the sheet.
func freeTurns(c geom.Contour) []geom.Angle {
	quarter := 90 * geom.Degree
	out := []geom.Angle{0, quarter, 2 * quarter, 3 * quarter}
	pts := hullOf(c.Flatten(roundTol))
	var side geom.Point
	for i, p := range pts {
		if d := pts[(i+1)%len(pts)].Sub(p); d.Len() > side.Len()+geom.Rounding {
			side = d
		}
	}
	const straight = 1e-6 // radians
	a := math.Mod(float64(side.Angle())+2*math.Pi, math.Pi/2)
	if a < straight || math.Pi/2-a < straight {
		return out
	}
	for q := range 4 {
		out = append(out, geom.Angle(-a)+geom.Angle(q)*quarter)
	}
	return out
}

// middle returns the centre of gravity of a polygon.
func middle(pts []geom.Point) geom.Point {
	var sum geom.Point
	area := 0.0
	for i, p := range pts {
		q := pts[(i+1)%len(pts)]
		k := p.Cross(q)
		area += k
		sum = sum.Add(p.Add(q).Mul(k))
	}
	return sum.Mul(1 / (3 * area))
}
