package backplot

import (
	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/finding"
)

// Task says what one program was to do, and the limits it has to keep.
// Lengths are mm, feeds mm/min, heights above the wood's surface.
type Task struct {
	File   string                // path of the file, for findings
	Block  func(line int) string // the text of a line, may be nil
	Unit   geom.Unit             // in which findings give lengths
	Cutter float64               // diameter
	Limits Limits
	Climb  bool // the side of cut that the job asks for; conventional without it
	// Pockets are areas to be cleared to a floor; where there are pockets no
	// wood outside of them may be touched.
	Pockets []Pocket
	// Loads is how often the pockets are cut: at the stops in between the work
	// is changed and new wood lies under the cutter. 0 and 1 are the same, and
	// then a stop changes nothing.
	Loads int
	// Sheet is given where parts are cut from sheet instead.
	Sheet *Sheet
	// Park is where the cutter leaves the work to when it is changed, and at the
	// end; nil where it may stay.
	Park *toolpath.Park
	// Over are the pieces of work as seen from above, one a station: below the
	// safe height the cutter's middle stays over one of them. Where there are
	// none it is not asked.
	Over []geom.Box
}

// Limits are what the job allows the cutter and the machine.
type Limits struct {
	StepDown       float64 // deepest wood that a move may take
	Feed           float64 // fastest cut
	PlungeFeed     float64 // fastest sinking into wood
	RampMax        geom.Angle
	RPMMin, RPMMax float64
	SpinUpS        float64     // seconds the spindle needs before it may cut
	SafeZ          float64     // least height of travel
	Approach       float64     // least height at which a rapid may end
	Travel         geom.Point3 // of the machine; a zero axis is not limited
	Accel          float64     // of the machine, mm/s²; arcs may be slower for it; 0 where they may not
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

// Sheet is work cut through from a sheet that lies on a spoilboard.
type Sheet struct {
	// Size is the sheet's width and height from the origin; a cut beyond it is
	// a finding. Zero where it is not known.
	Size         geom.Point
	Thickness    float64
	Breakthrough float64 // into the spoilboard
	Parts        []Part
	Keepouts     []geom.Contour // screw zones: no cut may touch them
	Tabs         Tabs
}

// Tabs says what holds a part until it is sawn free.
type Tabs struct {
	Count         int
	Width, Height float64 // least wood across, and up from the sheet's underside
}

// Part is one part where it lies on the sheet, outline and holes.
type Part struct {
	Name    string
	Outline geom.Contour
	Holes   []geom.Contour
	Tabs    int // how many hold it; 0 for as many as the sheet's others
	// TabsAt are the middles of its tabs on the cutter's way, where they are
	// known: they only help to name the line that cut one through.
	TabsAt []geom.Point
	// Slugs says, for each cut-out in turn, what holds the piece that it frees;
	// none where the cut-outs are cleared.
	Slugs []Slug
	// Seats are pieces of the outlines that work will lie against: no tab may
	// stand there.
	Seats []geom.Curve
}

// Slug is the piece that a cut-out frees.
type Slug struct {
	Tabs   int          // how many hold it; 0 where none may stand
	TabsAt []geom.Point // their middles on the cutter's way, where they are known
}

// Result is what the back-plot found.
type Result struct {
	Findings []finding.Finding // the first [MaxFindings]
	Count    int               // all findings, or where [MaxFindings] is passed at least so many
	Checks   []finding.Check
}
