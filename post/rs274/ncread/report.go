package ncread

import (
	"math"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/finding"
)

// Bounds of what a Report holds, whatever the file is.
const (
	MaxFindings = 1000 // findings kept; all are counted
	MaxStops    = 1000 // stops kept; all are counted
	MaxHead     = 64   // comments of the head kept
)

// Events is what the caller wants to see while a program is replayed; nil
// functions are passed over. They are called in the order of execution. The
// first error that one returns ends the reading and is returned by Read.
type Events struct {
	// Move is called for every motion whose end is known in all three axes.
	// The Move is used again for the next one: copy it to keep it.
	Move func(m *toolpath.Move) error
	// Given is called for each axis (0 for X, 1 for Y, 2 for Z) that a motion
	// gives while the place is not yet known in all three: it is the end of the
	// first Move, though another line may give the rest of it.
	Given func(line, axis int) error
	// Comment is called for every line with a comment, with its text.
	Comment func(line int, text string)
	// Stop is called for every M0 and M1.
	Stop func(line int) error
	// Spindle is called when the spindle starts, changes its speed or stops;
	// rpm is its speed in rev/min, 0 when it stops.
	Spindle func(line int, on bool, rpm float64) error
	// Dwell is called for every G4, with its length in seconds.
	Dwell func(line int, seconds float64) error
}

// Range is the least and the most of a value that was used.
type Range struct{ Min, Max float64 }

// noRange holds no value.
func noRange() Range { return Range{math.Inf(1), math.Inf(-1)} }

// add takes in a value.
func (r *Range) add(v float64) {
	if v < r.Min {
		r.Min = v
	}
	if v > r.Max {
		r.Max = v
	}
}

// Report is what was found out about one file.
type Report struct {
	File         string
	Findings     []finding.Finding // faults, the first MaxFindings of them
	FindingCount int               // all faults
	Notes        []finding.Finding // harmless remarks, the first of each rule
	NoteCount    int               // all remarks

	Lines  int // lines of the file
	Blocks int // lines with at least one word, up to the end of the program
	Moves  int // motions handed out, rapids among them
	Rapids int // rapids handed out

	UnitMM    float64     // 1 or 25.4, 0 where the program names no unit
	Head      []string    // comments before the first word, the first MaxHead
	EndWord   string      // "M2", "M30", "%", or empty where there is no end
	EndLine   int         // its line, 0 without one
	SpindleOn bool        // the spindle still turned when the end was reached
	Last      geom.Point3 // where the cutter was left, mm
	LastKnown bool        // all of Last is known
	Feed      Range       // of the motions at a feed, mm/min
	RPM       Range       // of the spindle while it was on, rev/min
	Stops     []int       // lines with M0 or M1, the first MaxStops
	StopCount int         // all stops
	DwellS    float64     // sum of all dwells, seconds
	Modal     []string    // G words in force before the end word, by group
}
