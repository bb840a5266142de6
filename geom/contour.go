package geom

import "math"

// Vertex is a corner of a contour; Bulge describes the piece that leaves it
// (see [Curve]).
type Vertex struct {
	Point
	Bulge float64
}

// Contour is a closed outline: the last vertex is joined to the first, which
// is not repeated. A contour that runs counter-clockwise has wood on its left.
type Contour []Vertex

// Polygon makes a contour of straight pieces.
func Polygon(pts ...Point) Contour {
	c := make(Contour, len(pts))
	for i, p := range pts {
		c[i].Point = p
	}
	return c
}

// Rect makes a counter-clockwise rectangle of a box.
func Rect(b Box) Contour {
	return Polygon(b.Min, Pt(b.Max.X, b.Min.Y), b.Max, Pt(b.Min.X, b.Max.Y))
}

// Circle makes a counter-clockwise circle of two half-circle arcs.
func Circle(o Point, r float64) Contour {
	return Contour{{Pt(o.X+r, o.Y), 1}, {Pt(o.X-r, o.Y), 1}}
}

// RoundedRect makes a counter-clockwise rectangle with its corners rounded by
// r. Where r is half a side, that side shrinks to nothing and is left out, so
// that a rectangle as wide as 2r comes out as a slot with half-round ends.
func RoundedRect(b Box, r float64) Contour {
	const eps = Rounding // sides shorter than this are left out
	quarter := math.Tan(math.Pi / 8)
	var c Contour
	add := func(p Point, bulge float64) {
		if n := len(c); n > 0 && c[n-1].Dist(p) < eps {
			c[n-1].Bulge = bulge
			return
		}
		c = append(c, Vertex{p, bulge})
	}
	add(Pt(b.Min.X+r, b.Min.Y), 0)
	add(Pt(b.Max.X-r, b.Min.Y), quarter)
	add(Pt(b.Max.X, b.Min.Y+r), 0)
	add(Pt(b.Max.X, b.Max.Y-r), quarter)
	add(Pt(b.Max.X-r, b.Max.Y), 0)
	add(Pt(b.Min.X+r, b.Max.Y), quarter)
	add(Pt(b.Min.X, b.Max.Y-r), 0)
	add(Pt(b.Min.X, b.Min.Y+r), quarter)
	if n := len(c); n > 1 && c[n-1].Dist(c[0].Point) < eps {
		c = c[:n-1]
	}
	return c
}

// Curves returns the pieces of the contour in order.
func (c Contour) Curves() []Curve {
	out := make([]Curve, len(c))
	for i := range c {
		out[i] = c.Curve(i)
	}
	return out
}

// Curve returns the piece that leaves vertex i.
func (c Contour) Curve(i int) Curve {
	next := i + 1
	if next == len(c) {
		next = 0
	}
	return Curve{c[i].Point, c[next].Point, c[i].Bulge}
}

// Area returns the area within the contour in mm², positive where it runs
// counter-clockwise. Exact for straight pieces up to rounding; arcs add their
// circular segments r²(s - sin s)/2.
func (c Contour) Area() float64 {
	if len(c) == 0 {
		return 0
	}
	o := c[0].Point // near origin of the sum, so that far-off contours lose no digits
	sum := 0.0
	for i := range c {
		e := c.Curve(i)
		sum += e.A.Sub(o).Cross(e.B.Sub(o))
		if e.IsArc() {
			s, r := float64(e.Sweep()), e.Radius()
			sum += r * r * (s - math.Sin(s))
		}
	}
	return sum / 2
}

// Length returns the length round the contour.
func (c Contour) Length() float64 {
	l := 0.0
	for i := range c {
		e := c.Curve(i)
		l += e.Length()
	}
	return l
}

// Bounds returns the smallest box round the contour.
func (c Contour) Bounds() Box {
	b := EmptyBox()
	for i := range c {
		e := c.Curve(i)
		b = b.Union(e.Bounds())
	}
	return b
}

// Reversed returns the contour run the other way, from the same first vertex.
func (c Contour) Reversed() Contour {
	n := len(c)
	out := make(Contour, n)
	for i := range c {
		out[i].Point = c[(n-i)%n].Point
		out[i].Bulge = -c[(2*n-i-1)%n].Bulge
	}
	return out
}

// CCW returns the contour run counter-clockwise.
func (c Contour) CCW() Contour {
	if c.Area() < 0 {
		return c.Reversed()
	}
	return c
}

// DistTo returns the least distance from p to the contour's line.
func (c Contour) DistTo(p Point) float64 {
	d := math.Inf(1)
	for i := range c {
		e := c.Curve(i)
		d = math.Min(d, e.DistTo(p))
	}
	return d
}

// Contains reports whether p lies within the contour. Points nearer to the
// line than a rounding error may go either way; ask [Contour.DistTo] too where
// that matters.
func (c Contour) Contains(p Point) bool {
	in := false
	for i := range c {
		e := c.Curve(i)
		// Even-odd rule on the chord, then once more for a circular segment
		// between chord and arc that holds the point. Both ask the same side,
		// so that a point on the chord itself is not counted twice or missed.
		side := e.side(p)
		if up := e.A.Y <= p.Y && p.Y < e.B.Y; up && side > 0 {
			in = !in
		}
		if down := e.B.Y <= p.Y && p.Y < e.A.Y; down && side < 0 {
			in = !in
		}
		if e.IsArc() && (side < 0) == (e.Bulge > 0) && p.Dist(e.Center()) < e.Radius() {
			in = !in
		}
	}
	return in
}

// side returns on which side of the chord p lies: 1 left, -1 right. A point on
// the chord counts as a little above and to the right of itself.
func (c Curve) side(p Point) int {
	d := c.B.Sub(c.A)
	switch s := d.Cross(p.Sub(c.A)); {
	case s > 0:
		return 1
	case s < 0:
		return -1
	}
	if d.Y > 0 || d.Y == 0 && d.X < 0 {
		return -1
	}
	return 1
}

// Flatten returns the contour as points, its arcs as chords that leave the
// true arc by no more than tol (mm).
func (c Contour) Flatten(tol float64) []Point {
	var out []Point
	for i := range c {
		e := c.Curve(i)
		out = append(out, e.A)
		n := e.Chords(tol)
		for i := 1; i < n; i++ {
			out = append(out, e.At(float64(i)/float64(n)))
		}
	}
	return out
}

// Chords returns into how many equal chords the curve must be cut for none to
// leave it by more than tol (mm): 1 for a straight piece.
func (c Curve) Chords(tol float64) int {
	if c.Bulge == 0 {
		return 1
	}
	r := c.Radius()
	if tol >= r {
		tol = r
	}
	step := 2 * math.Acos(1-tol/r) // sagitta r(1-cos(step/2)) = tol
	if step == 0 {
		return 1 // so flat that no digit of the cosine tells it from a chord
	}
	return int(math.Max(1, math.Ceil(math.Abs(float64(c.Sweep()))/step)))
}
