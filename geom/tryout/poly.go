package tryout

import (
	"math"

	"starwright/geom"
)

// outline is a simple polygon.
type outline []geom.Point

// speck is the length below which two corners are one, mm: a cut along an edge
// leaves no sliver.
const speck = 1e-6

// area returns the area within, mm², positive where it runs counter-clockwise.
func (o outline) area() float64 {
	sum := 0.0
	for i, p := range o {
		sum += p.Cross(o[(i+1)%len(o)])
	}
	return sum / 2
}

// keep returns what lies on the left of the line through a in direction d, by
// the method of Sutherland and Hodgman (Reentrant polygon clipping, 1974).
func (o outline) keep(a, d geom.Point) outline {
	var out outline
	add := func(p geom.Point) {
		if n := len(out); n == 0 || out[n-1].Dist(p) > speck {
			out = append(out, p)
		}
	}
	for i, p := range o {
		q := o[(i+1)%len(o)]
		hp, hq := d.Cross(p.Sub(a)), d.Cross(q.Sub(a))
		if hp >= 0 {
			add(p)
		}
		if hp >= 0 != (hq >= 0) {
			add(p.Lerp(q, hp/(hp-hq)))
		}
	}
	for len(out) > 1 && out[0].Dist(out[len(out)-1]) <= speck {
		out = out[:len(out)-1]
	}
	if len(out) < 3 || math.Abs(out.area()) < speck {
		return nil
	}
	return out
}

// placed returns the outline moved.
func (o outline) placed(t geom.Place) outline {
	out := make(outline, len(o))
	for i, p := range o {
		out[i] = t.Point(p)
	}
	return out
}

// back returns the outline as it was before t.
func (o outline) back(t geom.Place) outline {
	out := make(outline, len(o))
	for i, p := range o {
		p = geom.Place{Turn: -t.Turn}.Point(p.Sub(t.Move))
		if t.Mirror {
			p.Y = -p.Y
		}
		out[i] = p
	}
	return out
}

// dist returns the distance of p from the line of the outline.
func (o outline) dist(p geom.Point) float64 {
	d := math.Inf(1)
	for i, a := range o {
		d = math.Min(d, toSegment(p, a, o[(i+1)%len(o)]))
	}
	return d
}

// toSegment returns the distance of p from the straight way from a to b.
func toSegment(p, a, b geom.Point) float64 {
	d := b.Sub(a)
	l := d.Dot(d)
	if l == 0 {
		return p.Dist(a)
	}
	t := math.Min(1, math.Max(0, p.Sub(a).Dot(d)/l))
	return p.Dist(a.Add(d.Mul(t)))
}

// apart returns the largest distance of a corner of one outline from the line
// of the other. Both are nearly alike and straight-sided, so that no place
// between two corners is farther off than one of them.
func apart(o, p outline) float64 {
	if len(o) < 3 || len(p) < 3 {
		return math.Inf(1)
	}
	worst := 0.0
	for _, q := range o {
		worst = math.Max(worst, p.dist(q))
	}
	for _, q := range p {
		worst = math.Max(worst, o.dist(q))
	}
	return worst
}

// contains reports whether p lies within.
func (o outline) contains(p geom.Point) bool {
	in := false
	for i, a := range o {
		b := o[(i+1)%len(o)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// nearest returns the index of the corner nearest to p, and how near.
func (o outline) nearest(p geom.Point) (int, float64) {
	best, d := -1, math.Inf(1)
	for i, q := range o {
		if e := q.Dist(p); e < d {
			best, d = i, e
		}
	}
	return best, d
}

// edgeLike returns the ends of the edge of o that runs as from a to b does, in
// o's own order; false where it has none.
func (o outline) edgeLike(a, b geom.Point) (from, to geom.Point, ok bool) {
	best := 2 * sameCorner
	for i, p := range o {
		q := o[(i+1)%len(o)]
		// An edge may have lost length to a cut that ran off, so that its line
		// counts and that they overlap.
		if d := toLine(p, a, b) + toLine(q, a, b); d < best && overlap(p, q, a, b) > sameCorner && q.Sub(p).Dot(b.Sub(a)) > 0 {
			best, from, to, ok = d, p, q, true
		}
	}
	return from, to, ok
}

// toLine returns the distance of p from the line through a and b.
func toLine(p, a, b geom.Point) float64 {
	return math.Abs(b.Sub(a).Unit().Cross(p.Sub(a)))
}

// overlap returns how much of the way from p to q lies beside the way from a to b.
func overlap(p, q, a, b geom.Point) float64 {
	d := b.Sub(a).Unit()
	s, t := p.Sub(a).Dot(d), q.Sub(a).Dot(d)
	return math.Min(math.Max(s, t), b.Sub(a).Len()) - math.Max(math.Min(s, t), 0)
}
