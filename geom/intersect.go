package geom

import (
	"cmp"
	"math"
	"slices"
)

// meetTol is the distance in mm within which two curves count as meeting. It
// is far above the rounding of float64 for coordinates up to ten metres and a
// ten-thousandth of what any cutter or laser can place.
const meetTol = 1e-7

// Intersections returns the points that two curves have in common, in order
// along a. Ends that touch the other curve count; so does a point of tangency,
// once. Where the curves run along each other, the two ends of the shared
// piece stand for it: [Overlap] tells that case from two crossings. Every point
// returned lies within 1e-7 mm of both curves.
func Intersections(a, b Curve) []Point {
	if !a.Bounds().Grow(meetTol).Overlaps(b.Bounds()) {
		return nil
	}
	var few [6]Point // all that there can be; most pairs have none or one
	out := few[:0]
	for _, e := range [4]Point{a.A, a.B, b.A, b.B} {
		if a.DistTo(e) <= meetTol && b.DistTo(e) <= meetTol && !near(out, e) {
			out = append(out, e)
		}
	}
	ends := len(out)
	var room [2]Point
	for _, p := range carrierMeets(room[:0], a, b) {
		if a.DistTo(p) <= meetTol && b.DistTo(p) <= meetTol && !near(out, p) && !together(a, b, out[:ends], p) {
			out = append(out, p)
		}
	}
	if len(out) > 1 {
		slices.SortStableFunc(out, func(p, q Point) int { return cmp.Compare(a.Param(p), a.Param(q)) })
	}
	if len(out) == 0 {
		return nil
	}
	return slices.Clone(out)
}

// Overlap returns the length in mm along which two curves run on each other:
// 0 where they only cross or touch.
func Overlap(a, b Curve) float64 {
	pts := Intersections(a, b)
	sum := 0.0
	for i := 1; i < len(pts); i++ {
		p := a.Part(a.Param(pts[i-1]), a.Param(pts[i]))
		if b.DistTo(p.At(0.5)) <= meetTol {
			sum += p.Length()
		}
	}
	return sum
}

// CurveDist returns the least distance in mm between two curves, 0 where they
// meet. It is exact up to rounding: every pair of points at which the distance
// can be least is tried.
func CurveDist(a, b Curve) float64 {
	d := 0.0
	switch {
	case !a.IsArc() && !b.IsArc():
		d = segmentDist(a, b)
	case a.IsArc() && b.IsArc() && !a.flat() && !b.flat():
		d = arcDist(a, b)
	default:
		return mixedDist(a, b)
	}
	if d <= 2*meetTol { // a point within meetTol of both
		return 0
	}
	return d
}

// mixedDist is [CurveDist] of an arc and a straight piece, or of arcs so flat
// that their centres tell nothing.
func mixedDist(a, b Curve) float64 {
	if len(Intersections(a, b)) > 0 {
		return 0
	}
	d := math.Min(math.Min(a.DistTo(b.A), a.DistTo(b.B)), math.Min(b.DistTo(a.A), b.DistTo(a.B)))
	try := func(p Point) {
		// Any pair of points, one on each curve, bounds the distance.
		d = math.Min(d, a.DistTo(b.Nearest(a.Nearest(p))))
		d = math.Min(d, b.DistTo(a.Nearest(b.Nearest(p))))
	}
	// Between inner points the least distance lies on a common normal: the
	// line of the centres, or the perpendicular from a centre to a line.
	switch {
	case a.IsArc() && b.IsArc():
		oa, ob := a.Center(), b.Center()
		v := ob.Sub(oa).Unit()
		for _, s := range [2]float64{1, -1} {
			try(oa.Add(v.Mul(s * a.Radius())))
			try(ob.Add(v.Mul(s * b.Radius())))
		}
	case a.IsArc():
		try(b.Nearest(a.Center()))
	case b.IsArc():
		try(a.Nearest(b.Center()))
	}
	return d
}

// segmentDist is [CurveDist] of two straight pieces: 0 where they cross, else
// the least distance from an end to the other piece.
func segmentDist(a, b Curve) float64 {
	u, v := a.B.Sub(a.A), b.B.Sub(b.A)
	if u.Cross(b.A.Sub(a.A)) < 0 != (u.Cross(b.B.Sub(a.A)) < 0) &&
		v.Cross(a.A.Sub(b.A)) < 0 != (v.Cross(a.B.Sub(b.A)) < 0) && u.Cross(v) != 0 {
		return 0
	}
	return min(a.DistTo(b.A), a.DistTo(b.B), b.DistTo(a.A), b.DistTo(a.B))
}

