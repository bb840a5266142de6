package planner

import (
	"fmt"
	"math"
	"slices"

	"starwright/geom"
)

// Bounds of how often loose pieces are looked for, and how large they may be to
// be milled away, in cutter diameters.
const (
	chipRounds  = 4
	chipLargest = 3.0
	chipApart   = 0.2 // mm that the cut keeps from the parts, so that it runs along none
)

// clearWaste leaves no waste that may come loose between the cuts: it is milled away
// before they are made. What is left is returned, for [sheetPlan.looseWaste] to say.
func (p *sheetPlan) clearWaste() (left []loosePiece) {
	for range chipRounds {
		loose := p.loosePieces(-1, anyhow)
		if len(loose) == 0 {
			return p.clearBridges()
		}
		if left = p.mill(&p.wastes[anyhow], loose, func(op operation) bool { p.take(op); return true }); len(left) == len(loose) {
			return left
		}
	}
	return p.loosePieces(-1, anyhow)
}

// clearBridges mills away what hangs by a thin bridge alone, which may break, and
// returns what finds no room for that. A sliver between two cuts stays where
// boring would cut it in two and free its point.
func (p *sheetPlan) clearBridges() (left []loosePiece) {
	left = p.mill(&p.wastes[broad], p.loosePieces(-1, broad), p.freesNone)
	return slices.DeleteFunc(left, func(l loosePiece) bool {
		_, ok := p.boring(l)
		return ok
	})
}

// mill mills pieces of waste away where that can be done and accept takes the cut for
// it: those that lie in a row at once, others one by one. It returns what is left.
func (p *sheetPlan) mill(g *waste, pieces []loosePiece, accept func(operation) bool) (left []loosePiece) {
	for len(pieces) > 0 {
		var row []loosePiece
		if row, pieces = gathered(pieces); len(row) > 1 {
			if op, ok := p.strip(g, row...); ok && accept(op) {
				continue
			}
		}
		for _, l := range row {
			if op, ok := p.boring(l); ok && accept(op) {
				continue
			}
			if op, ok := p.strip(g, l); ok && accept(op) {
				continue
			}
			left = append(left, l)
		}
	}
	return left
}

// take adds a cut that mills waste away.
func (p *sheetPlan) take(op operation) { p.ops[CutHole] = append(p.ops[CutHole], op) }

// freesNone adds a cut that mills waste away, if it frees no other waste.
func (p *sheetPlan) freesNone(op operation) bool {
	before, g := p.ops[CutHole], &p.wastes[anyhow]
	p.take(op)
	g.mark()
	if len(p.loosePieces(-1, anyhow)) == 0 {
		return true
	}
	p.ops[CutHole] = before
	g.back()
	return false
}

// boring is the cut that bores a piece of waste away; false where a part, screw or tab
// is in reach of it.
func (p *sheetPlan) boring(l loosePiece) (operation, bool) {
	o := l.box.Center()
	room := p.roomRound(o)
	least := p.r * 1.1
	r := math.Max(least, math.Hypot(l.box.W(), l.box.H())/2)
	op := operation{Cut: Cut{Kind: CutHole}, part: -1, edge: -1, label: fmt.Sprintf("waste at %s, which would come loose", place(p.Unit, o))}
	if r > room || r > chipLargest*p.CutterDiameter {
		return op, false
	}
	h, _, ok := planHole(o, r, p.depth, p.CutterDiameter, p.DepthPerPass, p.slope)
	return op, ok && p.roundCut(&op, h)
}

// roomRound is how far a cut round a place may reach.
func (p *sheetPlan) roomRound(o geom.Point) float64 {
	return p.roomBeside(o, func(c geom.Contour) float64 { return c.DistTo(o) }, o.Dist)
}

// roomBeside is the same of any way through a place, given by its distances.
func (p *sheetPlan) roomBeside(o geom.Point, to func(geom.Contour) float64, toPoint func(geom.Point) float64) float64 {
	d := math.Inf(1)
	for _, part := range p.Parts {
		d = math.Min(d, to(part.Outline)-chipApart)
		for _, h := range part.Holes {
			d = math.Min(d, to(h)-chipApart)
		}
	}
	for _, z := range p.ScrewZones {
		if z.Holds(geom.Box{Min: o, Max: o}) {
			return 0
		}
		d = math.Min(d, to(geom.Rect(z))-chipApart)
	}
	for _, ops := range p.ops {
		for i := range ops {
			for _, t := range ops[i].tabs {
				d = math.Min(d, toPoint(t.At)-p.Tabs.lift(p.r)/2-p.r)
			}
		}
	}
	return d
}
