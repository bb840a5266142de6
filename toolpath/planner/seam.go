package planner

import (
	"math/bits"
	"slices"

	"starwright/geom"
)

// seam is where two cuts meet in a row between the middles of two squares that are
// both taken, and no one cut takes both: wood may stand there that no square shows.
type seam struct {
	y, x       int32 // between the square x of the row and the one before it
	up         int32 // the seam of the next row that goes on from here, -1 where none does
	goesOnFrom bool  // one of the row before goes on here
}

// unseen returns what stands between cuts that are so close to each other that no
// middle of a square lies between them: seams, one above the other. What hangs by
// more than crumbs is left out.
func (p *sheetPlan) unseen(g *waste, crumbs []loosePiece) (out []loosePiece) {
	seams := g.seams()
	for i := range seams {
		if seams[i].goesOnFrom {
			continue
		}
		chain := chainOf(seams, i)
		box := geom.Box{Min: g.left(chain[0]), Max: g.left(chain[0])}
		for _, s := range chain {
			box = box.With(g.left(s)).With(g.left(s).Add(geom.Pt(g.cell, 0)))
		}
		box = box.Grow(g.cell)
		ways := p.waysIn(box)
		if p.hangs(g, chain[0], -1, ways, crumbs) || p.hangs(g, chain[len(chain)-1], 1, ways, crumbs) {
			continue
		}
		l := loosePiece{box: box}
		for _, s := range chain {
			for _, at := range p.wood(g, s, ways) {
				l.area += g.cell * g.cell / seamShares
				l.at, l.wood = at, append(l.wood, at)
			}
		}
		if l.area > 0 {
			out = append(out, l)
		}
	}
	return out
}

// seams finds the seams of all rows, and which go on from which.
func (g *waste) seams() []seam {
	var all []seam
	before := 0 // the first of the row before
	for y := range g.h {
		first := len(all)
		row, joins := g.row(y), g.joins.row(y)
		carry := uint64(0)
		for i, taken := range row {
			for s := taken & (taken<<1 | carry) &^ joins[i]; s != 0; s &= s - 1 {
				if x := i*wordBits + bits.TrailingZeros64(s); x < g.w {
					all = append(all, seam{y: int32(y), x: int32(x), up: -1})
				}
			}
			carry = taken >> (wordBits - 1)
		}
		for i, k := before, first; i < first && k < len(all); {
			from, to := &all[i], &all[k]
			switch {
			case from.x < to.x-1:
				i++
			case from.x > to.x+1:
				k++
			default:
				from.up, to.goesOnFrom = int32(k), true
				i, k = i+1, k+1
			}
		}
		before = first
	}
	return all
}

// chainOf is a seam and what goes on from it, from below.
func chainOf(seams []seam, i int) (chain []seam) {
	for ; i >= 0; i = int(seams[i].up) {
		chain = append(chain, seams[i])
	}
	return chain
}

// hangs reports whether the wood at the end of a chain goes on in the row before it or
// behind it, in more than a crumb.
func (p *sheetPlan) hangs(g *waste, end seam, step int, ways []sawn, crumbs []loosePiece) bool {
	if y := int(end.y) + step; y < 0 || y >= g.h {
		return false
	}
	for _, at := range p.wood(g, end, ways) {
		at.Y += float64(step) * g.cell
		in := func(l loosePiece) bool { return l.box.Holds(geom.Box{Min: at, Max: at}) }
		if !p.cutAt(at, ways) && !slices.ContainsFunc(crumbs, in) {
			return true
		}
	}
	return false
}

// seamShares is in how many shares of a square's width the wood of a seam is looked at.
const seamShares = 32

// wood returns the places in a seam that no cut takes.
func (p *sheetPlan) wood(g *waste, s seam, ways []sawn) (out []geom.Point) {
	for k := range seamShares {
		if at := g.left(s).Add(geom.Pt((float64(k)+0.5)/seamShares*g.cell, 0)); !p.cutAt(at, ways) {
			out = append(out, at)
		}
	}
	return out
}

// left is the middle of the square before a seam.
func (g *waste) left(s seam) geom.Point {
	return geom.Pt((float64(s.x)-0.5)*g.cell, (float64(s.y)+0.5)*g.cell)
}

// sawn is a stretch of a cut's way, and the tabs over which it is lifted.
type sawn struct {
	way  geom.Curve
	tabs []Tab
}

// waysIn returns the ways whose cuts reach into a box.
func (p *sheetPlan) waysIn(b geom.Box) (out []sawn) {
	b = b.Grow(p.r)
	for _, ops := range p.ops {
		for i := range ops {
			op := &ops[i]
			op.eachCurve(func(c geom.Curve) {
				if c.Bounds().Overlaps(b) {
					out = append(out, sawn{c, op.tabs})
				}
			})
		}
	}
	return out
}

// cutAt reports whether one of the cuts takes a place, where it is not lifted over a
// tab.
func (p *sheetPlan) cutAt(at geom.Point, ways []sawn) bool {
	lift := p.Tabs.lift(p.r) / 2
	return slices.ContainsFunc(ways, func(w sawn) bool {
		near := w.way.Nearest(at)
		over := func(t Tab) bool { return t.At.Dist(near) < lift }
		return near.Dist(at) < p.r && !slices.ContainsFunc(w.tabs, over)
	})
}
