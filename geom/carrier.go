package geom

import "math"

// carrier is the whole line or circle that a curve is a piece of, written as
//
//	f(P) = q·|P-o|² + u·(P-o) + w = 0
//
// and scaled so that the gradient has length one along it. q is half the
// signed curvature, 0 for a line; f is positive to the right of the curve's
// direction. It is worked out from the two ends and the bulge and never from
// the centre, so that an arc of a radius of kilometres loses no digits.
type carrier struct {
	o    Point
	q    float64
	u    Point
	w    float64
	span bool // false where both ends fall together: there is no line
}

// carrierOf returns the carrier of c with its origin at o. The points of the
// circle see the chord A B under one angle (Euclid, Elements III.21), which
// reads 2b (P-A)·(P-B) - (1-b²) (B-A)×(P-A) = 0 with b the bulge.
func carrierOf(c Curve, o Point) carrier {
	a, b := c.A.Sub(o), c.B.Sub(o)
	d := b.Sub(a)
	l := d.Len()
	if l == 0 {
		return carrier{o: o}
	}
	k := 1 / (l * (1 + c.Bulge*c.Bulge))
	q, h := 2*c.Bulge*k, (1-c.Bulge*c.Bulge)*k
	return carrier{
		o:    o,
		q:    q,
		u:    d.Left().Mul(-h).Sub(a.Add(b).Mul(q)),
		w:    q*a.Dot(b) + h*d.Cross(a),
		span: true,
	}
}

// value returns f and its gradient at p.
func (k carrier) value(p Point) (float64, Point) {
	p = p.Sub(k.o)
	return k.q*p.Dot(p) + k.u.Dot(p) + k.w, p.Mul(2 * k.q).Add(k.u)
}

// offset returns the signed distance from the carrier to p, positive to the
// right of the curve's direction: the root δ of f = δ + q·δ².
func (k carrier) offset(p Point) (float64, Point) {
	f, g := k.value(p)
	return 2 * f / (1 + math.Sqrt(math.Max(0, 1+4*k.q*f))), g
}

// nearestFlat is [Curve.Nearest] for flat arcs, without the centre.
func (c Curve) nearestFlat(p Point) Point {
	// The arc turns by less than half a turn: p is in its sector where it
	// lies ahead of the tangent's start and behind the tangent's end.
	half := c.Sweep() / 2
	d := c.B.Sub(c.A)
	if p.Sub(c.A).Dot(turn(d, -half)) > 0 && p.Sub(c.B).Dot(turn(d, half)) < 0 {
		off, g := carrierOf(c, c.A).offset(p)
		if g == (Point{}) { // the centre itself, as near to A as to any other
			return c.A
		}
		return p.Sub(g.Unit().Mul(off))
	}
	if p.Dist(c.A) <= p.Dist(c.B) {
		return c.A
	}
	return c.B
}

// Param returns the part of the curve's length, in [0, 1], at which it passes
// nearest to p; [Curve.At] of it gives that nearest point.
func (c Curve) Param(p Point) float64 {
	d := c.B.Sub(c.A)
	if d == (Point{}) {
		return 0
	}
	n := c.Nearest(p)
	// Below this bulge the share of the chord differs from the share of the
	// arc by less than 1e-11, and the angles below would be mostly rounding.
	const chordWillDo = 1e-6
	if math.Abs(c.Bulge) < chordWillDo {
		return clamp01(n.Sub(c.A).Dot(d) / d.Dot(d))
	}
	// An arc is twice the angle under which it is seen from the circle
	// (Elements III.20); look from the end that is farther away.
	if n.Dist(c.A) < n.Dist(c.B) {
		v := n.Sub(c.B)
		return clamp01(2 * math.Abs(math.Atan2(d.Cross(v), -d.Dot(v))/float64(c.Sweep())))
	}
	v := n.Sub(c.A)
	return clamp01(1 - 2*math.Abs(math.Atan2(d.Cross(v), d.Dot(v))/float64(c.Sweep())))
}

func clamp01(t float64) float64 { return math.Min(1, math.Max(0, t)) }
