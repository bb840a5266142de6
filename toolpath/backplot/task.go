package backplot

import (
	"starwright/geom"
	"starwright/toolpath/finding"
)

// Task says what one program was to do, and the limits it has to keep.
// Lengths are mm, feeds mm/min, heights above the wood's surface.
type Task struct {
	File   string                // path of the file, for findings
	Block  func(line int) string // the text of a line, may be nil
	Cutter float64               // diameter
	Limits Limits
	// Pockets are areas to be cleared to a floor; where there are pockets no
	// wood outside of them may be touched.
	Pockets []Pocket
	// Sheet is given where parts are cut from sheet instead.
	Sheet *Sheet
}

// Limits are what the job allows the cutter and the machine.
type Limits struct {
	StepDown       float64 // deepest wood that a move may take
	Feed           float64 // fastest cut
	PlungeFeed     float64 // fastest sinking into wood
	RampMax        geom.Angle
	RPMMin, RPMMax float64
	SafeZ          float64     // least height of travel
	Approach       float64     // least height at which a rapid may end
	Travel         geom.Point3 // of the machine; a zero axis is not limited
}

// Pocket is an area to be cleared.
type Pocket struct {
	Name    string
	Outline geom.Contour // counter-clockwise
	Depth   float64
	// Where says in the words of the bench on which side of the pocket a point
	// outside of it lies: "towards the show face". May be nil.
	Where func(geom.Point) string
}

// Result is what the back-plot found.
type Result struct {
	Findings []finding.Finding
	Checks   []finding.Check
}

// OK reports whether the file keeps everything it had to.
func (r Result) OK() bool {
	for _, c := range r.Checks {
		if !c.Pass {
			return false
		}
	}
	return len(r.Findings) == 0
}
