package backplot

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/toolpath"
)

// alongTol is how near to the cutter's radius, in mm, a way must keep from an
// edge to count as running along it.
const alongTol = 0.05

// courseLeast is the shortest piece of way, in mm, whose direction is judged.
const courseLeast = 0.2

// runs holds a cut against the order of the job and its side of cut: what is
// within a part is cut before its outline, while the part lies firm; and the
// wood that stays lies left of the way, or right of it where the job asks for
// climb cutting. Slopes to and fro have no side, and where no wood is met
// nothing is asked.
func (r *Replay) runs(m *toolpath.Move, s, old *sweep) {
	if s.low() >= -Tol || r.count >= MaxFindings {
		return
	}
	switch {
	case r.glance.deep:
		s.of, s.right = r.glance.of, r.glance.right
	case old == nil:
		s.of, s.right = r.courseOf(s.axis)
	case old.axis.A == s.axis.A && old.axis.Bulge == s.axis.Bulge:
		s.of, s.right = old.of, old.right
	default:
		s.of, s.right = old.of, -old.right
	}
	late, wrong := r.early(m, s), s.right < 0 && r.hasSide(m, s)
	if !late && !wrong || r.field.covered(s.axis, s.low()+Tol) {
		return
	}
	if late {
		p := &r.parts[-s.of-1]
		p.late = true
		r.find(m.Line, "order", fmt.Sprintf("cuts within %s after its outline, which line %d begins", p.Name, p.begun), 0, m.To,
			"the part is held by little more than its tabs and may move under the cutter")
	}
	if wrong {
		is, asked := "climbs", "conventional"
		if r.Climb {
			is, asked = "cuts conventionally", "climb"
		}
		r.find(m.Line, "side-of-cut", fmt.Sprintf("%s here, the job's side of cut is %s", is, asked), 0, m.To,
			"the cutter pulls at the work the other way than it is held against, and leaves another edge")
	}
}

// early takes in where an outline is begun, and reports whether a cut within a
// part comes after that for the first time.
func (r *Replay) early(m *toolpath.Move, s *sweep) bool {
	switch {
	case s.of > 0 && r.parts[s.of-1].begun == 0:
		r.parts[s.of-1].begun = m.Line
	case s.of < 0:
		p := &r.parts[-s.of-1]
		return p.begun > 0 && !p.late
	}
	return false
}

// hasSide reports whether a cut is of a kind that has a side: level, or a full
// turn on its way down.
func (r *Replay) hasSide(m *toolpath.Move, s *sweep) bool {
	const turn = 2*math.Pi - 1e-3
	return (s.level() || m.IsArc() && math.Abs(float64(m.Sweep)) > turn) && s.axis.Length() >= courseLeast
}

// courseOf works out what a way runs along, by its middle: see [sweep].
func (r *Replay) courseOf(axis geom.Curve) (of int32, right int8) {
	p := axis.At(0.5)
	way := axis.At(0.51).Sub(axis.At(0.49))
	if r.Sheet == nil {
		for i := range r.pockets {
			k := &r.pockets[i]
			if b := k.outline.box; min(b.W(), b.H()) > r.Cutter+2*alongTol && b.Holds(geom.Box{Min: p, Max: p}) {
				right, _ = r.sideOf(&k.outline, p, way)
			}
		}
		return 0, right
	}
	best := math.Inf(1)
	r.partTree().Each(geom.Box{Min: p, Max: p}.Grow(r.field.r+alongTol), func(i int) bool {
		o := &r.parts[i].outline
		if o.stillFar(p, r.field.r+alongTol) {
			return true
		}
		side, d := r.sideOf(o, p, way)
		within, inHole := o.where(p, d)
		if d > r.field.r+alongTol && !inHole {
			return true
		}
		if side > 0 || right == 0 { // between two parts the way can have its side of one alone
			right = side
		}
		if d < best {
			best, of = d, int32(i+1)
			if within {
				of = -of
			}
		}
		return true
	})
	return of, right
}

// sideOf returns on which side of a way through p the wood beyond an outline's
// edges lies, where it runs along one, and how far p is from the nearest. Where
// it runs along edges on both sides, one of them is right.
func (r *Replay) sideOf(o *outline, p, way geom.Point) (right int8, d float64) {
	d = math.Inf(1)
	along := r.field.r + alongTol
	edges := o.around(geom.Box{Min: p, Max: p}, along)
	for i := range edges {
		e := &edges[i]
		if b := boxDist2(e.box, p); b > d*d && b > along*along {
			continue // neither the nearest nor one that it runs along
		}
		v := e.distTo(p)
		d = min(d, v)
		if math.Abs(v-r.field.r) > alongTol || right > 0 {
			continue
		}
		to := e.Nearest(p).Sub(p)
		if math.Abs(to.Dot(way)) > 0.1*to.Len()*way.Len() {
			continue // it goes towards the edge, not along it
		}
		right = -1
		if to.Cross(way) < 0 != r.Climb {
			right = 1
		}
	}
	for i := range o.edges { // the nearest lies beyond those around
		if d <= along {
			break
		}
		if e := &o.edges[i]; boxDist2(e.box, p) < d*d {
			d = min(d, e.distTo(p))
		}
	}
	return right, d
}
