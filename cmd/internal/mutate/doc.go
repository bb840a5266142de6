// Package mutate is the proof's own proof: it changes programs and drawings
// the way slips of the hand and careless editors do, and judges each change
// without asking the back-plot or the readers.
//
// The judge of programs, [JudgeProgram], replays a program by a small interpreter of
// its own, which knows the words of the conservative subset and the standard's
// rules as far as a change can break them (each rule is quoted beside its
// check), and then cuts columns of wood one by one: a height for each of
// some thousand places, densest along the edges of what has to be cut and
// round the ends of cuts. That is slow and plain on purpose. Where a change
// comes within [Near] of a limit the answer is Either: columns cannot tell. Either
// is also what the standard allows and advises against, and what interpreters
// may take in two ways without harm. [JudgeHead] judges what the words at a
// program's head make people do.
//
// The judges of drawings, [JudgeDrawing] for DXF and [JudgeSVG], read a file by
// small readers of their own, line by line and tag by tag, and hold places along
// each contour against the contour that was there. A drawing that other programs
// may read in two ways is Harmful where they would cut otherwise, and Either where
// it is a matter of what nobody cuts.
//
// Nothing outside of tests imports the package.
package mutate

import "sync"

// Verdict is what a change does to the work.
type Verdict uint8

// The verdicts.
const (
	Harmless Verdict = iota
	Either           // within Near of a limit
	Harmful
)

// String returns the verdict as a word.
func (v Verdict) String() string { return [...]string{"harmless", "either", "harmful"}[v] }

// Near is how near to a limit, in mm, columns of wood do not tell on which
// side of it a change lies.
const Near = 0.003

// Change is one changed file.
type Change struct {
	Class string        // what kind of change
	What  string        // the change itself, for people
	Line  int           // the line that was changed, 1-based; 0 where the file as a whole was
	Text  func() []byte // makes the changed file
}

// Brief is what a program was to do, in mm, mm/min, degrees and seconds: the
// numbers of the job file, not those of the program.
type Brief struct {
	UnitMM         float64 // of the program's numbers
	Cutter         float64
	Depth          float64 // of the cut, breakthrough included
	Pass           float64 // depth of each equal pass
	Feed, Plunge   float64
	RampDeg        float64
	Accel          float64 // of the machine, mm/s²
	RPMMin, RPMMax float64
	SpinUp         float64
	SafeZ          float64
	Approach       float64
	Travel         [3]float64 // 0 where not limited
	Loads          int
	Park           *Park        // where the cutter is left for the operator; nil where nothing is asked
	Climb          bool         // the side of cut
	Over           [][4]float64 // pieces of work from above: least X and Y, most X and Y
	Slots          []Slot
	Sheet          *Sheet

	mu    sync.Mutex
	seen  map[uint64]ruling // the rulings on the wood, by the moves that cut it
	clear map[airWay]bool   // ways along which nothing is in the way
}

// Park is how far off the work the cutter is left, in X (0) or Y (1); Back where
// the coordinate falls away from the work.
type Park struct {
	Axis int
	To   float64
	Back bool
}

// Slot is a slot with its sides along X and round corners of the cutter's
// radius.
type Slot struct{ X0, X1, Y0, Y1 float64 }
