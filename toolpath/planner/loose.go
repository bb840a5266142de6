package planner

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"starwright/geom"
	"starwright/geom/problem"
	"starwright/toolpath"
)

// looseLeast is the area, in mm², from which a piece of waste that comes loose
// between the cuts is worth a word; less goes with the chips.
const looseLeast = 2.0

// mostSquares is into how many squares a sheet is divided at most.
const mostSquares = 4 << 20

// waste is a sheet in squares: what the cuts leave of it, tabs left standing.
type waste struct {
	squares
	joins squares // by its number, of each square and the one before it whether one cut took both
	laid  bool
	cell  float64
	only  int    // the part whose cuts were taken, all below 0
	done  [3]int // how many operations of each kind were
	found found
	broom broom

	markTaken, markJoins []uint64 // what [waste.back] goes back to
	markDone             [3]int
}

// wasteLeft cuts all that is planned, or for one part alone where only is not
// below 0, with cuts as wide as they are or half a square wider. Where all was cut
// before, only what was planned since is.
func (p *sheetPlan) wasteLeft(only int, by bridges) *waste {
	g := &p.wastes[by]
	switch {
	case !g.laid:
		p.lay(g)
	case only >= 0 || g.only >= 0:
		g.clear()
	}
	g.only = only
	lift, r := p.Tabs.lift(p.r)/2, p.r
	if by == broad {
		r += g.cell / 2
	}
	for k, ops := range p.ops {
		for i := g.done[k]; i < len(ops); i++ {
			if only >= 0 && ops[i].part != only {
				continue
			}
			for _, way := range ops[i].Way {
				for n := range way {
					g.cut(way.Curve(n), r, ops[i].tabs, lift)
				}
				g.rest()
			}
		}
		g.done[k] = len(ops)
	}
	return g
}

// lay divides the sheet into squares.
func (p *sheetPlan) lay(g *waste) {
	g.cell = math.Min(1, p.r/2)
	if p.Tabs.Count > 0 {
		g.cell = math.Min(g.cell, p.Tabs.Width/4)
	}
	g.cell = math.Max(g.cell, math.Sqrt(p.SheetW*p.SheetH/mostSquares))
	g.lay(int(math.Ceil(p.SheetW/g.cell)), int(math.Ceil(p.SheetH/g.cell)))
	g.laid, g.done = true, [3]int{}
}

func (g *waste) lay(w, h int) {
	g.squares.lay(w, h)
	g.joins.lay(w, h)
}

// clear makes the sheet whole again.
func (g *waste) clear() {
	g.squares.clear()
	g.joins.clear()
	g.done = [3]int{}
}

// mark remembers what is left of the sheet, and back goes back to it.
func (g *waste) mark() {
	g.markTaken, g.markJoins = append(g.markTaken[:0], g.taken...), append(g.markJoins[:0], g.joins.taken...)
	g.markDone = g.done
}

func (g *waste) back() {
	copy(g.taken, g.markTaken)
	copy(g.joins.taken, g.markJoins)
	g.done = g.markDone
}

// chordShare is how far the chords of an arc may lie off it, in squares.
const chordShare = 0.1

// cut takes away what a disc of radius r meets along a curve, but where the
// cutter is lifted: nearer than lift to a tab. It is done once the disc is at rest.
func (g *waste) cut(c geom.Curve, r float64, tabs []Tab, lift float64) {
	n := c.Chords(chordShare * g.cell)
	path := c.Path()
	b := path.At(0)
	for k := range n {
		var a geom.Point
		a, b = b, path.At(float64(k+1)/float64(n))
		from := 0.0
		for _, s := range liftedOver(a, b, tabs, lift) {
			if s.from > from {
				g.sweep(a.Lerp(b, from), a.Lerp(b, s.from), r)
			}
			from = max(from, s.to)
		}
		if from < 1 {
			g.sweep(a.Lerp(b, from), b, r)
		}
	}
}

// share is a stretch of a line, in shares of its length.
type share struct{ from, to float64 }

// liftedOver returns where a line lies nearer than lift to a tab, in order.
func liftedOver(a, b geom.Point, tabs []Tab, lift float64) []share {
	var out []share
	along := b.Sub(a)
	square := along.Dot(along)
	for _, t := range tabs {
		to := t.At.Sub(a)
		if square == 0 {
			if to.Len() < lift {
				out = append(out, share{0, 1})
			}
			continue
		}
		foot := to.Dot(along) / square
		off := to.Cross(along)
		half := lift*lift/square - off*off/(square*square)
		if half <= 0 {
			continue
		}
		half = math.Sqrt(half)
		if foot+half > 0 && foot-half < 1 {
			out = append(out, share{foot - half, foot + half})
		}
	}
	slices.SortFunc(out, func(p, q share) int { return cmp.Compare(p.from, q.from) })
	return out
}

