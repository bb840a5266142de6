package backplot

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/toolpath"
)

// pocket is a Pocket with its outline made ready.
type pocket struct {
	Pocket
	outline outline
}

// gouge holds a sweep against what must stay. It reports whether seen from
// above nothing is wrong with it.
func (r *Replay) gouge(m *toolpath.Move, s, old *sweep) (clear bool) {
	if r.knownClear(s, old) {
		return true
	}
	axis, ok := s.below(-Tol)
	if !ok {
		return false
	}
	box := curveBox(axis)
	if r.Sheet != nil {
		return r.sheetGouge(m, s, axis, box)
	}
	if len(r.pockets) == 0 {
		return true
	}
	k, out := r.pocketOf(axis, box)
	p := &r.pockets[k]
	r.outside = max(r.outside, out)
	if out > Tol {
		r.pocketGouge(m, s, axis, p, out)
	}
	deep := -p.Depth - s.low()
	r.deepest = max(r.deepest, deep)
	if deep > Tol && !r.full() {
		r.find(r.depthLine(m), "floor", fmt.Sprintf("cuts %.3m below the floor of the %s (limit %.3f)", r.in(deep), p.Name, r.in(Tol)), deep, lowEnd(m),
			fmt.Sprintf("the %s comes out %.2m too deep", p.Name, r.in(deep)))
	}
	return out <= Tol
}

// knownClear reports whether a cut runs along the very way of a level one that
// was measured and keeps to the outlines, and goes below no floor: it reaches
// nowhere that the other one does not.
func (r *Replay) knownClear(s, old *sweep) bool {
	return old != nil && old.clear && old.level() && s.low() <= -Tol && s.low() >= r.shallowest
}

// pocketOf returns the pocket that a cut belongs to, and how far it reaches
// outside of it.
func (r *Replay) pocketOf(axis geom.Curve, box geom.Box) (k int, out float64) {
	out = math.Inf(1)
	for i := range r.pockets {
		o := &r.pockets[i].outline
		if !o.box.Holds(box) {
			continue
		}
		if d := o.outsideOf(axis, box, r.field.r); d < out {
			k, out = i, d
		}
		if out <= Tol {
			return k, out
		}
	}
	if r.count >= MaxFindings {
		return k, math.Min(out, 2*Tol) // it is outside, and how far nobody will read
	}
	for i := range r.pockets {
		if d := r.pockets[i].outline.outsideOf(axis, box, r.field.r); d < out {
			k, out = i, d
		}
	}
	return k, out
}

// pocketGouge files a cut outside of the pocket it belongs to.
func (r *Replay) pocketGouge(m *toolpath.Move, s *sweep, axis geom.Curve, p *pocket, out float64) {
	if r.full() {
		return
	}
	from, to, most := worst(axis, Tol, func(q geom.Point) float64 { return p.outline.outsideAt(q, r.field.r) })
	where := ""
	if p.Where != nil {
		where = " " + p.Where(most)
	}
	near := p.outline.nearest(most)
	at := farEdge(most, near, r.field.r, p.outline.contains(most))
	r.find(r.placeLine(m, most, near), "gouge",
		fmt.Sprintf("cuts %.3m outside the outline of the %s (limit %.3f)", r.in(out), p.Name, r.in(Tol)), out,
		geom.Point3{X: at.X, Y: at.Y, Z: s.low()}, fmt.Sprintf("cuts %.2m too far%s, %s", r.in(out), where, r.fromTo(from, to)))
}

// farEdge returns the point of the cutter's edge that reaches farthest over an
// outline whose nearest point to the cutter's middle p is q; towards says that
// the edge in the direction of q does, and not the one away from it.
func farEdge(p, q geom.Point, r float64, towards bool) geom.Point {
	v := q.Sub(p)
	if v == (geom.Point{}) {
		return p
	}
	if !towards {
		v = v.Mul(-1)
	}
	return p.Add(v.Unit().Mul(r))
}

// depthLine returns the line that gives a move's deepest height.
func (r *Replay) depthLine(m *toolpath.Move) int {
	switch {
	case m.To.Z < m.From.Z:
		return m.Line
	case m.From.Z < m.To.Z:
		return r.wasBy[2]
	}
	return r.setBy[2]
}

// placeLine returns the line to which a fault in place is due: seen from above
// the cutter is at p and wrong across the line to q. Where the move did not
// change that coordinate, or begins at p, an earlier line gave it.
func (r *Replay) placeLine(m *toolpath.Move, p, q geom.Point) int {
	v := q.Sub(p)
	if v == (geom.Point{}) || m.IsArc() {
		return m.Line
	}
	k, same := 0, m.From.X == m.To.X
	if math.Abs(v.Y) > math.Abs(v.X) {
		k, same = 1, m.From.Y == m.To.Y
	}
	if same || p == m.From.XY() {
		return r.wasBy[k]
	}
	return m.Line
}

// nearest returns the point of the outline's line nearest to p.
func (o *outline) nearest(p geom.Point) geom.Point {
	best, d := p, math.Inf(1)
	for i := range o.edges {
		if q := o.edges[i].Nearest(p); q.Dist(p) < d {
			best, d = q, q.Dist(p)
		}
	}
	return best
}

func lowEnd(m *toolpath.Move) geom.Point3 {
	if m.From.Z < m.To.Z {
		return m.From
	}
	return m.To
}

// fromTo says over what stretch a fault reaches.
func (r *Replay) fromTo(a, b geom.Point) string {
	if a.Dist(b) < 0.05 {
		return fmt.Sprintf("at X %.1f Y %.1f", r.in(a.X), r.in(a.Y))
	}
	if math.Abs(a.X-b.X) >= math.Abs(a.Y-b.Y) {
		return fmt.Sprintf("from X %.1f to %.1f", r.in(a.X), r.in(b.X))
	}
	return fmt.Sprintf("from Y %.1f to %.1f", r.in(a.Y), r.in(b.Y))
}
