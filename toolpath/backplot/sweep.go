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
	move   int // index of the move it comes from
}

// sweeps returns the pieces of a move.
func sweeps(m toolpath.Move, index int) []sweep {
	cs := m.Curves()
	out := make([]sweep, len(cs))
	for i, c := range cs {
		t, u := float64(i)/float64(len(cs)), float64(i+1)/float64(len(cs))
		out[i] = sweep{c, lerp(m.From.Z, m.To.Z, t), lerp(m.From.Z, m.To.Z, u), index}
	}
	return out
}

func lerp(a, b, t float64) float64 { return a + (b-a)*t }

// low is the deepest height of the sweep.
func (s sweep) low() float64 { return math.Min(s.zA, s.zB) }

// below returns the part of the axis where the cutter is at or below z.
func (s sweep) below(z float64) (geom.Curve, bool) {
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

// part returns the sweep between parts t and u of its length.
func (s sweep) part(t, u float64) sweep {
	return sweep{s.axis.Part(t, u), lerp(s.zA, s.zB, t), lerp(s.zA, s.zB, u), s.move}
}

// point reports whether the axis is a single place, as in a plunge.
func isPoint(c geom.Curve) bool { return c.Bulge == 0 && c.A == c.B }

// capsule returns the boundary of the disc of radius r swept along the axis:
// its sides and the round ends. Pieces of it may run inside the swept area
// (an end cap of a tight arc); callers test what they find against the area.
func capsule(axis geom.Curve, r float64) []geom.Curve {
	if isPoint(axis) {
		return disc(axis.A, r)
	}
	out := make([]geom.Curve, 0, 6)
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
	return append(append(out, disc(axis.A, r)...), disc(axis.B, r)...)
}

// disc returns the boundary of a disc as two half circles.
func disc(o geom.Point, r float64) []geom.Curve {
	a, b := geom.Pt(o.X+r, o.Y), geom.Pt(o.X-r, o.Y)
	return []geom.Curve{{A: a, B: b, Bulge: 1}, {A: b, B: a, Bulge: 1}}
}