// arcDist is [CurveDist] of two arcs that are not flat. Between inner points the
// least distance lies on the line of the centres, else at an end.
func arcDist(a, b Curve) float64 {
	oa, ob, ra, rb := a.Center(), b.Center(), a.Radius(), b.Radius()
	d := min(a.DistTo(b.A), a.DistTo(b.B), b.DistTo(a.A), b.DistTo(a.B))
	between := ob.Sub(oa)
	apart := between.Len()
	if apart > meetTol { // arcs about one centre are nearest at an end, too
		v := between.Mul(1 / apart)
		for _, s := range [2]float64{1, -1} {
			p := oa.Add(v.Mul(s * ra))
			if !a.holds(p) {
				continue
			}
			for _, t := range [2]float64{1, -1} {
				if q := ob.Add(v.Mul(t * rb)); b.holds(q) {
					d = min(d, p.Dist(q))
				}
			}
		}
		// Where the circles cross: along the line of the centres, then off it.
		along := (apart*apart + ra*ra - rb*rb) / (2 * apart)
		if h2 := ra*ra - along*along; h2 > 0 {
			foot, off := oa.Add(v.Mul(along)), v.Left().Mul(math.Sqrt(h2))
			for _, p := range [2]Point{foot.Add(off), foot.Sub(off)} {
				if a.holds(p) && b.holds(p) {
					return 0
				}
			}
		}
	}
	return d
}

// carrierMeets returns, in the memory of room, where the whole lines or circles of
// the two curves meet: at most two points, one where they are tangent within
// meetTol, none where they are parallel or the same.
func carrierMeets(room []Point, a, b Curve) []Point {
	ka, kb := carrierOf(a, a.A), carrierOf(b, a.A)
	if !ka.span || !kb.span {
		return nil
	}
	line, other := ka, kb
	switch {
	case ka.q == 0:
	case kb.q == 0:
		line, other = kb, ka
	default:
		// The line through the common points of two circles: the
		// combination of their equations from which |P|² drops out.
		n := ka.u.Mul(kb.q).Sub(kb.u.Mul(ka.q))
		l := math.Hypot(n.X, n.Y)             // of very flat arcs the square would be too small
		if l <= meetTol*math.Abs(ka.q*kb.q) { // centres less than meetTol/2 apart
			return nil
		}
		line = carrier{o: ka.o, u: n.Mul(1 / l), w: (ka.w*kb.q - kb.w*ka.q) / l, span: true}
		if math.Abs(ka.q) > math.Abs(kb.q) {
			other = ka // the rounder of the two; a very flat one hardly leaves the line
		}
	}
	pts := lineMeets(room, line, other)
	for i := range pts {
		pts[i] = polish(pts[i], ka, kb)
	}
	return pts
}

// lineMeets returns, in the memory of room, where a straight carrier meets another of
// the same origin.
func lineMeets(room []Point, line, k carrier) []Point {
	foot, dir := line.u.Mul(-line.w), line.u.Left()
	// Along foot + t·dir, f is A t² + 2B t + C.
	qa := k.q
	qb := k.q*foot.Dot(dir) + k.u.Dot(dir)/2
	qc := k.q*foot.Dot(foot) + k.u.Dot(foot) + k.w
	at := func(t float64) Point { return line.o.Add(foot).Add(dir.Mul(t)) }
	const parallel = 1e-13 // half a sine; such lines part by under meetTol in a kilometre
	if qa == 0 {
		if math.Abs(qb) < parallel {
			return nil
		}
		return append(room, at(-qc/(2*qb)))
	}
	// Nearest to the circle's centre, f is least: C - B²/A. Where that is
	// within meetTol of zero the line is tangent.
	const tooFar = 1e9 // mm; a tangent point farther off is only rounding
	if math.Abs(qc-qb*qb/qa) <= meetTol && math.Abs(qb/qa) < tooFar {
		return append(room, at(-qb/qa))
	}
	disc := qb*qb - qa*qc
	if math.IsNaN(disc) {
		return nil
	}
	if disc < 0 {
		// They miss each other; the nearest approach may still be a touch.
		p := at(-qb / qa)
		off, g := k.offset(p)
		return append(room, p.Sub(g.Unit().Mul(off)))
	}
	// The root without cancellation first, the other from their product.
	s := -(qb + math.Copysign(math.Sqrt(disc), qb))
	return append(room, at(qc/s), at(s/qa))
}

// polish takes one step of Newton's method towards the common point of two
// carriers, where they cross at an angle that makes this safe.
func polish(p Point, a, b carrier) Point {
	fa, ga := a.value(p)
	fb, gb := b.value(p)
	det := ga.Cross(gb)
	const safe = 1e-3 // sine of the crossing angle
	if math.Abs(det) < safe*ga.Len()*gb.Len() || det == 0 {
		return p
	}
	return p.Add(Pt(fb*ga.Y-fa*gb.Y, fa*gb.X-fb*ga.X).Mul(1 / det))
}

// near reports whether one of pts is p within the rounding of a meeting.
func near(pts []Point, p Point) bool {
	for _, q := range pts {
		if q.Dist(p) <= 2*meetTol {
			return true
		}
	}
	return false
}

// together reports whether p belongs to a touch that an end already stands
// for: half way between the two the curves have not parted yet.
func together(a, b Curve, ends []Point, p Point) bool {
	for _, e := range ends {
		m := e.Lerp(p, 0.5)
		if b.DistTo(a.Nearest(m)) <= meetTol && a.DistTo(b.Nearest(m)) <= meetTol {
			return true
		}
	}
	return false
}
