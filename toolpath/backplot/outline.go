package backplot

import (
	"math"

	"starwright/geom"
)

// outline is a closed contour, with holes or without, and what is worked out
// once for many questions.
type outline struct {
	geom.Contour
	holes []geom.Contour
	box   geom.Box
	edges []edge
	last  geom.Point // the answer in is about
	in    bool
	known bool
	from  place
	some  someEdges
}

// someEdges are the edges of an outline round a place, for the cuts of short
// lines: those of a hundred ask for the same few.
type someEdges struct {
	box   geom.Box // whatever lies in it
	reach float64  // is farther than this from all other edges
	edges []edge
	known bool // it was gathered
}

// aroundMM is how far round a place its edges are gathered.
const aroundMM = 2.0

// around returns the edges that may lie within reach of a box; others may be
// among them.
func (o *outline) around(b geom.Box, reach float64) []edge {
	s := &o.some
	if s.known && reach <= s.reach && s.box.Holds(b) {
		return s.edges
	}
	if b.W() > aroundMM || b.H() > aroundMM {
		return o.edges // a long cut has its own
	}
	s.box, s.reach, s.edges, s.known = b.Grow(aroundMM), max(reach, s.reach), s.edges[:0], true
	near := s.box.Grow(s.reach)
	for i := range o.edges {
		if e := &o.edges[i]; e.box.Overlaps(near) {
			s.edges = append(s.edges, *e)
		}
	}
	return s.edges
}

// place is a point, how far an edge is from it at least, and in what it lies.
type place struct {
	at             geom.Point
	clear          float64
	within, inHole bool
}

func newOutline(c geom.Contour, holes ...geom.Contour) outline {
	o := outline{Contour: c, holes: holes, box: c.Bounds()}
	for _, c := range append([]geom.Contour{c}, holes...) {
		for _, e := range c.Curves() {
			o.edges = append(o.edges, newEdge(e))
		}
	}
	return o
}

// contains reports whether p lies within the contour and in no hole.
func (o *outline) contains(p geom.Point) bool {
	if !o.Contour.Contains(p) {
		return false
	}
	for _, h := range o.holes {
		if h.Contains(p) {
			return false
		}
	}
	return true
}

// where reports whether p, which lies d from the nearest edge, is within the
// contour, and whether it is in a hole there. From one point to another that is
// nearer than any edge nothing changes, which saves short lines the question.
func (o *outline) where(p geom.Point, d float64) (within, inHole bool) {
	if near := o.from.clear - coverSlack; near <= 0 || sq(p.Sub(o.from.at)) >= near*near {
		within = o.Contour.Contains(p)
		o.from.within, o.from.inHole = within, within && !o.contains(p)
	}
	o.from.at, o.from.clear = p, d
	return o.from.within, o.from.inHole
}

// stillFar reports whether p is so near to the last point that [outline.where] was
// asked of that it lies, like that one, farther than reach from any edge and in no
// hole.
func (o *outline) stillFar(p geom.Point, reach float64) bool {
	room := o.from.clear - reach - coverSlack
	return room > 0 && !o.from.inHole && sq(p.Sub(o.from.at)) < room*room
}

// begins is contains for the start of a cut: most begin where the last ended.
func (o *outline) begins(p geom.Point) bool {
	if !o.known || o.last != p {
		o.last, o.in, o.known = p, o.contains(p), true
	}
	return o.in
}

// measure returns the least distance between the axis and the outline's line,
// or far where it is no less than that, and whether the axis begins within.
func (o *outline) measure(axis geom.Curve, box geom.Box, far float64) (d float64, in bool) {
	d = far
	near := box.Grow(far)
	a := newEdge(axis)
	edges := o.around(box, far)
	for i := range edges {
		if e := &edges[i]; e.box.Overlaps(near) {
			if v := curveDist(&a, e); v < d {
				d = v
			}
		}
	}
	in = o.begins(axis.A)
	if d > 0 { // nothing crossed: the end is where the start is
		o.last = axis.B
	}
	return d, in
}

// edge is a curve with its box and, where it is an arc, its circle.
type edge struct {
	geom.Curve
	box    geom.Box
	o      geom.Point
	r      float64
	ua, ub geom.Point // directions of its ends from the centre, counter-clockwise
	more   bool       // than half a turn
}

func newEdge(c geom.Curve) edge {
	e := edge{Curve: c, box: curveBox(c)}
	if c.Bulge != 0 {
		e.o, e.r = c.Center(), c.Radius()
		e.ua, e.ub = c.A.Sub(e.o), c.B.Sub(e.o)
		if c.Bulge < 0 {
			e.ua, e.ub = e.ub, e.ua
		}
		e.more = math.Abs(c.Bulge) > 1
	}
	return e
}

// faces reports whether the arc lies in direction v from its centre.
func (e *edge) faces(v geom.Point) bool {
	if e.more {
		return !(e.ub.Cross(v) > 0 && v.Cross(e.ua) > 0)
	}
	return e.ua.Cross(v) >= 0 && v.Cross(e.ub) >= 0
}

// distTo returns the distance from p to the edge.
func (e *edge) distTo(p geom.Point) float64 {
	if e.Bulge == 0 {
		return math.Sqrt(dist2(e.A, e.B, p))
	}
	if v := p.Sub(e.o); e.faces(v) {
		return math.Abs(math.Sqrt(v.Dot(v)) - e.r)
	}
	return math.Sqrt(min(sq(p.Sub(e.A)), sq(p.Sub(e.B))))
}

