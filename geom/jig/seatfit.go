package jig

import (
	"cmp"
	"math"
	"slices"

	"starwright/geom"
)

// Contact is how near wood must be to work to hold it, mm: a tenth of a sheet
// of paper, far above what a drawing's rounding moves it.
const Contact = 0.01

// nearSeat is how far from a seat's edge a straight piece of the wood may run
// and still be that seat, mm; nearSeatTurn is by how much it may be turned.
const (
	nearSeat     = 2.0
	nearSeatTurn = 10 * geom.Degree
)

// Fit is how work lies in one seat of the wood as it is. Lengths are mm.
type Fit struct {
	Contact      float64 // length of wood that the work lies against, all edges
	Wanted       float64 // the same as the jig was meant
	Interference float64 // how deep wood and work reach into each other
	Gap          float64 // widest, square to the edges, from work to wood
}

// EdgeFit is one edge of a seat.
type EdgeFit struct {
	Edge    geom.Curve // as meant
	Contact float64    // mm
	Gap     float64    // mm
	Turn    geom.Angle // by how much the wood runs at another angle, never below 0
}

// SeatFit lays the work of a seat in wood that may differ from what was meant:
// within material, less the holes, as a cutter leaves it (see [AsCut]). Wood
// further than a few millimetres from where the seat should be holds nothing.
func SeatFit(material geom.Contour, holes []geom.Contour, s Seat) (Fit, []EdgeFit) {
	fit := Fit{}
	fit.Interference, _ = SeatTest(material, holes, s)
	wood := material.CCW().Curves()
	for _, h := range holes {
		wood = append(wood, h.CCW().Reversed().Curves()...)
	}
	edges := make([]EdgeFit, 0, len(s.Edges))
	for _, e := range s.Edges {
		f := edgeFit(facingWood(e, s), wood, s.Play/2)
		f.Edge = e
		fit.Contact += f.Contact
		fit.Wanted += e.Length()
		fit.Gap = math.Max(fit.Gap, f.Gap)
		edges = append(edges, f)
	}
	return fit, edges
}

// facingWood returns the edge in the direction that has the wood on its left
// and the work on its right.
func facingWood(e geom.Curve, s Seat) geom.Curve {
	const into = 0.2 // mm
	left := e.B.Sub(e.A).Unit().Left().Mul(s.Play/2 + into)
	if s.Work.Contains(e.At(0.5).Add(left)) {
		return e.Reversed()
	}
	return e
}

// edgeFit measures the wood along an edge that has the wood on its left; off is
// the gap between work and edge where all is as meant.
func edgeFit(e geom.Curve, wood []geom.Curve, off float64) EdgeFit {
	out := EdgeFit{Gap: off}
	l := e.Length()
	if l == 0 {
		return out
	}
	way := e.B.Sub(e.A).Mul(1 / l)
	var held, met []piece
	for _, f := range wood {
		p, ok := alongside(e, way, l, f)
		if !ok {
			continue
		}
		met = append(met, p)
		held = append(held, p.within(Contact)...)
		out.Gap = math.Max(out.Gap, off+math.Max(p.d0, p.d1))
		if p.to-p.from >= minSeat {
			out.Turn = max(out.Turn, p.turn)
		}
	}
	out.Contact = covered(held)
	for _, hole := range uncovered(met, l) { // no straight wood beside it at all
		q := e.A.Add(way.Mul((hole.from + hole.to) / 2))
		d := math.Inf(1)
		for _, f := range wood {
			d = math.Min(d, f.DistTo(q))
		}
		out.Gap = math.Max(out.Gap, off+d)
	}
	return out
}

// piece is a stretch of an edge with the wood's distance from it at both ends,
// positive away from the work.
type piece struct {
	from, to float64 // along the edge, mm
	d0, d1   float64
	turn     geom.Angle
}

// alongside returns the stretch of an edge beside which a piece of wood runs.
func alongside(e geom.Curve, way geom.Point, l float64, f geom.Curve) (piece, bool) {
	if f.IsArc() {
		return piece{}, false
	}
	d := f.B.Sub(f.A)
	turn := geom.Angle(math.Atan2(way.Cross(d), way.Dot(d)))
	if turn > nearSeatTurn || turn < -nearSeatTurn {
		return piece{}, false
	}
	a, b := f.A.Sub(e.A), f.B.Sub(e.A)
	from, to := a.Dot(way), b.Dot(way)
	if to-from < touch {
		return piece{}, false
	}
	at := func(x float64) float64 { // the wood's distance at a place along the edge
		return way.Cross(a) + (x-from)/(to-from)*(way.Cross(b)-way.Cross(a))
	}
	p := piece{from: math.Max(0, from), to: math.Min(l, to), turn: max(turn, -turn)}
	if p.to-p.from < touch {
		return piece{}, false
	}
	p.d0, p.d1 = at(p.from), at(p.to)
	return p, math.Min(math.Abs(p.d0), math.Abs(p.d1)) <= nearSeat
}

// within returns the part of a stretch on which the wood is no further off than
// tol, either way.
func (p piece) within(tol float64) []piece {
	lo, hi := 0.0, 1.0
	for _, side := range [2]float64{1, -1} {
		d0, d1 := side*p.d0-tol, side*p.d1-tol // must not exceed 0
		switch {
		case d0 > 0 && d1 > 0:
			return nil
		case d0 > 0:
			lo = math.Max(lo, d0/(d0-d1))
		case d1 > 0:
			hi = math.Min(hi, d0/(d0-d1))
		}
	}
	if lo >= hi {
		return nil
	}
	l := p.to - p.from
	return []piece{{from: p.from + lo*l, to: p.from + hi*l}}
}

// covered returns the length of the union of stretches.
func covered(ps []piece) float64 {
	sum, end := 0.0, math.Inf(-1)
	for _, p := range ordered(ps) {
		if from := math.Max(p.from, end); p.to > from {
			sum += p.to - from
			end = p.to
		}
	}
	return sum
}

// uncovered returns the stretches of 0 to l that none of the others covers and
// that are long enough to matter.
func uncovered(ps []piece, l float64) []piece {
	var out []piece
	end := 0.0
	for _, p := range append(ordered(ps), piece{from: l, to: l}) {
		if p.from > end+Contact {
			out = append(out, piece{from: end, to: p.from})
		}
		end = math.Max(end, p.to)
	}
	return out
}

func ordered(ps []piece) []piece {
	out := slices.Clone(ps)
	slices.SortStableFunc(out, func(a, b piece) int { return cmp.Compare(a.from, b.from) })
	return out
}

// AsCut returns what a cutter leaves of a contour that has its wood on the
// left: inside corners between straight pieces that are sharper than the
// cutter keep a fillet of its radius. Corners whose pieces are too short for
// one stay as they are.
func AsCut(c geom.Contour, cutter float64) geom.Contour {
	r, n := cutter/2, len(c)
	out := make(geom.Contour, 0, n)
	for i, v := range c {
		turn, straight := turnAt(c, i)
		if !straight || turn > -flatTurn || r <= 0 {
			out = append(out, v)
			continue
		}
		in, way := c[(i+n-1)%n].Sub(v.Point), c[(i+1)%n].Sub(v.Point)
		t := r * (-turn / 2).Tan() // from the corner to where the fillet begins
		if t >= in.Len() || t >= way.Len() {
			out = append(out, v)
			continue
		}
		out = append(out, geom.Vertex{Point: v.Add(in.Unit().Mul(t)), Bulge: (turn / 4).Tan()}, geom.Vertex{Point: v.Add(way.Unit().Mul(t))})
	}
	return out
}
