package planner

import (
	"bytes"
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
	cell float64
	w, h int
	gone []byte // stands or taken: bytes, which the library searches many at a time
}

// What a square is.
const (
	stands = 0
	taken  = 1
)

// newWaste cuts all that is planned, or for one part alone where only is not
// below 0. Cuts count as half a square wider than they are: what a thin bridge
// holds is not held.
func (p *sheetPlan) newWaste(only int) *waste {
	g := &waste{cell: math.Min(1, p.r/2)}
	if p.Tabs.Count > 0 {
		g.cell = math.Min(g.cell, p.Tabs.Width/4)
	}
	g.cell = math.Max(g.cell, math.Sqrt(p.SheetW*p.SheetH/mostSquares))
	g.w, g.h = int(math.Ceil(p.SheetW/g.cell)), int(math.Ceil(p.SheetH/g.cell))
	g.gone = make([]byte, g.w*g.h)
	lift := p.Tabs.lift(p.r) / 2
	for _, ops := range p.ops {
		for i := range ops {
			if only >= 0 && ops[i].part != only {
				continue
			}
			for _, way := range ops[i].Way {
				g.cut(way.Curves(), p.r+g.cell/2, func(at geom.Point) bool {
					for _, t := range ops[i].tabs {
						if t.At.Dist(at) < lift {
							return true
						}
					}
					return false
				})
			}
		}
	}
	return g
}

// cut takes away what a disc of radius r meets along a way, but where the
// cutter is lifted. It is set down every half radius, which leaves cusps of a
// thirtieth of the radius.
func (g *waste) cut(way []geom.Curve, r float64, lifted func(geom.Point) bool) {
	for _, c := range way {
		n := int(2*c.Length()/r) + 1
		for k := range n {
			if o := c.At(float64(k) / float64(n)); !lifted(o) {
				g.disc(o, r)
			}
		}
	}
}

// disc takes away what lies within r of a place.
func (g *waste) disc(o geom.Point, r float64) {
	for y := max(0, int((o.Y-r)/g.cell)); y <= min(g.h-1, int((o.Y+r)/g.cell)); y++ {
		dy := (float64(y)+0.5)*g.cell - o.Y
		if dy*dy >= r*r {
			continue
		}
		half := math.Sqrt(r*r - dy*dy)
		from := max(0, int(math.Ceil((o.X-half)/g.cell-0.5)))
		// The squares whose middles lie within; the division may be off by one.
		to := min(g.w, max(from, int((o.X+half)/g.cell)))
		for to < g.w && (float64(to)+0.5)*g.cell <= o.X+half {
			to++
		}
		for to > from && (float64(to)-0.5)*g.cell > o.X+half {
			to--
		}
		if from >= to {
			continue
		}
		row := g.gone[y*g.w+from : y*g.w+to]
		for i := range row {
			row[i] = taken
		}
	}
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
		if alone := p.loosePieces(i); len(alone) > 0 {
			return problem.List{{Key: "cutter.diameter", Got: u.Format(p.CutterDiameter),
				Why:   fmt.Sprintf("in a hollow of %s a piece of the sheet of some %s by %s would come loose at %s, the cutter takes all of the mouth", part.Name, size, size, place(u, alone[0].at)),
				Would: p.thinner(part)}}
		}
	}
	return problem.List{{Key: "sheet.spacing",
		Why:   fmt.Sprintf("between the cuts a piece of the sheet of some %s by %s would come loose at %s", size, size, place(u, at)),
		Would: fmt.Sprintf("spacing = %q", u.Format(u.Ceil(TabSpacing(p.CutterDiameter))))}}
}

// thinner returns a cutter that leaves no loose piece in a part's hollows, as
// advice.
func (p *sheetPlan) thinner(part toolpath.Part) string {
	const step, least = 0.85, 0.5
	for d := p.CutterDiameter * step; d >= least; d *= step {
		j := p.SheetJob
		j.Parts, j.CutterDiameter = []toolpath.Part{part}, p.Unit.Floor(d)
		if _, _, err := Sheet(j); err == nil {
			return fmt.Sprintf("diameter = %q", p.Unit.Format(j.CutterDiameter))
		}
	}
	return "a wider mouth"
}

