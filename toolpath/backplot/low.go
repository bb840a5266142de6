package backplot

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/toolpath"
)

const (
	// leadDiameters is how far from an outline that has to be cut, in cutter
	// diameters, the cutter may come down or move low over the sheet: room for
	// a lead into the cut. Common practice, no source.
	leadDiameters = 2.0

	// farMM is how far beyond the work a program may go, and how far above the
	// safe height: as far as a hand that sets up a little to the side, and not
	// as far as an end stop.
	farMM = 25.0
)

// low holds a move against what stands where it goes, other than the wood that
// it cuts. Below the safe height the cutter stays over the work and off the
// screws; below the height of approach it stays, beside, where something is to
// be cut. A piece of a move that was held against this before along the very
// way is passed over; old is the last cut along the way of the first piece.
func (r *Replay) low(m *toolpath.Move, old *sweep) {
	l := &r.Limits
	if r.count >= MaxFindings || min(m.From.Z, m.To.Z) >= l.SafeZ-zSlack {
		return
	}
	for i := range r.buf {
		s := &r.buf[i]
		if s.low() <= -Tol {
			if i > 0 {
				old = r.field.retraced(&s.axis)
			}
			if old != nil && old.clear {
				continue
			}
		}
		axis, ok := s.below(l.SafeZ - zSlack)
		if !ok {
			continue
		}
		if out, near := r.offWork(curveBox(axis)); out > 0 {
			r.find(r.placeLine(m, farthest(axis, near), near), "off-work", fmt.Sprintf("goes %.1m beside the work at Z %.3f, below the safe height of %.3f", r.in(out), r.in(s.low()), r.in(l.SafeZ)),
				out, m.To, "what stands beside the work is hit: a clamp, a fence, the table")
			return
		}
		if r.lowOverScrews(m, s, axis) || m.Kind == toolpath.Rapid {
			return
		}
		if !r.lowAndCutting(m, s) {
			return
		}
	}
}

// lowAndCutting holds what of a sweep at a feed lies below the height of approach
// against what has to be cut: the part over the wood by itself, since what lies in
// the wood may be in its place where that is not.
func (r *Replay) lowAndCutting(m *toolpath.Move, s *sweep) bool {
	if over, ok := s.above(-Tol); ok && s.low() <= -Tol {
		if axis, ok := over.below(r.Limits.Approach - zSlack); ok && !r.lowOverCut(m, &over, axis, false) {
			return false
		}
	}
	axis, ok := s.below(r.Limits.Approach - zSlack)
	return !ok || r.lowOverCut(m, s, axis, s.low() <= -Tol)
}

// offWork returns how far a box reaches beside every piece of work, and the
// point of the nearest one that it would have to stay at; 0 where it lies over
// one of them.
func (r *Replay) offWork(b geom.Box) (out float64, near geom.Point) {
	if len(r.Over) == 0 {
		return 0, near
	}
	out = math.Inf(1)
	for _, w := range r.Over {
		w = w.Grow(zSlack)
		over := max(w.Min.X-b.Min.X, b.Max.X-w.Max.X, w.Min.Y-b.Min.Y, b.Max.Y-w.Max.Y)
		if over <= 0 {
			return 0, near
		}
		if over < out {
			out, near = over, w.Center()
		}
	}
	return out, near
}

// farthest returns the end of a curve farther from p.
func farthest(c geom.Curve, p geom.Point) geom.Point {
	if c.A.Dist(p) > c.B.Dist(p) {
		return c.A
	}
	return c.B
}

// lowOverScrews reports whether a move goes over a screw zone below the safe
// height, and files it. What cuts into one is filed as that.
func (r *Replay) lowOverScrews(m *toolpath.Move, s *sweep, axis geom.Curve) bool {
	box := curveBox(axis)
	for i := range r.keepouts {
		out := r.keepouts[i].insideOf(axis, box, r.field.r)
		if out <= PartTol {
			continue
		}
		if s.low() > -Tol {
			r.find(m.Line, "low-over-screw", fmt.Sprintf("goes over a screw zone at Z %.3f, below the safe height of %.3f", r.in(s.low()), r.in(r.Limits.SafeZ)), out, m.To,
				"the cutter hits a screw or a clamp")
		}
		return true
	}
	return false
}

