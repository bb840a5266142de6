package backplot

import (
	"math"
	"slices"

	"starwright/geom"
)

// carrier is the whole line or circle that a curve is a piece of.
type carrier struct {
	circle bool
	o      geom.Point // a point of the line, or the circle's centre
	d      geom.Point // the line's unit direction
	r      float64
}

func carrierOf(c geom.Curve) carrier {
	if c.Bulge == 0 {
		return carrier{o: c.A, d: c.B.Sub(c.A).Unit()}
	}
	return carrier{circle: true, o: c.Center(), r: c.Radius()}
}

func circleAt(o geom.Point, r float64) carrier { return carrier{circle: true, o: o, r: r} }

// query is a curve with what is worked out once for many crossings.
type query struct {
	geom.Curve
	carrier
	start, sweep float64 // of an arc, radians
	length       float64 // of a straight piece, mm
}

func newQuery(c geom.Curve) query {
	q := query{Curve: c, carrier: carrierOf(c)}
	if q.circle {
		q.start, q.sweep = float64(c.A.Sub(q.o).Angle()), float64(c.Sweep())
	} else {
		q.length = c.A.Dist(c.B)
	}
	return q
}

// param appends the part of the curve at which p, a point of its carrier,
// lies, where that is within the curve.
func (q *query) param(ts []float64, p geom.Point) []float64 {
	var t float64
	switch {
	case !q.circle && q.length == 0:
		return ts
	case !q.circle:
		t = p.Sub(q.A).Dot(q.d) / q.length
	case q.sweep > 0:
		t = float64(geom.Angle(float64(p.Sub(q.o).Angle())-q.start).Normal()) / q.sweep
	default:
		t = float64(geom.Angle(q.start-float64(p.Sub(q.o).Angle())).Normal()) / -q.sweep
	}
	if t > 0 && t < 1 {
		ts = append(ts, t)
	}
	return ts
}

// cross appends the parts of the curve at which it meets the carrier k.
func (q *query) cross(ts []float64, k carrier) []float64 {
	switch {
	case !q.circle && !k.circle:
		den := q.d.Cross(k.d)
		if den == 0 {
			return ts
		}
		return q.param(ts, q.o.Add(q.d.Mul(k.o.Sub(q.o).Cross(k.d)/den)))
	case q.circle && k.circle:
		return q.crossCircles(ts, k)
	}
	line, circ := q.carrier, k
	if q.circle {
		line, circ = k, q.carrier
	}
	foot := line.o.Add(line.d.Mul(circ.o.Sub(line.o).Dot(line.d)))
	h := circ.r*circ.r - foot.Sub(circ.o).Dot(foot.Sub(circ.o))
	if h < 0 {
		return ts
	}
	off := line.d.Mul(math.Sqrt(h))
	return q.param(q.param(ts, foot.Sub(off)), foot.Add(off))
}

func (q *query) crossCircles(ts []float64, k carrier) []float64 {
	way := k.o.Sub(q.o)
	d := way.Len()
	if d == 0 || d > q.r+k.r || d < math.Abs(q.r-k.r) {
		return ts
	}
	u := way.Mul(1 / d)
	a := (d*d + q.r*q.r - k.r*k.r) / (2 * d)
	h := math.Sqrt(math.Max(0, q.r*q.r-a*a))
	m := q.o.Add(u.Mul(a))
	return q.param(q.param(ts, m.Add(u.Left().Mul(h))), m.Sub(u.Left().Mul(h)))
}

// crossSwept appends where the curve may enter or leave the disc of radius r
// swept along axis. It may append more; what lies between is tested.
func (q *query) crossSwept(ts []float64, axis geom.Curve, r float64) []float64 {
	ts = q.cross(ts, circleAt(axis.A, r))
	if isPoint(axis) {
		return ts
	}
	ts = q.cross(ts, circleAt(axis.B, r))
	if axis.Bulge == 0 {
		k := carrierOf(axis)
		n := k.d.Left().Mul(r)
		ts = q.cross(ts, carrier{o: k.o.Add(n), d: k.d})
		return q.cross(ts, carrier{o: k.o.Sub(n), d: k.d})
	}
	k := carrierOf(axis)
	ts = q.cross(ts, circleAt(k.o, k.r+r))
	if k.r > r {
		ts = q.cross(ts, circleAt(k.o, k.r-r))
	} else if k.r < r {
		ts = q.cross(ts, circleAt(k.o, r-k.r))
	}
	return ts
}

// span is a piece of a curve, from part From to part To of its length.
type span struct{ From, To float64 }

// subtract appends to out what is left of the open spans of the curve outside
// of the disc of radius r swept along axis; ts is where it may enter or leave.
func (q *query) subtract(out []span, ts []float64, open []span, axis geom.Curve, r float64) []span {
	slices.Sort(ts)
	for _, s := range open {
		from := s.From
		for i := 0; i <= len(ts); i++ {
			to := s.To
			if i < len(ts) {
				if to = ts[i]; to <= from || to >= s.To {
					continue
				}
			}
			if to > from && distTo(axis, q.At((from+to)/2)) > r {
				if n := len(out); n > 0 && out[n-1].To == from {
					out[n-1].To = to
				} else {
					out = append(out, span{from, to})
				}
			}
			from = to
		}
	}
	return out
}

// misses reports whether the disc of radius r swept along axis lies before or behind
// each of the open spans of the curve, where both are straight. It is passes at first
// sight: of a thousand cuts along an edge, few are left to be looked at more closely.
func (q *query) misses(axis geom.Curve, r float64, open []span) bool {
	if q.circle || axis.Bulge != 0 || q.length == 0 {
		return false
	}
	ta, tb := q.d.Dot(axis.A.Sub(q.A)), q.d.Dot(axis.B.Sub(q.A))
	from, to := min(ta, tb)-r-coverSlack, max(ta, tb)+r+coverSlack
	for _, s := range open {
		if s.From*q.length < to && s.To*q.length > from {
			return false
		}
	}
	return true
}

// passes reports whether the disc of radius r swept along axis takes nothing of
// the open spans of the curve. It may say no where it does not: what it looks at is
// the shadow of the disc on the curve's line, where both are straight.
func (q *query) passes(axis geom.Curve, r float64, open []span) bool {
	if q.circle || axis.Bulge != 0 || q.length == 0 {
		return false
	}
	a, b := axis.A.Sub(q.A), axis.B.Sub(q.A)
	ha, hb := q.d.Cross(a), q.d.Cross(b)
	w := r * r
	if ha*hb > 0 {
		h := min(math.Abs(ha), math.Abs(hb)) - coverSlack
		w -= h * math.Abs(h)
	}
	if w < 0 {
		return true
	}
	ta, tb := q.d.Dot(a), q.d.Dot(b)
	w = math.Sqrt(w) + coverSlack
	from, to := (min(ta, tb)-w)/q.length, (max(ta, tb)+w)/q.length
	for _, s := range open {
		if s.From < to && s.To > from {
			return false
		}
	}
	return true
}

// splitAt returns the spans between the given parts of a curve.
func splitAt(ts []float64) []span {
	slices.Sort(ts)
	out := make([]span, 0, len(ts)+1)
	from := 0.0
	for _, t := range append(ts, 1) {
		if t > from {
			out = append(out, span{from, t})
			from = t
		}
	}
	return out
}
