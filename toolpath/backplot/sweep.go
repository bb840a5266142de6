package backplot

import (
	"math"

	"starwright/geom"
	"starwright/toolpath"
)

// sweep is one curve of the cutter's axis with the heights of its ends; the
// height changes evenly along it.
type sweep struct {
	axis   geom.Curve
	zA, zB float64
	line   int32  // of the file
	stamp  uint32 // of the last search that met it
	of     int32  // what it runs along: number of the part whose outline it is, from 1; below 0 where it is within a cut-out of it
	right  int8   // 1 where the wood that stays lies on the side that the job asks for, -1 where on the other, 0 where nothing says
	clear  bool   // has been held against the outlines and keeps to them
	newer  bool   // another along the very axis was filed after it
}

// sweeps appends the pieces of a move.
func sweeps(out []sweep, m *toolpath.Move) []sweep {
	if !m.IsArc() {
		out = append(out, sweep{})
		s := &out[len(out)-1] // filled where it lies: there is one for each line of a program
		s.axis.A, s.axis.B = m.From.XY(), m.To.XY()
		s.zA, s.zB, s.line = m.From.Z, m.To.Z, int32(m.Line)
		return out
	}
	cs := m.Curves()
	for i, c := range cs {
		t, u := float64(i)/float64(len(cs)), float64(i+1)/float64(len(cs))
		out = append(out, sweep{axis: c, zA: lerp(m.From.Z, m.To.Z, t), zB: lerp(m.From.Z, m.To.Z, u), line: int32(m.Line)})
	}
	return out
}

func lerp(a, b, t float64) float64 { return a + (b-a)*t }

// low is the deepest height of the sweep.
func (s *sweep) low() float64 { return min(s.zA, s.zB) }

// level reports whether the height stays the same.
func (s *sweep) level() bool { return s.zA == s.zB }

// below returns the part of the axis where the cutter is at or below z.
func (s *sweep) below(z float64) (geom.Curve, bool) {
	switch {
	case s.zA <= z && s.zB <= z:
		return s.axis, true
	case s.zA > z && s.zB > z:
		return geom.Curve{}, false
	}
	t := (z - s.zA) / (s.zB - s.zA)
	if s.zA <= z {
		return s.axis.Part(0, t), true
	}
	return s.axis.Part(t, 1), true
}

// above returns the part of the sweep where the cutter is above z.
func (s *sweep) above(z float64) (sweep, bool) {
	switch {
	case s.zA > z && s.zB > z:
		return *s, true
	case s.zA <= z && s.zB <= z:
		return sweep{}, false
	}
	t := (z - s.zA) / (s.zB - s.zA)
	if s.zA > z {
		return s.part(0, t), true
	}
	return s.part(t, 1), true
}

// follows returns how much deeper than a sweep before it along the very axis a
// sweep goes. All the wood that it meets stood no higher than that one was at
// the same place, so no bite is deeper.
func (s *sweep) follows(old *sweep) (deeper float64, ok bool) {
	if old == nil {
		return 0, false
	}
	zA, zB := old.along(s.axis)
	return max(zA-s.zA, zB-s.zB), true
}

// along returns the heights of a sweep at the start and the end of its axis,
// which may be run the other way.
func (s *sweep) along(axis geom.Curve) (zA, zB float64) {
	if s.axis.A != axis.A {
		return s.zB, s.zA
	}
	return s.zA, s.zB
}

// part returns the sweep between parts t and u of its length.
func (s *sweep) part(t, u float64) sweep {
	out := *s
	out.axis, out.zA, out.zB = s.axis.Part(t, u), lerp(s.zA, s.zB, t), lerp(s.zA, s.zB, u)
	return out
}

// isPoint reports whether the axis is a single place, as in a plunge.
func isPoint(c geom.Curve) bool { return c.Bulge == 0 && c.A == c.B }

// capsule appends the boundary of the disc of radius r swept along the axis:
// its sides and the round ends. Pieces of it may run inside the swept area
// (an end cap of a tight arc); callers test what they find against the area.
func capsule(out []geom.Curve, axis geom.Curve, r float64) []geom.Curve {
	if isPoint(axis) {
		return disc(out, axis.A, r)
	}
	if axis.Bulge == 0 {
		n := axis.B.Sub(axis.A).Unit().Left().Mul(r)
		return append(out,
			geom.Curve{A: axis.A.Sub(n), B: axis.B.Sub(n)},
			geom.Curve{A: axis.B.Sub(n), B: axis.B.Add(n), Bulge: 1},
			geom.Curve{A: axis.B.Add(n), B: axis.A.Add(n)},
			geom.Curve{A: axis.A.Add(n), B: axis.A.Sub(n), Bulge: 1})
	}
	o, ra := axis.Center(), axis.Radius()
	for _, rr := range [2]float64{ra + r, ra - r} {
		if rr > 0 {
			k := rr / ra
			out = append(out, geom.Curve{A: o.Add(axis.A.Sub(o).Mul(k)), B: o.Add(axis.B.Sub(o).Mul(k)), Bulge: axis.Bulge})
		}
	}
	return disc(disc(out, axis.A, r), axis.B, r)
}

// disc appends the boundary of a disc as two half circles.
func disc(out []geom.Curve, o geom.Point, r float64) []geom.Curve {
	a, b := geom.Pt(o.X+r, o.Y), geom.Pt(o.X-r, o.Y)
	return append(out, geom.Curve{A: a, B: b, Bulge: 1}, geom.Curve{A: b, B: a, Bulge: 1})
}

// curveBox is [geom.Curve.Bounds] without its calls for straight pieces.
func curveBox(c geom.Curve) geom.Box {
	if c.Bulge != 0 {
		return c.Bounds()
	}
	return geom.Box{
		Min: geom.Point{X: min(c.A.X, c.B.X), Y: min(c.A.Y, c.B.Y)},
		Max: geom.Point{X: max(c.A.X, c.B.X), Y: max(c.A.Y, c.B.Y)},
	}
}

// roomBox is a box that holds the curve with room to spare, quickly. Arcs are
// of half a turn at most, so that they lie within a circle on their chord.
func roomBox(c geom.Curve) geom.Box {
	if c.Bulge == 0 || math.Abs(c.Bulge) > 1.001 {
		return curveBox(c)
	}
	m := c.A.Lerp(c.B, 0.5)
	return geom.Box{Min: m, Max: m}.Grow(c.A.Dist(c.B) * 0.501)
}

// distTo is [geom.Curve.DistTo] without math.Hypot for straight pieces.
func distTo(c geom.Curve, p geom.Point) float64 {
	if c.Bulge != 0 {
		return c.DistTo(p)
	}
	return math.Sqrt(dist2(c.A, c.B, p))
}

// dist2 is the squared distance from p to the straight piece from a to b.
func dist2(a, b, p geom.Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	px, py := p.X-a.X, p.Y-a.Y
	if l2 := dx*dx + dy*dy; l2 > 0 {
		t := (px*dx + py*dy) / l2
		if t > 0 {
			if t > 1 {
				t = 1
			}
			px, py = px-t*dx, py-t*dy
		}
	}
	return px*px + py*py
}
