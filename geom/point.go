package geom

import "math"

// MMPerInch is the international inch in millimetres, exact by definition.
const MMPerInch = 25.4

// Point is a place or a direction in the plane, in millimetres.
type Point struct{ X, Y float64 }

// Pt is a short way to write a Point.
func Pt(x, y float64) Point { return Point{x, y} }

// Polar returns the point at distance r from the origin in direction a.
func Polar(r float64, a Angle) Point {
	s, c := a.SinCos()
	return Point{r * c, r * s}
}

// Add returns p + q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub returns p - q, the way from q to p.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Mul returns p scaled by k.
func (p Point) Mul(k float64) Point { return Point{p.X * k, p.Y * k} }

// Dot returns the scalar product.
func (p Point) Dot(q Point) float64 { return p.X*q.X + p.Y*q.Y }

// Cross returns the Z of the vector product: positive where q lies to the
// left of p.
func (p Point) Cross(q Point) float64 { return p.X*q.Y - p.Y*q.X }

// Len returns the distance from the origin.
func (p Point) Len() float64 { return math.Sqrt(p.X*p.X + p.Y*p.Y) }

// Dist returns the distance from p to q.
func (p Point) Dist(q Point) float64 { return p.Sub(q).Len() }

// Left returns p turned by a quarter turn counter-clockwise, exactly.
func (p Point) Left() Point { return Point{-p.Y, p.X} }

// Unit returns p scaled to length one; the zero point stays zero.
func (p Point) Unit() Point {
	l := p.Len()
	if l == 0 {
		return p
	}
	return p.Mul(1 / l)
}

// Angle returns the direction of p, in (-π, π].
func (p Point) Angle() Angle { return Angle(math.Atan2(p.Y, p.X)) }

// Lerp returns the point a part t of the way from p to q; t 0 gives p and t 1
// gives q, both exactly.
func (p Point) Lerp(q Point, t float64) Point {
	if t == 1 {
		return q
	}
	return Point{p.X + (q.X-p.X)*t, p.Y + (q.Y-p.Y)*t}
}

// Finite reports whether both coordinates are numbers.
func (p Point) Finite() bool {
	return !math.IsNaN(p.X) && !math.IsInf(p.X, 0) && !math.IsNaN(p.Y) && !math.IsInf(p.Y, 0)
}

// Point3 is a place of the cutter's end, in millimetres, Z up out of the wood.
type Point3 struct{ X, Y, Z float64 }

// XY returns the place seen from above.
func (p Point3) XY() Point { return Point{p.X, p.Y} }

// Dist returns the distance from p to q.
func (p Point3) Dist(q Point3) float64 {
	return math.Hypot(p.XY().Dist(q.XY()), p.Z-q.Z)
}

// Box is an upright rectangle. The zero Box is a point at the origin; an
// empty one to grow from is [EmptyBox].
type Box struct{ Min, Max Point }

// EmptyBox holds no point and grows to the first box or point added.
func EmptyBox() Box {
	inf := math.Inf(1)
	return Box{Point{inf, inf}, Point{-inf, -inf}}
}

// Empty reports whether the box holds no point.
func (b Box) Empty() bool { return b.Min.X > b.Max.X || b.Min.Y > b.Max.Y }

// W and H are the sides of the box, zero where it is empty.
func (b Box) W() float64 { return max(0, b.Max.X-b.Min.X) }

// H is the height of the box, zero where it is empty.
func (b Box) H() float64 { return max(0, b.Max.Y-b.Min.Y) }

// Center returns the middle of the box.
func (b Box) Center() Point { return b.Min.Lerp(b.Max, 0.5) }

// With returns the smallest box that holds b and p.
func (b Box) With(p Point) Box {
	return Box{
		Point{min(b.Min.X, p.X), min(b.Min.Y, p.Y)},
		Point{max(b.Max.X, p.X), max(b.Max.Y, p.Y)},
	}
}

// Union returns the smallest box that holds both.
func (b Box) Union(c Box) Box {
	if c.Empty() {
		return b
	}
	return b.With(c.Min).With(c.Max)
}

// Grow returns the box with every side moved out by d.
func (b Box) Grow(d float64) Box {
	return Box{Point{b.Min.X - d, b.Min.Y - d}, Point{b.Max.X + d, b.Max.Y + d}}
}

// Overlaps reports whether the two boxes share a point.
func (b Box) Overlaps(c Box) bool {
	return b.Min.X <= c.Max.X && c.Min.X <= b.Max.X && b.Min.Y <= c.Max.Y && c.Min.Y <= b.Max.Y
}

// Holds reports whether c lies within b, its sides included.
func (b Box) Holds(c Box) bool {
	return c.Min.X >= b.Min.X && c.Max.X <= b.Max.X && c.Min.Y >= b.Min.Y && c.Max.Y <= b.Max.Y
}
