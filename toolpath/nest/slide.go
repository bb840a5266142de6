package nest

import (
	"math"

	"starwright/geom"
)

// settled is how little a part moves, down and to the left, when it has come to
// rest, mm: far below what a nest's spacing is given to.
const settled = 1e-4

// slide moves a free place down and left in turns until it rests.
func (b *bed) slide(v *view, room geom.Box, p geom.Point) geom.Point {
	for range 8 {
		q := geom.Pt(p.X, b.drop(v, room, p))
		q.X = b.push(v, room, q)
		if q.Dist(p) < settled {
			break
		}
		p = q
	}
	return p
}

// drop returns the lowest height to which p can sink.
func (b *bed) drop(v *view, room geom.Box, p geom.Point) float64 {
	y := room.Min.Y
	b.s.work += v.many
	// What lies above, or no higher than what was met, stops nothing.
	needless := func(box geom.Box) bool { return box.Min.Y >= p.Y-fitTol || box.Max.Y <= y-fitTol }
	v.each(needless, func(one ban) {
		from, to, ok := one.upright(p.X, b.s.memory)
		switch {
		case !ok || to-from <= 2*fitTol || from >= p.Y-2*fitTol:
		case to <= p.Y+2*fitTol:
			y = math.Max(y, math.Min(p.Y, to))
		default: // p lies at its flank, inside it by a rounding
			y = p.Y
		}
	})
	return y
}

// push returns the leftmost place to which p can move.
func (b *bed) push(v *view, room geom.Box, p geom.Point) float64 {
	x := room.Min.X
	b.s.work += v.many
	// What lies right of it, or no farther right than what was met, stops nothing.
	needless := func(box geom.Box) bool {
		return p.Y <= box.Min.Y+fitTol || p.Y >= box.Max.Y-fitTol || box.Min.X >= p.X-fitTol || box.Max.X <= x-fitTol
	}
	v.each(needless, func(one ban) {
		from, to := one.across(p.Y, b.s.memory)
		switch {
		case from >= p.X-2*fitTol:
		case to <= p.X+2*fitTol:
			x = math.Max(x, math.Min(p.X, to))
		default:
			x = p.X
		}
	})
	return x
}

// each visits the shapes but those whose box, or the box round all of their cluster, is
// needless. What is may change from one to the next.
func (v *view) each(needless func(geom.Box) bool, visit func(ban)) {
	for i := range v.bans {
		c := &v.bans[i]
		if needless(c.box()) {
			continue
		}
		for k := range c.off.sums {
			if !needless(c.boxOf(k)) {
				visit(c.ban(k))
			}
		}
	}
}
