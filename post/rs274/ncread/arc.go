package ncread

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/toolpath"
)

// Tolerances of arcs, in mm unless said otherwise.
const (
	arcAgreeMM   = 0.002  // radius at start and end, NISTIR 6556 §3.5.3.2, metric
	arcAgreeInch = 0.0002 // the same in an inch program, in
	arcRoundMM   = 1e-9   // rounding of float64 that is no fault
	sameEndMM    = 1e-7   // ends this near are the same: a full circle. The finest step that is written is 0.00001 in
)

// arc works out the centre and the signed sweep of G2 or G3 from the present
// position to the given end. Where ok is false there is no such arc.
func (m *machine) arc(kind toolpath.Kind, to geom.Point3) (o geom.Point, sweep geom.Angle, ok bool) {
	b := &m.b
	a, e := m.pos.XY(), to.XY()
	switch {
	case m.plane != none && m.plane != g17:
		if m.inPlane.line > 0 { // told once, at the plane word
			m.tellAt(m.inPlane, subPlane, m.plane.text("G")+" before an arc", 0)
			m.inPlane = place{}
		}
		return o, 0, false
	case (b.seen|b.lost)&(lX|lY) == 0:
		m.tell(stdArcWords, m.motion.text("G")+" without X or Y")
	}
	switch {
	case b.lost&(axes|lI|lJ|lR) != 0 || m.known&(lX|lY) != lX|lY:
		return o, 0, false // told already
	case b.has(lR) && b.has(lI|lJ):
		m.tell(stdArcWords, m.motion.text("G")+" with both R and I or J")
		fallthrough
	case b.has(lI | lJ):
		o, ok = m.centerByOffset(a, e)
	case b.has(lR):
		o, ok = m.centerByRadius(kind, a, e)
	default:
		m.tell(stdArcWords, m.motion.text("G")+" without I, J or R")
	}
	if !ok {
		return o, 0, false
	}
	if r := a.Dist(o); r > reachMM {
		m.tell(subSize, fmt.Sprintf("arc of %.0f m radius", r/1000))
	}
	return o, arcSweep(kind, a.Sub(o), e.Sub(o), a.Dist(e) <= sameEndMM), true
}

// centerByOffset returns the centre given by I and J, offsets from the start
// in either distance mode (NISTIR 6556 §3.5.3.2).
func (m *machine) centerByOffset(a, e geom.Point) (o geom.Point, ok bool) {
	b := &m.b
	var v geom.Point
	if b.has(lI) {
		v.X = b.value('I') * m.unitMM
	}
	if b.has(lJ) {
		v.Y = b.value('J') * m.unitMM
	}
	o = a.Add(v)
	r0, r1 := v.Len(), o.Dist(e)
	agree := arcAgreeMM
	if m.units == g20 {
		agree = arcAgreeInch * geom.MMPerInch
	}
	if r0 <= arcRoundMM {
		m.tell(stdArcRadius, "arc of radius zero")
		return o, false
	}
	if d := math.Abs(r0 - r1); d > agree+arcRoundMM {
		m.tellBy(stdArcRadius, fmt.Sprintf("the centre is %.4m from the start and %.4m from the end, %.4m apart where %.4f may be",
			m.in(r0), m.in(r1), m.in(d), m.in(agree)), d)
	}
	return o, true
}

// Sweeps, in degrees, outside which NISTIR 6556 §3.5.3.1 advises against arcs
// by radius: the centre moves far when the end is rounded.
const (
	radiusArcBelow = 165
	radiusArcAbove = 195
	radiusArcMost  = 345
)

// centerByRadius returns the centre of an arc given by R: the one that makes
// it at most half a turn, or at least that where R is negative (§3.5.3.1).
func (m *machine) centerByRadius(kind toolpath.Kind, a, e geom.Point) (o geom.Point, ok bool) {
	r := m.b.value('R') * m.unitMM
	chord := a.Dist(e)
	if chord <= sameEndMM {
		m.tell(stdArcByRadius, "arc by radius that ends where it starts")
		return o, false
	}
	if short := chord/2 - math.Abs(r); short > arcAgreeMM {
		m.tellBy(stdArcByRadius, fmt.Sprintf("the end is %.4m away, too far for a radius of %.4m", m.in(chord), m.in(math.Abs(r))), short)
		return o, false
	}
	h := math.Sqrt(math.Max(0, r*r-chord*chord/4))
	// Counter-clockwise and at most half a turn: the centre is to the left
	// of the way from start to end.
	if (kind == toolpath.ArcCW) != (r < 0) {
		h = -h
	}
	o = a.Lerp(e, 0.5).Add(e.Sub(a).Left().Mul(h / chord))
	m.noteRadiusArc(chord, r)
	return o, true
}

// noteRadiusArc remarks on an arc by radius.
func (m *machine) noteRadiusArc(chord, r float64) {
	if m.noted(subRadiusArc) {
		return
	}
	turn := 2 * math.Asin(math.Min(1, chord/2/math.Abs(r))) * 180 / math.Pi
	if r < 0 {
		turn = 360 - turn
	}
	what := fmt.Sprintf("arc of %.1f degrees by radius", turn)
	if (turn > radiusArcBelow && turn < radiusArcAbove) || turn > radiusArcMost {
		what += ", which the standard advises against (§3.5.3.1)"
	}
	m.tell(subRadiusArc, what)
}

// arcSweep returns the signed angle from direction a to direction e the way
// the arc turns; full says that they are the same end of a full circle.
func arcSweep(kind toolpath.Kind, a, e geom.Point, full bool) geom.Angle {
	t := math.Atan2(a.Cross(e), a.Dot(e))
	if full {
		t = 0
	}
	switch {
	case kind == toolpath.ArcCCW && (t < 0 || full):
		t += 2 * math.Pi
	case kind == toolpath.ArcCW && (t > 0 || full):
		t -= 2 * math.Pi
	}
	return geom.Angle(t)
}