// lowOverCut reports whether a move at a feed keeps, below the height of
// approach, to where something has to be cut, and files it where it does not. A
// cut into the wood beside that is filed as such.
func (r *Replay) lowOverCut(m *toolpath.Move, s *sweep, axis geom.Curve, cuts bool) bool {
	if cuts && r.Sheet == nil {
		return true
	}
	box, approach := curveBox(axis), r.Limits.Approach
	if r.Sheet == nil {
		if len(r.pockets) == 0 {
			return true
		}
		k, out := r.pocketOf(axis, box)
		if out <= Tol {
			return true
		}
		p := &r.pockets[k]
		_, _, most := worst(axis, Tol, func(q geom.Point) float64 { return p.outline.outsideAt(q, r.field.r) })
		r.find(r.placeLine(m, most, p.outline.nearest(most)), "feed-low-over", fmt.Sprintf("feeds %.3m beside the %s at Z %.3f, below the height of approach of %.3f", r.in(out), p.Name, r.in(max(0, s.low())), r.in(approach)),
			out, m.To, "a board a little proud of the zero is cut where it should stay")
		return false
	}
	if !cuts {
		for i := range r.parts {
			p := &r.parts[i]
			out := p.outline.insideOf(axis, box, r.field.r)
			if out <= PartTol {
				continue
			}
			_, _, most := worst(axis, PartTol, func(q geom.Point) float64 { return r.field.r - p.outline.outsideAt(q, 0) })
			r.find(r.placeLine(m, most, p.outline.nearest(most)), "feed-low-over", fmt.Sprintf("feeds over %s at Z %.3f, below the height of approach of %.3f", p.Name, r.in(max(0, s.low())), r.in(approach)),
				out, m.To, "a sheet a little proud of the zero is cut where it should stay")
			return false
		}
	}
	far, at := r.fromOutlines(axis)
	if far <= r.lead() || len(r.parts) == 0 {
		r.astray = false
		return true
	}
	if r.astray {
		return false // told where it began
	}
	r.astray = true
	r.find(m.Line, "off-way", fmt.Sprintf("feeds at Z %.3f where there is nothing to cut, %.1m from the nearest outline", r.in(s.low()), r.in(far-r.field.r)),
		far-r.field.r, geom.Point3{X: at.X, Y: at.Y, Z: s.low()}, "the sheet is cut into where it has to hold")
	return false
}

// lead is how far from an outline the cutter's middle may be when it is low.
func (r *Replay) lead() float64 { return r.field.r + leadDiameters*r.Cutter }

// fromOutlines returns how far a point of the axis lies from the nearest
// outline of a part, the farthest of points a cutter's diameter apart, and
// which; within a cut-out no point is far. What is no farther than lead is not
// measured exactly.
func (r *Replay) fromOutlines(axis geom.Curve) (far float64, at geom.Point) {
	if axis.Bulge == 0 && r.nearby(axis.A) && r.nearby(axis.B) {
		return 0, axis.A // and so is all between
	}
	n := int(axis.Length()/r.Cutter) + 1
	for i := 0; i <= n; i++ {
		p := axis.At(float64(i) / float64(n))
		d := r.fromOutline(p, r.lead())
		if d <= r.lead() {
			r.near, r.nearBy = p, d
		}
		if d > far {
			far, at = d, p
		}
	}
	return far, at
}

// nearby reports whether a point is so close to the last one that was measured
// that it is near the same outline. It saves short lines, whose ends lie close
// together, all looks at the outlines but one in some hundred.
func (r *Replay) nearby(p geom.Point) bool {
	room := r.lead() - r.nearBy - coverSlack
	return room > 0 && sq(p.Sub(r.near)) < room*room
}

// fromOutline returns the distance of a point from the nearest outline. Where
// one is no farther than enough, or a cut-out holds the point, it is some
// distance no larger than that.
func (r *Replay) fromOutline(p geom.Point, enough float64) float64 {
	d := math.Inf(1)
	measure := func(i int) bool {
		q := &r.parts[i]
		for k := range q.outline.edges {
			d = min(d, q.outline.edges[k].distTo(p))
		}
		if d > enough && q.outline.Contour.Contains(p) && !q.outline.contains(p) {
			d = enough
		}
		return d > enough
	}
	r.partTree().Each(geom.Box{Min: p, Max: p}.Grow(enough), measure)
	for i := 0; d > enough && i < len(r.parts); i++ { // how far it is then, for the words
		measure(i)
	}
	return d
}

// partTree finds parts by place.
func (r *Replay) partTree() *geom.BoxTree {
	if r.tree == nil {
		boxes := make([]geom.Box, len(r.parts))
		for i := range r.parts {
			boxes[i] = r.parts[i].outline.box
		}
		r.tree = geom.NewBoxTree(boxes)
	}
	return r.tree
}

// far holds the places a move goes to against those that the program needs. No
// machine's travel is known for certain, and none has to reach farther.
func (r *Replay) far(m *toolpath.Move) {
	if len(r.Over) == 0 {
		return
	}
	room, b, top := r.room, curveBox(r.buf[0].axis), r.Limits.SafeZ+farMM
	for i := range r.buf[1:] {
		b = b.Union(curveBox(r.buf[i+1].axis))
	}
	if room.Holds(b) && m.To.Z <= top {
		return
	}
	out := max(room.Min.X-b.Min.X, b.Max.X-room.Max.X, room.Min.Y-b.Min.Y, b.Max.Y-room.Max.Y)
	line := r.placeLine(m, m.To.XY(), room.Center())
	if out <= 0 {
		line = r.setBy[2]
	}
	if r.counted("far", line) {
		return
	}
	what := fmt.Sprintf("goes %.0m beyond the work", r.in(out+farMM))
	if out <= 0 {
		out = m.To.Z - top
		what = fmt.Sprintf("goes %.0m above the safe height of %.3f", r.in(out+farMM), r.in(r.Limits.SafeZ))
	}
	r.find(line, "far", what+", where the program needs nothing", out+farMM, m.To, "the machine may run into its end stop or into what stands there")
}
