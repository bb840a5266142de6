package planner

import (
	"math"
	"slices"

	"starwright/geom"
	"starwright/toolpath"
)

// What a cut-out frees is a slug. A small one is cleared ring by ring before its
// edge is cut, a large one hangs in tabs like a part.
const (
	// clearRings is up to how many rings, the edge's own among them, a cut-out
	// is cleared whole: a slug some five cutters across. A wider one takes
	// longer to mill away than to saw out of its tabs.
	clearRings = 4

	// ringStep is how far apart the rings lie, in cutter diameters: what
	// widening a slot takes, see [widenStep].
	ringStep = 0.4

	// slugTabs is how few tabs hold a slug: one lets it swing.
	slugTabs = 2
)

// cutOut plans a cut-out: the ways that clear it, or its edge alone where tabs
// are to hold the slug, which takes all other ways to place ([sheetPlan.slugs]).
func (p *sheetPlan) cutOut(op *operation, loop geom.Contour) bool {
	rings := p.rings(loop, clearRings+1)
	switch {
	case len(rings) == 1:
		p.begin(op)
	case len(rings) <= clearRings:
		return p.clear(op, rings)
	case p.Tabs.Count == 0: // it is held as the parts are
		op.Loose = true
		p.begin(op)
	default:
		op.slug = loop
	}
	return true
}

// rings returns the ways that clear what a way leaves inside, level by level, the
// way itself first, and no more than most of them: to know that a slug is large does
// not take them all.
func (p *sheetPlan) rings(loop geom.Contour, most int) [][]geom.Contour {
	out := [][]geom.Contour{{loop}}
	for len(out) < most {
		var next []geom.Contour
		for _, c := range out[len(out)-1] {
			if left, err := loopsIn(c, p.r); err != nil || len(left) == 0 {
				continue // the cutter has it all
			}
			// A ring so short that its ramps would take laps without end is
			// laid half as far in.
			for _, step := range [2]float64{1, 0.5} {
				loops, err := loopsIn(c, step*ringStep*p.CutterDiameter)
				if err != nil {
					break
				}
				short := func(c geom.Contour) bool {
					return p.track(c).lapFall(p.slope) < p.depth/maxTurns
				}
				if step == 1 && slices.ContainsFunc(loops, short) {
					continue
				}
				next = append(next, loops...)
				break
			}
		}
		if len(next) == 0 {
			break
		}
		out = append(out, next)
	}
	return out
}

// clear plans a cut-out that is cleared from its middle out, so that nothing
// comes loose.
func (p *sheetPlan) clear(op *operation, rings [][]geom.Contour) bool {
	op.Way, op.rings = nil, nil
	for _, level := range slices.Backward(rings) {
		for _, loop := range level {
			way := p.sided(loop)
			c := p.levels(contourCut{track: p.track(way)})
			if !p.rampable(*op, c) {
				return false
			}
			op.Way, op.rings = append(op.Way, way), append(op.rings, c)
		}
	}
	first, edge := op.rings[0], op.rings[len(op.rings)-1]
	starts := p.starts(edge, p.Parts[op.part].NoTab)
	for _, s := range starts {
		op.begins.from = append(op.begins.from, first.point(first.startAt(0, p.slope).from))
		op.begins.to = append(op.begins.to, edge.point(s.to))
	}
	inner := op.rings[:len(op.rings)-1]
	op.run = func(w *walk, begin int) {
		for _, c := range inner {
			w.cut(c, c.startAt(0, w.slope))
		}
		w.cut(edge, starts[begin])
	}
	return true
}

// slugs places the tabs of those slugs that hang in them. Where there is no room
// for two, the cut-out is cleared after all.
func (p *sheetPlan) slugs() {
	ops := p.ops[CutInner]
	if !slices.ContainsFunc(ops, func(op operation) bool { return op.slug != nil }) {
		return
	}
	g := ground{r: p.r, side: p.scrapSide()}
	for _, ops := range p.ops {
		for i := range ops {
			g.add(&ops[i])
		}
	}
	g.index()
	for i := range ops {
		op := &ops[i]
		if op.slug == nil {
			continue
		}
		g.seats = p.Parts[op.part].NoTab
		if _, ok := p.addTabs(op, g, slugTabs); ok {
			p.begin(op)
		} else {
			p.clear(op, p.rings(op.slug, math.MaxInt))
		}
	}
}

// roundCut plans the cut of a round hole or of a round place in the waste.
func (p *sheetPlan) roundCut(op *operation, h holeCut) bool {
	for _, q := range h.rings {
		op.Way = append(op.Way, p.sided(geom.Circle(h.center, q).Reversed()))
	}
	if !p.Arcs {
		return p.roundByLines(op)
	}
	const quarters = 4
	for q := range quarters {
		from, to := h.ends(geom.Angle(q) * 90 * geom.Degree)
		op.begins.from, op.begins.to = append(op.begins.from, from), append(op.begins.to, to)
	}
	op.turns = h.turns
	kind := toolpath.ArcCW
	if p.Climb {
		kind = toolpath.ArcCCW
	}
	op.run = func(w *walk, begin int) { w.bore(h, geom.Angle(begin)*90*geom.Degree, kind) }
	return true
}
