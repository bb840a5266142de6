package planner

import (
	"fmt"
	"math"

	"starwright/geom"
)

const (
	// stripPasses is how many passes beside each other mill a piece of waste away at
	// most. More than that is too much wood for chips: the parts are laid out anew.
	stripPasses = 4

	// stripStep is how far apart they lie at most, in cutter diameters.
	stripStep = 0.9
)

// strip is the cut that mills a long piece of waste away, or a row of pieces, by
// straight passes along it; false where a part, screw or tab is in reach of it.
// Between parts that lie close to each other waste is such a strip.
func (p *sheetPlan) strip(g *waste, pieces ...loosePiece) (op operation, ok bool) {
	var squares []geom.Point
	for _, l := range pieces {
		if l.wood != nil {
			squares = append(squares, l.wood...)
		} else {
			squares = append(squares, g.squaresOf(l)...)
		}
	}
	lines := stripLines(squares, g.cell, p.r)
	if len(lines) == 0 {
		return op, false
	}
	op = operation{Cut: Cut{Kind: CutHole}, part: -1, edge: -1,
		label: fmt.Sprintf("strip of waste at %s, which would come loose", place(p.Unit, lines[0].At(0.5)))}
	var tracks []track
	for _, c := range lines {
		if p.roomAlong(c) < p.r || p.strays(c) {
			return op, false
		}
		c = p.lengthened(p.lengthened(c).Reversed())
		way := geom.Contour{{Point: c.A}, {Point: c.B}}
		op.Way, tracks = append(op.Way, way), append(tracks, newTrack(way.Curves(), true))
	}
	return op, p.oneByOne(&op, tracks)
}

// lengthened returns a line that goes on behind its end, as far as it lies between parts
// that are close to each other: a strip that becomes ever thinner there does so unseen,
// for no middle of a square lies in it.
func (p *sheetPlan) lengthened(c geom.Curve) geom.Curve {
	const most = 64.0 // mm
	ahead, more := c.B.Sub(c.A).Unit(), 0.0
	for more+p.r <= most {
		far := p.fromOutlines(c.B.Add(ahead.Mul(more + p.r)))
		if far < p.r+chipApart || far > 3*p.r { // a strip's middle lies a cutter's diameter from both parts
			break
		}
		more += p.r
	}
	for ; more >= p.r; more /= 2 { // a tab or screw may stand there
		if longer := (geom.Curve{A: c.A, B: c.B.Add(ahead.Mul(more))}); p.roomAlong(longer) >= p.r {
			return longer
		}
	}
	return c
}

// strays reports whether a line leads away from the parts, where the sheet is to hold: it
// would be no strip of waste between them.
func (p *sheetPlan) strays(c geom.Curve) bool {
	const most = 2.4 // cutter diameters; the middle of four passes lies 2.35 from an outline
	for n, k := math.Ceil(c.Length()/p.r), 0.0; k <= n; k++ {
		if p.fromOutlines(c.At(k/n)) > most*p.CutterDiameter {
			return true
		}
	}
	return false
}

// fromOutlines is how far a place lies from the nearest outline.
func (p *sheetPlan) fromOutlines(q geom.Point) float64 {
	far := math.Inf(1)
	for i := range p.Parts {
		far = min(far, p.Parts[i].Outline.DistTo(q))
	}
	return far
}

// stripLines returns the lines along which a cutter takes all of a piece, given by
// the middles of its squares; none where that takes too many. They lie in the
// direction in which the piece is longest, that of its greatest second moment.
func stripLines(squares []geom.Point, cell, r float64) []geom.Curve {
	if len(squares) == 0 {
		return nil
	}
	var mid geom.Point
	for _, q := range squares {
		mid = mid.Add(q)
	}
	mid = mid.Mul(1 / float64(len(squares)))
	var xx, yy, xy float64
	for _, q := range squares {
		d := q.Sub(mid)
		xx, yy, xy = xx+d.X*d.X, yy+d.Y*d.Y, xy+d.X*d.Y
	}
	along := geom.Polar(1, geom.Angle(math.Atan2(2*xy, xx-yy)/2))
	across := along.Left()
	own := make([]geom.Point, len(squares)) // X along the piece, Y across it
	low, high := math.Inf(1), math.Inf(-1)
	for i, q := range squares {
		d := q.Sub(mid)
		own[i] = geom.Pt(d.Dot(along), d.Dot(across))
		low, high = min(low, own[i].Y), max(high, own[i].Y)
	}
	low, high = low-cell/2, high+cell/2
	n := math.Ceil((high - low) / (2 * r * stripStep))
	if n > stripPasses {
		return nil
	}
	var out []geom.Curve
	each := (high - low) / n
	for k := range int(n) {
		from, to := low+float64(k)*each, low+float64(k+1)*each
		if a, b, ok := stretchIn(own, from, to, r); ok {
			off := across.Mul((from + to) / 2)
			out = append(out, geom.Curve{A: mid.Add(along.Mul(a)).Add(off), B: mid.Add(along.Mul(b)).Add(off)})
		}
	}
	return out
}

// stretchIn returns from where to where a cutter in the middle of a band takes the
// squares in it: shorter than they reach by what its round takes at either end.
func stretchIn(squares []geom.Point, low, high, r float64) (from, to float64, any bool) {
	from, to = math.Inf(1), math.Inf(-1)
	for _, q := range squares {
		if q.Y >= low && q.Y <= high {
			from, to = min(from, q.X), max(to, q.X)
		}
	}
	half := (high - low) / 2
	round := math.Sqrt(max(0, r*r-half*half))
	if from, to = from+round, to-round; to-from < r {
		more := (r - (to - from)) / 2 // a way, however short
		from, to = from-more, to+more
	}
	return from, to, !math.IsInf(from, 0)
}

// toAndFro reports whether a way is one line, there and back.
func (c contourCut) toAndFro() bool {
	return len(c.curves) == 2 && !c.curves[0].IsArc() && !c.curves[1].IsArc()
}

// roomAlong is how far a cut along a line may reach to either side.
func (p *sheetPlan) roomAlong(c geom.Curve) float64 {
	return p.roomBeside(c.A, func(o geom.Contour) float64 {
		d := math.Inf(1)
		for _, e := range o.Curves() {
			d = min(d, geom.CurveDist(c, e))
		}
		return d
	}, c.DistTo)
}

// squaresOf returns the middles of the squares of a piece.
func (g *waste) squaresOf(l loosePiece) (out []geom.Point) {
	left, low := int(l.box.Min.X/g.cell), int(l.box.Min.Y/g.cell)
	wide, high := int(l.box.Max.X/g.cell)-left+1, int(l.box.Max.Y/g.cell)-low+1
	seen := make([]bool, wide*high)
	next := [][2]int{{int(l.at.X/g.cell) - left, int(l.at.Y/g.cell) - low}}
	for len(next) > 0 {
		x, y := next[len(next)-1][0], next[len(next)-1][1]
		next = next[:len(next)-1]
		if x < 0 || y < 0 || x >= wide || y >= high || seen[y*wide+x] || !g.stands(left+x, low+y) {
			continue
		}
		seen[y*wide+x] = true
		out = append(out, g.middle(left+x, low+y))
		next = append(next, [2]int{x - 1, y}, [2]int{x + 1, y}, [2]int{x, y - 1}, [2]int{x, y + 1})
	}
	return out
}
