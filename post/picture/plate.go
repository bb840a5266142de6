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

func (p plate) bounds() geom.Box {
	w := math.Abs(p.u.X)*p.hw + math.Abs(p.u.Y)*p.hh
	h := math.Abs(p.u.Y)*p.hw + math.Abs(p.u.X)*p.hh
	return geom.Box{Min: geom.Pt(p.o.X-w, p.o.Y-h), Max: geom.Pt(p.o.X+w, p.o.Y+h)}
}

// local returns q as the plate sees it: along its length and its height.
func (p plate) local(q geom.Point) geom.Point {
	d := q.Sub(p.o)
	return geom.Pt(d.Dot(p.u), p.u.Cross(d))
}

// overlaps reports whether two plates share an area. Two rectangles are apart
// if they are so along a side of one of them.
func (p plate) overlaps(q plate) bool {
	// Most are far apart, and there may be thousands.
	reach := p.hw + p.hh + q.hw + q.hh
	if math.Abs(p.o.X-q.o.X) > reach || math.Abs(p.o.Y-q.o.Y) > reach {
		return false
	}
	return !p.apart(q) && !q.apart(p)
}

// apart reports whether q lies beyond one of p's sides: its middle does, by
// more than half of what it takes up in that direction.
func (p plate) apart(q plate) bool {
	const touch = geom.Touch
	at := p.local(q.o)
	cos, sin := math.Abs(p.u.Dot(q.u)), math.Abs(p.u.Cross(q.u))
	return math.Abs(at.X) > p.hw+cos*q.hw+sin*q.hh-touch || math.Abs(at.Y) > p.hh+sin*q.hw+cos*q.hh-touch
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
		const level = 1e-12 // of a side; the other side decides
		if math.Abs(d) < level {
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
