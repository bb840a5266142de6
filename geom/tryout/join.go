package tryout

import (
	"math"

	"starwright/geom/route"
)

// join glues pieces to a new one.
func (b *bench) join(s *route.Setup) {
	after := outline(s.Join.After)
	k := key{s.Unit, s.Join.Makes}
	var parts []outline
	for _, p := range s.Join.Parts {
		pile := b.anyPile(b.partUnit(s, p.Kind), p.Kind, s.Count)
		if pile == nil {
			b.fault("count", s.Name, "there are not %d pieces of kind %s", s.Count, p.Kind)
			return
		}
		pile.count -= s.Count
		o := pile.shape.placed(p.At)
		if o.area() < 0 {
			o = reversed(o)
		}
		parts = append(parts, o)
	}
	if len(after) < 3 {
		return // a star or a half: judged by its joints
	}
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
	slack := OutlineTol * perimeter(after)
	b.atMost("joint", s.Name, math.Abs(area-after.area())/math.Max(1, slack), 1, "the pieces overlap, or leave a gap between them")
	b.put(k, snapped, s.Count)
}

// partUnit returns the unit whose pieces a set-up glues: its own, or the one
// that has such pieces where its own has none: the off-cuts of the large star
// make the small one.
func (b *bench) partUnit(s *route.Setup, kind string) int {
	if len(b.pieces[key{s.Unit, kind}]) > 0 {
		return s.Unit
	}
	for u := range b.want.Units {
		if len(b.pieces[key{u, kind}]) > 0 {
			return u
		}
	}
	return s.Unit
}

// anyPile returns a pile of a kind with at least n pieces.
func (b *bench) anyPile(unit int, kind string, n int) *pile {
	for _, p := range b.pieces[key{unit, kind}] {
		if p.count >= n {
			return p
		}
	}
	return nil
}

func perimeter(o outline) float64 {
	l := 0.0
	for i, p := range o {
		l += p.Dist(o[(i+1)%len(o)])
	}
	return l
}
