// Package toolpath holds the types that planners, writers, readers and the
// back-plot share: a program as it was planned ([Program], of steps), a motion as
// it was read back ([Move]), and a piece to be cut from sheet ([Part]).
//
// It plans nothing, and knows nothing of stars or files; see the packages below.
// Lengths are millimetres, feeds millimetres a minute; Z0 is the surface of
// the wood and Z falls into it; the spindle turns clockwise seen from above
// (M3), so a cut with the kept wood on the left of the travel is conventional.
package toolpath

import (
	"math"

	"starwright/geom"
)

// Kind says how the cutter gets from one place to the next.
type Kind uint8

// The kinds of move.
const (
	Rapid  Kind = iota // G0, as fast as the machine goes; never through wood
	Linear             // G1, straight at the feed
	ArcCW              // G2, clockwise in XY, Z changing evenly on a helix
	ArcCCW             // G3, counter-clockwise
)

// String returns the G word of the kind.
func (k Kind) String() string { return [...]string{"G0", "G1", "G2", "G3"}[k] }

// Move is one motion of the cutter as a reader saw it in a file. Its methods take it
// where it lies: it is 120 bytes long, and of a long program there are millions.
type Move struct {
	Line     int         // 1-based line of the file
	Kind     Kind        // how
	From, To geom.Point3 // mm
	Center   geom.Point  // of an arc in XY, mm
	Sweep    geom.Angle  // of an arc, signed; a full circle is ±2π
	Feed     float64     // mm/min; 0 for a rapid
	RPM      float64     // spindle speed in force, 0 with the spindle off
}

// Cuts reports whether the move is made at a feed.
func (m *Move) Cuts() bool { return m.Kind != Rapid }

// IsArc reports whether the move is circular.
func (m *Move) IsArc() bool { return m.Kind == ArcCW || m.Kind == ArcCCW }

// Curves returns the move seen from above as one curve, or for an arc of more
// than half a turn as two halves, which a bulge can carry without loss.
func (m *Move) Curves() []geom.Curve {
	a, b := m.From.XY(), m.To.XY()
	if !m.IsArc() {
		return []geom.Curve{{A: a, B: b}}
	}
	if math.Abs(float64(m.Sweep)) <= math.Pi {
		return []geom.Curve{{A: a, B: b, Bulge: math.Tan(float64(m.Sweep) / 4)}}
	}
	half := m.Sweep / 2
	s, c := half.Sin(), half.Cos()
	v := a.Sub(m.Center)
	mid := m.Center.Add(geom.Pt(v.X*c-v.Y*s, v.X*s+v.Y*c))
	bulge := math.Tan(float64(half) / 4)
	return []geom.Curve{{A: a, B: mid, Bulge: bulge}, {A: mid, B: b, Bulge: bulge}}
}

// Length returns the length of the move in mm, along the helix for an arc.
func (m *Move) Length() float64 {
	if !m.IsArc() {
		return m.From.Dist(m.To)
	}
	r := m.From.XY().Dist(m.Center)
	return math.Hypot(r*math.Abs(float64(m.Sweep)), m.To.Z-m.From.Z)
}
