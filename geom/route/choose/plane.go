package choose

import (
	"math"

	"starwright/geom"
	"starwright/geom/star"
)

// near is what rounding may shift a point, mm.
const near = 1e-6

// line is a straight line through two points; what lies to its left is one side.
type line struct{ a, b geom.Point }

// off returns how far p lies to the left of the line, mm.
func (l line) off(p geom.Point) float64 { return l.b.Sub(l.a).Unit().Cross(p.Sub(l.a)) }

// shifted returns the line moved by d to its left.
func (l line) shifted(d float64) line {
	by := l.b.Sub(l.a).Unit().Left().Mul(d)
	return line{l.a.Add(by), l.b.Add(by)}
}

// clip returns what of a polygon lies to the left of a line.
func clip(poly []geom.Point, l line) []geom.Point {
	var out []geom.Point
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		dp, dq := l.off(p), l.off(q)
		if dp >= -near {
			out = append(out, p)
		}
		if dp > near && dq < -near || dp < -near && dq > near {
			out = append(out, p.Lerp(q, dp/(dp-dq)))
		}
	}
	return tidy(out)
}

// tidy drops corners that repeat or lie on a straight edge, and starts at the
// corner nearest to the star's centre.
func tidy(poly []geom.Point) []geom.Point {
	var out []geom.Point
	n := len(poly)
	for i, p := range poly {
		prev := poly[(i+n-1)%n]
		if p.Dist(prev) < near {
			continue
		}
		out = append(out, p)
	}
	for i := 0; i < len(out) && len(out) > 3; {
		a, p, b := out[(i+len(out)-1)%len(out)], out[i], out[(i+1)%len(out)]
		if math.Abs(p.Sub(a).Unit().Cross(b.Sub(p).Unit())) < geom.Rounding {
			out = append(out[:i:i], out[i+1:]...)
			continue
		}
		i++
	}
	first := 0
	for i, p := range out {
		if p.Len() < out[first].Len()-near {
			first = i
		}
	}
	return append(append([]geom.Point{}, out[first:]...), out[:first]...)
}

// edgeAlong returns the polygon's edge that has a stretch of the line through
// two points, -1 for none.
func edgeAlong(poly []geom.Point, l line) int {
	const tol = 1e-4 // mm
	best, longest := -1, 0.0
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		if math.Abs(l.off(p)) < tol && math.Abs(l.off(q)) < tol && p.Dist(q) > longest {
			best, longest = i, p.Dist(q)
		}
	}
	return best
}

// cornerAt returns the polygon's corner at a point, -1 for none.
func cornerAt(poly []geom.Point, at geom.Point) int {
	const tol = 1e-4 // mm
	for i, p := range poly {
		if p.Dist(at) < tol {
			return i
		}
	}
	return -1
}

// placed returns the polygon in another plane.
func placed(poly []geom.Point, t geom.Place) []geom.Point {
	out := make([]geom.Point, len(poly))
	for i, p := range poly {
		out[i] = t.Point(p)
	}
	return out
}

// reachOn returns how far along a ray from its start a polygon reaches, on the
// ray itself, on the one beside it by the kerf, or between the two: so far must be
// cut to sever.
func reachOn(poly []geom.Point, ray line, kerf float64) float64 {
	far := 0.0
	for _, p := range poly {
		if d := ray.off(p); d*kerf >= 0 && math.Abs(d) <= math.Abs(kerf) {
			far = max(far, ray.b.Sub(ray.a).Unit().Dot(p.Sub(ray.a)))
		}
	}
	for _, l := range []line{ray, ray.shifted(kerf)} {
		d := l.b.Sub(l.a).Unit()
		for i, p := range poly {
			q := poly[(i+1)%len(poly)]
			dp, dq := l.off(p), l.off(q)
			if dp*dq <= 0 && math.Abs(dp-dq) > near {
				far = max(far, d.Dot(p.Lerp(q, dp/(dp-dq)).Sub(ray.a)))
			} else if math.Abs(dp) <= near {
				far = max(far, d.Dot(p.Sub(ray.a)))
			}
		}
	}
	return far
}

// mirrored returns a placement seen in a mirror that exchanges left and right of
// the machine.
func mirrored(t geom.Place) geom.Place {
	return geom.Place{Mirror: !t.Mirror, Turn: (180*geom.Degree - t.Turn).Normal(), Move: geom.Pt(-t.Move.X, t.Move.Y)}
}

// points returns the corners of a contour.
func points(c geom.Contour) []geom.Point {
	out := make([]geom.Point, len(c))
	for i, v := range c {
		out[i] = v.Point
	}
	return out
}

// valley returns a segment's valley on a side: 1 left, -1 right.
func valley(s star.Segment, side float64) geom.Point {
	v := s.Valley()
	return geom.Pt(v.X, side*v.Y)
}

// blankOf returns the blank of a unit from boards in the segment's plane.
func blankOf(u *star.Unit) []geom.Point {
	l, h := u.Blank.Length, u.Segment.Width/2
	return []geom.Point{{X: 0, Y: -h}, {X: l, Y: -h}, {X: l, Y: h}, {X: 0, Y: h}}
}

// pairPlaces returns where the two off-cuts of a blank lie in the plane of the
// small segment that is cut from the pair: board edge on board edge, apex on
// apex, tip on +x.
func pairPlaces(small *star.Unit) (first, second geom.Place) {
	a, b := small.From.Offcuts()
	l := small.Segment.Length
	half := 180 * geom.Degree
	return geom.Place{Turn: half, Move: geom.Pt(l, 0).Add(a.Apex)}, geom.Place{Turn: half, Move: geom.Pt(l, 0).Add(b.Apex)}
}

// pairOf returns the glued pair in the plane of the small segment.
func pairOf(small *star.Unit) []geom.Point {
	a, b := small.From.Offcuts()
	pa, pb := pairPlaces(small)
	one, two := placed(points(a.Wood), pa), placed(points(b.Wood), pb)
	return union(one, two)
}

// union returns the outline of two polygons that share a stretch of the x axis,
// the first above it and the second below, both counter-clockwise, and both with
// their apex farthest along +x.
func union(above, below []geom.Point) []geom.Point {
	start := func(poly []geom.Point) int { // the apex
		k := 0
		for i, p := range poly {
			if p.X > poly[k].X {
				k = i
			}
		}
		return k
	}
	var out []geom.Point
	for i, k := 0, start(above); i < len(above); i++ {
		out = append(out, above[(k+i)%len(above)])
	}
	k := start(below)
	for i := 1; i < len(below); i++ {
		out = append(out, below[(k+i)%len(below)])
	}
	return tidy(out)
}
