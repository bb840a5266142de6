package backplot

import (
	"fmt"

	"starwright/geom"
	"starwright/toolpath"
)

// PartTol is how far a cut may reach into a part, and how much may be left on
// its outline, in mm. It is wider than [Tol] because an arc may be written as
// lines within 0.01 mm of it.
const PartTol = 0.02

// part is a Part with its outline made ready.
type part struct {
	Part
	outline outline
	begun   int  // line that first cuts along its outline, 0 while none does
	late    bool // something within was cut after that, and a finding says so
}

func newPart(p Part) part {
	p.Outline = p.Outline.CCW()
	holes := make([]geom.Contour, len(p.Holes))
	for i, h := range p.Holes {
		holes[i] = h.CCW()
	}
	p.Holes = holes
	return part{Part: p, outline: newOutline(p.Outline, holes...)}
}

// sheetGouge holds a sweep against parts, screw zones, the sheet's edge and
// the spoilboard.
func (r *Replay) sheetGouge(m *toolpath.Move, s *sweep, axis geom.Curve, box geom.Box) (clear bool) {
	if clear = r.glance.clear; clear {
		r.outside = max(r.outside, r.glance.out)
	} else {
		clear = r.keptGouge(m, s, axis, box)
	}
	if !r.onSheet(m, box) {
		clear = false
	}
	deep := r.floor() - s.low()
	r.deepest = max(r.deepest, deep)
	if deep > Tol && !r.full() {
		r.find(r.depthLine(m), "spoilboard", fmt.Sprintf("cuts %.3m deeper than the stated breakthrough of %.3f", r.in(deep), r.in(r.Sheet.Breakthrough)), deep, lowEnd(m),
			fmt.Sprintf("cuts %.2m into the spoilboard", r.in(deep+r.Sheet.Breakthrough)))
	}
	return clear
}

// keptGouge holds a sweep against parts and screw zones.
func (r *Replay) keptGouge(m *toolpath.Move, s *sweep, axis geom.Curve, box geom.Box) (clear bool) {
	clear = true
	for i := range r.parts {
		p := &r.parts[i]
		out := p.outline.insideOf(axis, box, r.field.r)
		r.outside = max(r.outside, out)
		if out > PartTol {
			clear = false
			r.partGouge(m, s, axis, p, out)
		}
	}
	for i := range r.keepouts {
		if out := r.keepouts[i].insideOf(axis, box, r.field.r); out > PartTol {
			clear = false
			if !r.full() {
				r.find(m.Line, "screw-zone", fmt.Sprintf("cuts %.3m into a screw zone", r.in(out)), out, m.To, "the cutter may hit a screw")
			}
		}
	}
	return clear
}

// keepsOut reports whether a cut keeps out of parts and screw zones as far as it has
// to, and how far it reaches into parts.
func (r *Replay) keepsOut(axis geom.Curve, box geom.Box) (out float64, ok bool) {
	for i := range r.parts {
		if out = max(out, r.parts[i].outline.insideOf(axis, box, r.field.r)); out > PartTol {
			return out, false
		}
	}
	for i := range r.keepouts {
		if r.keepouts[i].insideOf(axis, box, r.field.r) > PartTol {
			return out, false
		}
	}
	return out, true
}

// onSheet reports whether a cut keeps to the sheet, and files a finding where
// it does not. The cutter's own width may hang over the edge.
func (r *Replay) onSheet(m *toolpath.Move, box geom.Box) bool {
	size := r.Sheet.Size
	if size == (geom.Point{}) {
		return true
	}
	over := max(-box.Min.X, -box.Min.Y, box.Max.X-size.X, box.Max.Y-size.Y) - r.field.r
	if over <= PartTol {
		return true
	}
	if !r.full() {
		r.find(m.Line, "off-sheet", fmt.Sprintf("cuts %.3m beyond the sheet's edge", r.in(over)), over, m.To,
			"clamps or the machine's bed may be hit")
	}
	return false
}

// partGouge files a cut into a part.
func (r *Replay) partGouge(m *toolpath.Move, s *sweep, axis geom.Curve, p *part, out float64) {
	if r.full() {
		return
	}
	from, to, most := worst(axis, PartTol, func(q geom.Point) float64 { return r.field.r - p.outline.outsideAt(q, 0) })
	near := p.outline.nearest(most)
	at := farEdge(most, near, r.field.r, !p.outline.contains(most))
	r.find(r.placeLine(m, most, near), "gouge",
		fmt.Sprintf("cuts %.3m into %s (limit %.3f)", r.in(out), p.Name, r.in(PartTol)), out,
		geom.Point3{X: at.X, Y: at.Y, Z: s.low()}, fmt.Sprintf("%s loses %.2m, %s", p.Name, r.in(out), r.fromTo(from, to)))
}
