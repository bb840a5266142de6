package jig

import (
	"cmp"
	"math"
	"slices"

	"starwright/geom"
)

// touch is the distance in mm within which work counts as lying against wood
// and not in it: far above rounding, far below what can be cut.
const touch = geom.Touch

// SeatTest lays the work in its seat in the wood within material, less the
// holes. It returns how deep the work and the wood reach into each other, mm,
// and how much play the work has along the seat's edges, square to them: the
// widest gap where the seat is open (Play 0), twice the widest gap where the
// work lies in the middle of its play.
//
// Whether there is overlap at all is exact: outlines are cut where they meet
// and every piece is asked. Its depth is taken at the corners, the ends and
// sixteen places of each piece.
func SeatTest(material geom.Contour, holes []geom.Contour, s Seat) (overlapMM, playMM float64) {
	wood := region{outer: material, holes: holes}
	work := region{outer: s.Work}
	for _, e := range work.curves() {
		overlapMM = math.Max(overlapMM, depth(e, wood, work))
	}
	for _, e := range wood.curves() {
		overlapMM = math.Max(overlapMM, depth(e, work, wood))
	}
	gap := 0.0
	for _, e := range s.Edges {
		for i := 0; i <= 8; i++ {
			gap = math.Max(gap, s.Work.DistTo(e.At(float64(i)/8)))
		}
	}
	if s.Play > 0 {
		gap *= 2
	}
	return overlapMM, gap
}

// region is the inside of a contour less its holes.
type region struct {
	outer geom.Contour
	holes []geom.Contour
}

func (r region) curves() []geom.Curve {
	out := r.outer.Curves()
	for _, h := range r.holes {
		out = append(out, h.Curves()...)
	}
	return out
}

func (r region) contains(p geom.Point) bool {
	if !r.outer.Contains(p) {
		return false
	}
	for _, h := range r.holes {
		if h.Contains(p) {
			return false
		}
	}
	return true
}

func (r region) distTo(p geom.Point) float64 {
	d := r.outer.DistTo(p)
	for _, h := range r.holes {
		d = math.Min(d, h.DistTo(p))
	}
	return d
}

// depth returns how deep a curve of the edge of own lies within other.
func depth(e geom.Curve, other, own region) float64 {
	cuts := []float64{0, 1}
	for _, f := range other.curves() {
		for _, p := range geom.Intersections(e, f) {
			cuts = append(cuts, e.Param(p))
		}
	}
	slices.SortFunc(cuts, cmp.Compare)
	deepest := 0.0
	at := func(p geom.Point, limit float64) {
		if other.contains(p) {
			deepest = math.Max(deepest, math.Min(limit, other.distTo(p)))
		}
	}
	for i := 1; i < len(cuts); i++ {
		t, u := cuts[i-1], cuts[i]
		if (u-t)*e.Length() < touch {
			continue
		}
		const parts = 16
		for k := 0; k <= parts; k++ {
			at(e.At(t+(u-t)*float64(k)/parts), math.Inf(1))
		}
		// Where the two edges run together, the regions may still lie on the
		// same side: ask beside the curve.
		m := e.Part(t, u)
		for _, side := range [2]float64{1, -1} {
			const beside = 1e-3 // mm
			p := m.At(0.5).Add(tangent(m, false).Unit().Left().Mul(side * beside))
			if m.IsArc() {
				p = m.At(0.5).Add(m.Center().Sub(m.At(0.5)).Unit().Mul(side * beside))
			}
			if own.contains(p) {
				at(p, own.distTo(p))
			}
		}
	}
	if deepest < touch {
		return 0
	}
	return deepest
}

// against returns the straight pieces of the jig's contours along which the
// work lies, in the contours' order.
func against(work geom.Contour, contours ...geom.Contour) []geom.Curve {
	var out []geom.Curve
	for _, c := range contours {
		for _, e := range c.Curves() {
			if e.IsArc() {
				continue
			}
			for _, w := range work.Curves() {
				if !w.IsArc() {
					out = append(out, shared(e, w)...)
				}
			}
		}
	}
	return out
}

// shared returns the piece that two straight curves have in common, in the
// direction of the first, none where it is shorter than a seat.
func shared(e, w geom.Curve) []geom.Curve {
	if geom.Overlap(e, w) < minSeat {
		return nil
	}
	pts := geom.Intersections(e, w)
	return []geom.Curve{{A: pts[0], B: pts[len(pts)-1]}}
}

// minSeat is the shortest piece that counts as a seat, mm.
const minSeat = 0.5
