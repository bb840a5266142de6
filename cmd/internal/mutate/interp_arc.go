package mutate

import "math"

// fullCircle is how near the ends of an arc lie that goes all the way round, mm:
// finer than any number that is written.
const fullCircle = 1e-7

// radiusNear is by how much a radius may be too short for its arc, mm, for some
// interpreters to take it and others to stop.
const radiusNear = 0.002

// byRadius works out the way from the start of an arc to its centre from R
// (§3.5.3.1): above 0 an arc of at most half a turn, below 0 of at least that;
// one that ends where it starts is an error.
func (m *machine) byRadius(l *line, mv *move) (v [2]float64, ok bool) {
	r := l.val['R'] * m.unit
	dx, dy := mv.to[0]-mv.from[0], mv.to[1]-mv.from[1]
	chord := math.Hypot(dx, dy)
	short := chord/2 - math.Abs(r)
	switch {
	case chord < fullCircle:
		m.fault(l.at, "arc by radius that ends where it starts (§3.5.3.1)")
		return v, false
	case short > radiusNear:
		m.fault(l.at, "a radius %.4f mm too short (§3.5.3.1)", short)
		return v, false
	case short > 0:
		m.left(l.at, "a radius %.4f mm too short: some interpreters stop", short)
	}
	h := math.Sqrt(max(0, r*r-chord*chord/4))
	if (mv.g == 2) == (r > 0) { // to the right of the way from start to end
		h = -h
	}
	return [2]float64{dx/2 - h*dy/chord, dy/2 + h*dx/chord}, true
}

// arc works out an arc by I and J (NISTIR 6556 §3.5.3.2: offsets from the
// start; start and end at the same distance within 0.002 mm or 0.0002 in) or R.
func (m *machine) arc(l *line, mv *move) {
	if !m.plane || m.tilted {
		m.fault(l.at, "arc before any plane, or in another than XY")
	}
	if !l.any("IJR") || !l.any("XY") || l.any("R") && l.any("IJ") {
		m.fault(l.at, "arc without end or centre, or with a centre and a radius (§3.5.3)")
		return
	}
	v := [2]float64{l.val['I'] * m.unit, l.val['J'] * m.unit}
	if l.any("R") {
		var ok bool
		if v, ok = m.byRadius(l, mv); !ok {
			return
		}
	}
	mv.o = [2]float64{mv.from[0] + v[0], mv.from[1] + v[1]}
	r0 := math.Hypot(v[0], v[1])
	r1 := math.Hypot(mv.to[0]-mv.o[0], mv.to[1]-mv.o[1])
	limit := 0.002 // §3.5.3.2: 0.002 mm, or 0.0002 inch
	if m.unit == 25.4 {
		limit = 0.0002 * 25.4
	}
	if r0 == 0 || math.Abs(r0-r1) > limit && !l.any("R") {
		m.fault(l.at, "the centre is %.4f mm from the start and %.4f mm from the end (§3.5.3.2)", r0, r1)
	}
	a := math.Atan2(-v[1], -v[0])
	b := math.Atan2(mv.to[1]-mv.o[1], mv.to[0]-mv.o[0])
	mv.sweep = math.Mod(b-a, 2*math.Pi)
	same := math.Hypot(mv.to[0]-mv.from[0], mv.to[1]-mv.from[1]) < fullCircle
	switch {
	case mv.g == 3 && (mv.sweep < 0 || same):
		mv.sweep = math.Mod(mv.sweep+2*math.Pi, 2*math.Pi)
		if same {
			mv.sweep = 2 * math.Pi
		}
	case mv.g == 2 && (mv.sweep > 0 || same):
		mv.sweep -= 2 * math.Pi
		if same {
			mv.sweep = -2 * math.Pi
		}
	}
}