// looseWaste returns a problem where cuts free waste between them that nothing
// holds: a loose piece is thrown by the cutter.
func (p *sheetPlan) looseWaste(loose []loosePiece) problem.List {
	if len(loose) == 0 {
		return nil
	}
	u, at := p.Unit, loose[0].at
	size := u.Format(math.Sqrt(loose[0].area))
	for i, part := range p.Parts { // one by itself may free it where it is hollow
		if b := part.Outline.Bounds().Grow(p.CutterDiameter); b.Min.X > at.X || at.X > b.Max.X || b.Min.Y > at.Y || at.Y > b.Max.Y {
			continue
		}
		if alone := p.loosePieces(i, broad); len(alone) > 0 {
			return problem.List{{Key: "cutter.diameter", Got: u.Format(p.CutterDiameter),
				Why:   fmt.Sprintf("the cutter would free a piece of the sheet, some %s by %s, in a hollow of %s at %s: it takes all of the mouth", size, size, part.Name, place(u, alone[0].at)),
				Would: p.thinner(part)}}
		}
	}
	return problem.List{{Key: "sheet.spacing",
		Why:   fmt.Sprintf("the cuts would free a piece of the sheet, some %s by %s, at %s", size, size, place(u, at)),
		Would: fmt.Sprintf("spacing = %q", u.Format(u.Ceil(TabSpacing(p.CutterDiameter))))}}
}

// leastCutter is the thinnest cutter that is offered, mm.
const leastCutter = 0.5

// thinner returns a cutter that cuts all of a part and leaves no loose piece in its
// hollows, as advice; "" where none does. It is looked for once on a sheet, which
// takes as long as several plans.
func (p *sheetPlan) thinner(part toolpath.Part) string {
	const step = 0.75
	if p.asked {
		return ""
	}
	p.asked = true
	for d := p.CutterDiameter * step; d >= leastCutter; d *= step {
		j := p.SheetJob
		j.Parts, j.CutterDiameter = []toolpath.Part{part}, max(leastCutter, p.Unit.Below(d))
		if _, _, err := Sheet(j); err == nil {
			return fmt.Sprintf("diameter = %q", p.Unit.FormatExact(j.CutterDiameter))
		}
	}
	return ""
}

// loosePiece is a piece of waste that nothing holds.
type loosePiece struct {
	at   geom.Point // a place in it
	box  geom.Box   // round all of it
	area float64
	// wood is places all along a piece so narrow that the squares show it in crumbs or
	// not at all; nil where they show it whole.
	wood []geom.Point
}

// bridges says which bridges hold a piece of waste.
type bridges int

const (
	// broad ones alone: a bridge thinner than a square holds nothing. Slivers are
	// lost to sight with it.
	broad bridges = iota
	// anyhow: whatever stands holds.
	anyhow
)

// loosePieces returns the pieces of waste that nothing holds, slugs among them.
func (p *sheetPlan) loosePieces(only int, by bridges) (out []loosePiece) {
	// On a sheet so large for its cutter that the squares are wider than the cut,
	// they tell nothing; the back-plot looks at the waste then.
	if math.Sqrt(p.SheetW*p.SheetH/mostSquares) > p.r {
		return nil
	}
	g := p.wasteLeft(only, by)
	// What is no part: the largest of it is the sheet, which is held. A part that
	// no tabs hold may well be larger.
	waste := slices.DeleteFunc(g.pieces(), func(h hung) bool {
		area := float64(h.squares) * g.cell * g.cell
		if by == broad || p.Tabs.Count == 0 { // thin bridges do hold a part with its waste, and without tabs none hangs on it
			area = 0
		}
		return p.inPart(g.somewhere(h), area)
	})
	largest := 0
	for k := range waste {
		if waste[k].squares > waste[largest].squares {
			largest = k
		}
	}
	var crumbs []loosePiece
	for k, one := range waste {
		if k == largest {
			continue
		}
		l := loosePiece{at: g.somewhere(one), area: float64(one.squares) * g.cell * g.cell}
		// The cuts may have been taken wider than they are, by half a square.
		l.box = geom.Box{Min: geom.Pt(float64(one.from), float64(one.y)).Mul(g.cell), Max: geom.Pt(float64(one.to), float64(one.top+1)).Mul(g.cell)}.Grow(g.cell)
		if l.area < looseLeast {
			crumbs = append(crumbs, l)
		} else {
			out = append(out, l)
		}
	}
	if by == broad { // which loses splinters anyway
		return out
	}
	return append(out, splinters(append(crumbs, p.unseen(g, crumbs)...))...)
}

// inPart reports whether a piece, of which a place and the area are given, is a part
// and no more; where no tabs hold the parts, its cut-outs with it. A part whose tabs
// all hold on to loose waste comes loose with it.
func (p *sheetPlan) inPart(at geom.Point, area float64) bool {
	if p.boxes == nil {
		p.boxes = make([]geom.Box, len(p.Parts))
		for i := range p.Parts {
			p.boxes[i] = p.Parts[i].Outline.Bounds()
		}
	}
	for i, b := range p.boxes {
		part := &p.Parts[i]
		if b.Min.X > at.X || at.X > b.Max.X || b.Min.Y > at.Y || at.Y > b.Max.Y || !part.Outline.Contains(at) {
			continue
		}
		own := math.Abs(part.Outline.Area())
		if p.Tabs.Count > 0 {
			if slices.ContainsFunc(part.Holes, func(h geom.Contour) bool { return h.Contains(at) }) {
				continue
			}
			for _, h := range part.Holes {
				own -= math.Abs(h.Area())
			}
		}
		return area <= own+looseLeast
	}
	return false
}
