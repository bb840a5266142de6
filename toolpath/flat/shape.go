package flat

import (
	"math"

	"starwright/geom"
)

// roundTol is how far the chords that stand for an arc may leave it, mm; shapes
// with arcs are kept farther apart by as much.
const roundTol = 0.01

// shape is a part in one of its two turnings, moved so that its box starts at
// the origin.
type shape struct {
	place geom.Place // that takes the outline there
	pts   []geom.Point
	more  float64 // by which it counts as larger than its points
	w, h  float64
	mid   float64 // of its centre of gravity along X
}

func newShape(c geom.Contour, turn geom.Angle) *shape {
	s := &shape{place: geom.Place{Turn: turn}}
	b := s.place.Contour(c).Bounds()
	s.place.Move = b.Min.Mul(-1)
	s.w, s.h = b.W(), b.H()
	c = s.place.Contour(c)
	s.pts = c.Flatten(roundTol)
	for _, v := range c {
		if v.Bulge != 0 {
			s.more = roundTol
		}
	}
	area, sum := 0.0, 0.0
	for i, p := range s.pts {
		q := s.pts[(i+1)%len(s.pts)]
		area += p.Cross(q)
		sum += p.Cross(q) * (p.X + q.X)
	}
	s.mid = sum / (3 * area)
	return s
}

// gap returns how far right of a, from box to box, b has to lie at least for the
// two to be so far apart there and everywhere farther right; b lies higher by
// up. It is minus infinity where b passes above or below a.
//
// Two polygons come within a distance of each other where a corner of one comes
// within it of a side of the other, so that no more has to be looked at.
func gap(a, b *shape, up, apart float64) float64 {
	apart += a.more + b.more
	need := math.Inf(-1)
	if up >= a.h+apart || up <= -b.h-apart {
		return need
	}
	for i, q := range b.pts {
		r := b.pts[(i+1)%len(b.pts)]
		for _, p := range a.pts {
			if from, _, ok := within(q, r, p.Y-up, apart); ok {
				need = max(need, p.X-from)
			}
		}
	}
	for i, q := range a.pts {
		r := a.pts[(i+1)%len(a.pts)]
		for _, p := range b.pts {
			if _, to, ok := within(q, r, p.Y+up, apart); ok {
				need = max(need, to-p.X)
			}
		}
	}
	return need
}

// within returns where the horizontal line at y comes nearer than d to the side
// from q to r.
func within(q, r geom.Point, y, d float64) (from, to float64, ok bool) {
	if y >= max(q.Y, r.Y)+d || y <= min(q.Y, r.Y)-d {
		return 0, 0, false
	}
	from, to = math.Inf(1), math.Inf(-1)
	for _, p := range [2]geom.Point{q, r} { // round each end
		if v := y - p.Y; v > -d && v < d {
			half := math.Sqrt(d*d - v*v)
			from, to = min(from, p.X-half), max(to, p.X+half)
		}
	}
	off := r.Sub(q).Left().Unit().Mul(d)
	for _, v := range [2]geom.Point{off, off.Mul(-1)} { // along each flank
		p, e := q.Add(v), r.Add(v)
		if p.Y != e.Y && (y-p.Y)*(y-e.Y) <= 0 {
			x := p.X + (e.X-p.X)*(y-p.Y)/(e.Y-p.Y)
			from, to = min(from, x), max(to, x)
		}
	}
	return from, to, from <= to
}