// boxDist2 is the squared distance of a point from a box, 0 within it.
func boxDist2(b geom.Box, p geom.Point) float64 {
	return sq(geom.Point{X: max(0, b.Min.X-p.X, p.X-b.Max.X), Y: max(0, b.Min.Y-p.Y, p.Y-b.Max.Y)})
}

func sq(v geom.Point) float64 { return v.X*v.X + v.Y*v.Y }

// curveDist returns the least distance between two curves, 0 where they meet.
// Exact but for rounding, as [geom.CurveDist] is, and faster where one of the
// two is straight.
func curveDist(a, b *edge) float64 {
	switch {
	case a.Bulge == 0 && b.Bulge == 0:
		return lineLine(a, b)
	case a.flat() || b.flat() || a.Bulge != 0 && b.Bulge != 0:
		return geom.CurveDist(a.Curve, b.Curve)
	case a.Bulge == 0:
		return lineArc(a, b)
	}
	return lineArc(b, a)
}

// flat reports whether an arc's centre is too far away to reckon with.
func (e *edge) flat() bool {
	const least = 0.02 // of the bulge, about five degrees of turn
	return e.Bulge != 0 && math.Abs(e.Bulge) < least
}

func lineLine(a, b *edge) float64 {
	p, q := a.B.Sub(a.A), b.B.Sub(b.A)
	s1, s2 := p.Cross(b.A.Sub(a.A)), p.Cross(b.B.Sub(a.A))
	t1, t2 := q.Cross(a.A.Sub(b.A)), q.Cross(a.B.Sub(b.A))
	if s1*s2 < 0 && t1*t2 < 0 {
		return 0
	}
	return math.Sqrt(min(dist2(a.A, a.B, b.A), dist2(a.A, a.B, b.B), dist2(b.A, b.B, a.A), dist2(b.A, b.B, a.B)))
}

// lineArc is the least distance of a straight piece and an arc. Where they do
// not cross it lies at an end of either or at the foot of the perpendicular
// from the arc's centre.
func lineArc(l, c *edge) float64 {
	d := min(c.distTo(l.A), c.distTo(l.B), math.Sqrt(min(dist2(l.A, l.B, c.A), dist2(l.A, l.B, c.B))))
	v := l.B.Sub(l.A)
	l2 := v.Dot(v)
	if l2 == 0 {
		return d
	}
	w := c.o.Sub(l.A)
	t := w.Dot(v) / l2
	h2 := w.Dot(w) - t*t*l2 // squared distance of the centre from the line
	if t > 0 && t < 1 {
		if foot := v.Mul(t).Sub(w); c.faces(foot) {
			d = min(d, math.Abs(math.Sqrt(max(0, h2))-c.r))
		}
	}
	if h2 >= c.r*c.r {
		return d
	}
	half := math.Sqrt((c.r*c.r - h2) / l2)
	for _, u := range [2]float64{t - half, t + half} {
		if u >= 0 && u <= 1 && c.faces(v.Mul(u).Sub(w)) {
			return 0
		}
	}
	return d
}

// outsideAt returns how far a disc of radius r about p reaches outside the
// outline; negative where it stays inside.
func (o *outline) outsideAt(p geom.Point, r float64) float64 {
	d := math.Inf(1)
	for i := range o.edges {
		d = min(d, o.edges[i].distTo(p))
	}
	if o.contains(p) {
		return r - d
	}
	return r + d
}

// outsideOf returns how far the disc of radius r swept along axis reaches
// outside the outline, or -Tol where it keeps farther inside than that. Where
// the axis stays inside it is exact, from the least distance between curves;
// where it leaves, it is the largest of 65 samples, which is more than enough
// to condemn.
func (o *outline) outsideOf(axis geom.Curve, box geom.Box, r float64) float64 {
	d, in := o.measure(axis, box, r+Tol)
	if in && d > 0 {
		return r - d
	}
	out := math.Inf(-1)
	for i := 0; i <= samples; i++ {
		out = max(out, o.outsideAt(axis.At(float64(i)/samples), r))
	}
	return out
}

// samples is along how many parts of a cut its fault is looked at, to say
// where it begins and ends.
const samples = 64

// insideOf returns how far the disc of radius r swept along axis reaches into
// the outline, or -Tol where it keeps farther away than that.
func (o *outline) insideOf(axis geom.Curve, box geom.Box, r float64) float64 {
	if !box.Grow(r + Tol).Overlaps(o.box) {
		return -Tol
	}
	d, in := o.measure(axis, box, r+Tol)
	if !in && d > 0 {
		return r - d
	}
	out := math.Inf(-1)
	for i := 0; i <= samples; i++ {
		p := axis.At(float64(i) / samples)
		v := o.outsideAt(p, 0)
		out = max(out, r-v)
	}
	return out
}

// worst returns the first and last of 65 points along axis at which the
// measure exceeds limit, and the point where it is largest; the axis' ends
// where it does nowhere.
func worst(axis geom.Curve, limit float64, measure func(geom.Point) float64) (from, to, most geom.Point) {
	from, to, most = axis.A, axis.B, axis.A
	found, largest := false, math.Inf(-1)
	for i := 0; i <= samples; i++ {
		p := axis.At(float64(i) / samples)
		v := measure(p)
		if v > largest {
			largest, most = v, p
		}
		if v > limit {
			if !found {
				from, found = p, true
			}
			to = p
		}
	}
	return from, to, most
}
