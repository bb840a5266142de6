package geom

import "math"

// Curve is a straight or circular piece of an outline or of a cutter's way,
// from A to B. Bulge is the tangent of a quarter of the included angle: 0
// straight, 1 a half circle, positive where the arc runs counter-clockwise
// (the same measure as in DXF, "VERTEX (DXF)", group 42). A full circle is two
// curves.
type Curve struct {
	A, B  Point
	Bulge float64
}

// IsArc reports whether the curve is circular.
func (c Curve) IsArc() bool { return c.Bulge != 0 }

// Sweep returns the signed angle an arc turns through, 0 for a straight piece.
func (c Curve) Sweep() Angle { return Angle(4 * math.Atan(c.Bulge)) }

// Center returns the centre of an arc. For a straight piece it has no meaning.
func (c Curve) Center() Point {
	// The centre lies on the perpendicular through the chord's middle, at
	// (1-b²)/(4b) of the chord's length to its left.
	h := (1 - c.Bulge*c.Bulge) / (4 * c.Bulge)
	return c.A.Lerp(c.B, 0.5).Add(c.B.Sub(c.A).Left().Mul(h))
}

// Radius returns the radius of an arc, and 0 for a straight piece.
func (c Curve) Radius() float64 {
	if c.Bulge == 0 {
		return 0
	}
	b := math.Abs(c.Bulge)
	return c.A.Dist(c.B) * (1 + b*b) / (4 * b)
}

// Length returns the length along the curve.
func (c Curve) Length() float64 {
	if c.Bulge == 0 {
		return c.A.Dist(c.B)
	}
	return c.Radius() * math.Abs(float64(c.Sweep()))
}

// At returns the point a part t of the way along the curve, t in [0, 1].
func (c Curve) At(t float64) Point {
	if c.Bulge == 0 || t == 0 || t == 1 {
		return c.A.Lerp(c.B, t)
	}
	if c.flat() {
		// The chord to the point turns with half the arc, so its length is
		// to the whole chord's as the sines of the half angles.
		half := c.Sweep() / 2
		k := (half * Angle(t)).Sin() / half.Sin()
		return c.A.Add(turn(c.B.Sub(c.A).Mul(k), half*Angle(t-1)))
	}
	o := c.Center()
	return o.Add(turn(c.A.Sub(o), c.Sweep()*Angle(t)))
}

// Path is a curve of which many places are asked for: what they share is worked out
// once.
type Path struct {
	curve  Curve
	center Point
	arm    Point // from the centre to the beginning
	sweep  Angle
}

// Path returns the curve as one.
func (c Curve) Path() Path {
	p := Path{curve: c}
	if c.Bulge != 0 && !c.flat() {
		p.center, p.sweep = c.Center(), c.Sweep()
		p.arm = c.A.Sub(p.center)
	}
	return p
}

// At is [Curve.At].
func (p *Path) At(t float64) Point {
	if p.sweep == 0 || t == 0 || t == 1 {
		return p.curve.At(t)
	}
	return p.center.Add(turn(p.arm, p.sweep*Angle(t)))
}

// flatBulge is the bulge of an arc that turns by under about five degrees.
const flatBulge = 0.02

// flat reports whether an arc turns by so little that the way over its centre is
// the poorer one: the centre of an arc of a radius of kilometres has lost the
// digits that matter here. For rounder arcs the centre is the better way, above
// all for points near it.
func (c Curve) flat() bool { return math.Abs(c.Bulge) < flatBulge }

// Part returns the piece of the curve between parts t and u of its length.
func (c Curve) Part(t, u float64) Curve {
	p := Curve{A: c.At(t), B: c.At(u)}
	if c.Bulge != 0 {
		p.Bulge = math.Tan(float64(c.Sweep()) * (u - t) / 4)
	}
	return p
}

// Reversed returns the same curve run from B to A.
func (c Curve) Reversed() Curve { return Curve{c.B, c.A, -c.Bulge} }

// Bounds returns the smallest box round the curve.
func (c Curve) Bounds() Box {
	b := Box{Point{min(c.A.X, c.B.X), min(c.A.Y, c.B.Y)}, Point{max(c.A.X, c.B.X), max(c.A.Y, c.B.Y)}}
	if c.Bulge == 0 {
		return b
	}
	if c.flat() {
		return c.flatBounds(b)
	}
	o, r := c.Center(), c.Radius()
	for _, v := range [4]Point{{1, 0}, {0, 1}, {-1, 0}, {0, -1}} {
		if q := o.Add(v.Mul(r)); c.holds(q) {
			b = b.With(q)
		}
	}
	return b
}

// flatBounds is [Curve.Bounds] of a flat arc without its far-off centre: box is
// that of its ends.
func (c Curve) flatBounds(box Box) Box {
	out := c.B.Sub(c.A).Left().Unit().Mul(-math.Copysign(1, c.Bulge)) // from the centre to the middle of the arc
	sweep := float64(c.Sweep())
	for _, v := range [4]Point{{1, 0}, {0, 1}, {-1, 0}, {0, -1}} {
		if off := math.Atan2(out.Cross(v), out.Dot(v)); math.Abs(off) < math.Abs(sweep)/2 {
			box = box.With(c.At(0.5 + off/sweep))
		}
	}
	return box
}

// holds reports whether a point of the arc's circle lies on the arc: all of it
// lies on one side of the chord.
func (c Curve) holds(q Point) bool {
	side := c.B.Sub(c.A).Cross(q.Sub(c.A))
	return side <= 0 == (c.Bulge > 0) || side == 0
}

// DistTo returns the least distance from p to the curve.
func (c Curve) DistTo(p Point) float64 { return p.Dist(c.Nearest(p)) }

// Nearest returns the point of the curve nearest to p.
func (c Curve) Nearest(p Point) Point {
	if c.Bulge == 0 {
		d := c.B.Sub(c.A)
		l2 := d.Dot(d)
		if l2 == 0 {
			return c.A
		}
		t := p.Sub(c.A).Dot(d) / l2
		if t <= 0 {
			t = 0
		} else if t > 1 {
			t = 1
		}
		return c.A.Lerp(c.B, t)
	}
	if c.flat() {
		return c.nearestFlat(p)
	}
	o := c.Center()
	if v := p.Sub(o); v != (Point{}) {
		if q := o.Add(v.Mul(c.Radius() / v.Len())); c.holds(q) {
			return q
		}
	}
	if a, b := p.Sub(c.A), p.Sub(c.B); a.Dot(a) <= b.Dot(b) {
		return c.A
	}
	return c.B
}

// turn returns p turned by a about the origin.
func turn(p Point, a Angle) Point {
	s, c := a.SinCos()
	return Point{p.X*c - p.Y*s, p.X*s + p.Y*c}
}
