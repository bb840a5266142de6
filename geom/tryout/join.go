package tryout

import (
	"math"

	"starwright/geom/route"
)

// join glues pieces to a new one.
func (b *bench) join(s *route.Setup) {
	parts, segments, ok := b.parts(s)
	if !ok {
		return
	}
	k := key{s.Unit, s.Join.Makes}
	if s.Join.Makes == route.PiecePair { // two off-cuts become one segment
		b.put(k, b.together(s, parts), s.Count)
		return
	}
	b.holds[k] = segments
	// Halves and stars are judged by their joints: the last one shows it all.
	b.put(k, outline(s.Join.After), s.Count)
	if s.Join.Makes == route.PieceStar && segments != b.want.Units[s.Unit].Points {
		b.fault("count", s.Name, "it glues %d segments to a star of %d", segments, b.want.Units[s.Unit].Points)
	}
}

// parts takes the pieces of a glue-up from their piles, and lays them where the
// route says.
func (b *bench) parts(s *route.Setup) (parts []outline, segments int, ok bool) {
	for _, p := range s.Join.Parts {
		unit := b.partUnit(s, p.Kind)
		shape := b.lastPiles(unit, p.Kind, s.Count)
		if shape == nil {
			b.fault("count", s.Name, "there are not %d pieces of kind %s", s.Count, p.Kind)
			return nil, 0, false
		}
		o := shape.placed(p.At)
		if o.area() < 0 {
			o = reversed(o)
		}
		parts = append(parts, o)
		segments += max(1, b.holds[key{unit, p.Kind}])
	}
	return parts, segments, len(parts) > 0
}

// together makes one outline of pieces that lie side by side, each corner the
// one of the piece that comes nearest to it.
func (b *bench) together(s *route.Setup, parts []outline) outline {
	after := outline(s.Join.After)
	snapped := make(outline, len(after))
	worst, area := 0.0, 0.0
	for i, v := range after {
		best := math.Inf(1)
		for _, o := range parts {
			if n, d := o.nearest(v); d < best {
				best, snapped[i] = d, o[n]
			}
		}
		worst = math.Max(worst, best)
	}
	for _, o := range parts {
		area += o.area()
	}
	b.atMost("outline", s.Name, worst, OutlineTol, "the pieces laid together do not make the outline that the route says")
	b.atMost("joint", s.Name, math.Abs(area-after.area())/perimeter(after), OutlineTol, "the pieces overlap, or leave a gap between them")
	return snapped
}

// partUnit returns the unit whose pieces a set-up glues: its own, or, where that has
// none, the nearest one before it that does: the off-cuts of a star make the small
// one that follows it, and not those of another star of the order.
func (b *bench) partUnit(s *route.Setup, kind string) int {
	if len(b.pieces[key{s.Unit, kind}]) > 0 {
		return s.Unit
	}
	for u := s.Unit - 1; u >= 0; u-- {
		if len(b.pieces[key{u, kind}]) > 0 {
			return u
		}
	}
	return s.Unit
}

// lastPiles takes n pieces of a kind off the piles that came last, which are the
// farthest on their way, and returns the outline of one of them; nil where there
// are not so many.
func (b *bench) lastPiles(unit int, kind string, n int) outline {
	piles := b.pieces[key{unit, kind}]
	have := 0
	for _, p := range piles {
		have += p.count
	}
	if have < n {
		return nil
	}
	var shape outline
	for i := len(piles) - 1; i >= 0 && n > 0; i-- {
		if m := min(n, piles[i].count); m > 0 {
			if shape == nil {
				shape = piles[i].shape
			}
			piles[i].count -= m
			n -= m
		}
	}
	return shape
}

func perimeter(o outline) float64 {
	l := 0.0
	for i, p := range o {
		l += p.Dist(o[(i+1)%len(o)])
	}
	return l
}
