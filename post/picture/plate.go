package picture

import (
	"math"

	"starwright/geom"
)

// plate is a rectangle at any angle.
type plate struct {
	o      geom.Point // middle
	u      geom.Point // direction of its length
	hw, hh float64    // half length, half height
}

// bar returns the plate of a thin straight line.
func bar(a, b geom.Point) plate {
	return plate{a.Lerp(b, 0.5), b.Sub(a).Unit(), a.Dist(b) / 2, 0.1}
}

func (p plate) grow(d float64) plate { p.hw += d; p.hh += d; return p }

func (p plate) contour() geom.Contour {
	a, b := p.u.Mul(p.hw), p.u.Left().Mul(p.hh)
	return geom.Polygon(p.o.Sub(a).Sub(b), p.o.Add(a).Sub(b), p.o.Add(a).Add(b), p.o.Sub(a).Add(b))
}

func (p plate) bounds() geom.Box { return p.contour().Bounds() }

// local returns q as the plate sees it: along its length and its height.
func (p plate) local(q geom.Point) geom.Point {
	d := q.Sub(p.o)
	return geom.Pt(d.Dot(p.u), p.u.Cross(d))
}

// overlaps reports whether two plates share an area. Two rectangles are apart
// if they are so along a side of one of them.
func (p plate) overlaps(q plate) bool {
	return !p.apart(q) && !q.apart(p)
}

func (p plate) apart(q plate) bool {
	b := geom.EmptyBox()
	for _, v := range q.contour() {
		b = b.With(p.local(v.Point))
	}
	const touch = 1e-6 // mm
	return b.Min.X > p.hw-touch || b.Max.X < -p.hw+touch || b.Min.Y > p.hh-touch || b.Max.Y < -p.hh+touch
}

// dist returns how far q lies from the plate, 0 on it.
func (p plate) dist(q geom.Point) float64 {
	l := p.local(q)
	return math.Hypot(math.Max(0, math.Abs(l.X)-p.hw), math.Max(0, math.Abs(l.Y)-p.hh))
}

// meets reports whether a line of half width half passes over the plate.
func (p plate) meets(a, b geom.Point, half float64) bool {
	a, b = p.local(a), p.local(b)
	t0, t1 := 0.0, 1.0
	clip := func(at, d, limit float64) bool { // at + t d <= limit
		if math.Abs(d) < 1e-12 {
			return at <= limit
		}
		if t := (limit - at) / d; d > 0 {
			t1 = math.Min(t1, t)
		} else {
			t0 = math.Max(t0, t)
		}
		return t0 < t1
	}
	d := b.Sub(a)
	w, h := p.hw+half, p.hh+half
	if d == (geom.Point{}) {
		return math.Abs(a.X) < w && math.Abs(a.Y) < h
	}
	return clip(a.X, d.X, w) && clip(-a.X, -d.X, w) && clip(a.Y, d.Y, h) && clip(-a.Y, -d.Y, h)
}

// toward returns where on the plate's rim a leader to p best begins: at the
// middle of its left or right side where p lies beside it, else straight
// above or below.
func (p plate) toward(q geom.Point) geom.Point {
	l := p.local(q)
	var r geom.Point
	switch {
	case l.X > p.hw:
		r = geom.Pt(p.hw, 0)
	case l.X < -p.hw:
		r = geom.Pt(-p.hw, 0)
	case l.Y > 0:
		r = geom.Pt(math.Max(-p.hw, math.Min(p.hw, l.X)), p.hh)
	default:
		r = geom.Pt(math.Max(-p.hw, math.Min(p.hw, l.X)), -p.hh)
	}
	return p.o.Add(p.u.Mul(r.X)).Add(p.u.Left().Mul(r.Y))
}
