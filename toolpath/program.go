package toolpath

import "starwright/geom"

// Program is what a planner hands to a writer: everything one file says.
type Program struct {
	Name    string   // file name without its ending: slot-left, jigs-1
	Header  []string // plain words at the head of the file, one comment each
	RPM     float64  // spindle speed, rev/min
	SpinUpS float64  // wait after the spindle starts, seconds
	SafeZ   float64  // mm above the surface for travel
	Steps   []Step
	For     Controller // what it is written for
}

// Park is where the cutter leaves the work to, at the safe height, where the
// operator reaches in: in X or in Y, at least as far as said.
type Park struct {
	Axis int     // 0 for X, 1 for Y
	To   float64 // mm
	Back bool    // away from the work is where the coordinate falls
}

// StepKind says what a step of a program does.
type StepKind uint8

// The kinds of step.
const (
	StepMove    StepKind = iota // Kind, To, Center, Feed count
	StepComment                 // Note is written as a comment
	StepStop                    // spindle off, M0, spindle on again; Note says why
)

// Step is one thing a program does.
type Step struct {
	Do     StepKind
	Kind   Kind
	To     geom.Point3 // where a move ends, mm
	Center geom.Point  // of an arc, mm
	Feed   float64     // mm/min
	Note   string
}

// RapidTo returns a rapid to p.
func RapidTo(p geom.Point3) Step { return Step{Kind: Rapid, To: p} }

// FeedTo returns a straight move to p at feed mm/min.
func FeedTo(p geom.Point3, feed float64) Step { return Step{Kind: Linear, To: p, Feed: feed} }

// ArcTo returns a circular move about centre o to p at feed mm/min.
func ArcTo(k Kind, p geom.Point3, o geom.Point, feed float64) Step {
	return Step{Kind: k, To: p, Center: o, Feed: feed}
}

// Remark returns a comment.
func Remark(text string) Step { return Step{Do: StepComment, Note: text} }

// Pause returns a stop for the operator.
func Pause(why string) Step { return Step{Do: StepStop, Note: why} }