// loosePiece is a piece of waste that nothing holds.
type loosePiece struct {
	at   geom.Point // a place in it
	box  geom.Box   // round all of it
	area float64
}

// loosePieces returns the pieces of waste that nothing holds, slugs among them.
func (p *sheetPlan) loosePieces(only int) (out []loosePiece) {
	// On a sheet so large for its cutter that the squares are wider than the cut,
	// they tell nothing; the back-plot looks at the waste then.
	if math.Sqrt(p.SheetW*p.SheetH/mostSquares) > p.r {
		return nil
	}
	g := p.newWaste(only)
	pieces := g.pieces()
	largest := 0
	for k := range pieces {
		if pieces[k].squares > pieces[largest].squares {
			largest = k
		}
	}
	for k, one := range pieces {
		l := loosePiece{at: geom.Pt((float64(one.x)+0.5)*g.cell, (float64(one.y)+0.5)*g.cell), area: float64(one.squares) * g.cell * g.cell}
		if k == largest || l.area < looseLeast || p.inPart(l.at) {
			continue
		}
		// The cuts were taken wider than they are, by half a square.
		l.box = geom.Box{Min: geom.Pt(float64(one.from), float64(one.y)).Mul(g.cell), Max: geom.Pt(float64(one.to), float64(one.top+1)).Mul(g.cell)}.Grow(g.cell)
		out = append(out, l)
	}
	return out
}

// run is a row's stretch of squares that stand, and the number of its piece.
type run struct{ from, to, number int }

// hung is what hangs together: how many squares, one of them, and from where to
// where they reach.
type hung struct{ squares, x, y, from, to, top int }

// pieces finds what hangs together, row by row.
func (g *waste) pieces() []hung {
	var parent []int
	find := func(i int) int {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	var all []hung
	var row, last []run
	for y := range g.h {
		row, last = last[:0], row
		gone := g.gone[y*g.w : (y+1)*g.w]
		for x := 0; x < g.w; {
			skip := bytes.IndexByte(gone[x:], stands)
			if skip < 0 {
				break
			}
			x += skip
			from := x
			if n := bytes.IndexByte(gone[x:], taken); n >= 0 {
				x += n
			} else {
				x = g.w
			}
			row = append(row, run{from, x, len(parent)})
			parent, all = append(parent, len(parent)), append(all, hung{x - from, from, y, from, x, y})
		}
		for i, k := 0, 0; i < len(row) && k < len(last); {
			if a, b := find(row[i].number), find(last[k].number); a != b && row[i].from < last[k].to && last[k].from < row[i].to {
				parent[max(a, b)] = min(a, b)
			}
			if row[i].to < last[k].to {
				i++
			} else {
				k++
			}
		}
	}
	for i := len(all) - 1; i >= 0; i-- { // a parent's number is the lower one
		if p := parent[i]; p != i {
			a, b := &all[p], all[i]
			a.squares, a.from, a.to, a.top = a.squares+b.squares, min(a.from, b.from), max(a.to, b.to), max(a.top, b.top)
		}
	}
	out := all[:0]
	for i, one := range all {
		if parent[i] == i {
			out = append(out, one)
		}
	}
	return out
}

// inPart reports whether a place lies in a part; where no tabs hold the parts,
// its cut-outs with it.
func (p *sheetPlan) inPart(at geom.Point) bool {
	if p.boxes == nil {
		p.boxes = make([]geom.Box, len(p.Parts))
		for i := range p.Parts {
			p.boxes[i] = p.Parts[i].Outline.Bounds()
		}
	}
	for i, b := range p.boxes {
		if b.Min.X <= at.X && at.X <= b.Max.X && b.Min.Y <= at.Y && at.Y <= b.Max.Y && p.Parts[i].Outline.Contains(at) &&
			(p.Tabs.Count == 0 || !slices.ContainsFunc(p.Parts[i].Holes, func(h geom.Contour) bool { return h.Contains(at) })) {
			return true
		}
	}
	return false
}
