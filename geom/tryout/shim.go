package tryout

import (
	"math"

	"starwright/geom"
	"starwright/geom/route"
)

// shimmed turns work that lies on the fence by the paper put behind it.
func (b *bench) shimmed(s *route.Setup, t geom.Place, work outline) geom.Place {
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range work.placed(t) {
		if math.Abs(p.Y) < sameCorner/2 {
			low, high = math.Min(low, p.X), math.Max(high, p.X)
		}
	}
	return b.shimmedJig(s, t, low, high)
}

// shimmedJig turns what stands on the fence from x to y by the paper behind it: it
// rests on the paper and on that end of it which is farther from the paper.
func (b *bench) shimmedJig(s *route.Setup, t geom.Place, x, y float64) geom.Place {
	thick, at, ok := b.shim(s)
	if !ok || thick == 0 {
		return t
	}
	pivot := x
	if math.Abs(at-x) < math.Abs(at-y) {
		pivot = y
	}
	// Paper at `at` pushes the work towards the operator there.
	turn := geom.Angle(math.Atan2(thick, math.Abs(at-pivot)))
	if at > pivot {
		turn = -turn
	}
	return spun(t, geom.Pt(pivot, 0), turn)
}

// spun returns a placement turned further about a point of the machine.
func spun(t geom.Place, about geom.Point, by geom.Angle) geom.Place {
	spin := geom.Place{Turn: by}
	return geom.Place{Mirror: t.Mirror, Turn: t.Turn + by, Move: spin.Point(t.Move.Sub(about)).Add(about)}
}

// shim returns the thickness of the paper and its place along the fence, to the
// kept side of the line of cut.
func (b *bench) shim(s *route.Setup) (thick, at float64, ok bool) {
	r, ok := find(s, route.ReadShim)
	if !ok || r.MM == nil {
		return 0, 0, false
	}
	p, ok := find(s, route.ReadShimAt)
	if !ok || p.MM == nil {
		b.fault("contact", s.Name, "a shim is printed and not where it goes")
		return 0, 0, false
	}
	if s.Cut.KeepLeft {
		return *r.MM, *p.MM, true
	}
	return *r.MM, -*p.MM, true
}
