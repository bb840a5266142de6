package tryout

import "starwright/geom"

// Want is what a route has to come to.
type Want struct {
	Unit   geom.Unit // in which faults give lengths
	Units  []Unit
	Plates map[string]Plate // jigs as read back from their drawings, by path
	// Programs are the slot programs of the packet, by path: which facet each
	// was proven to cut.
	Programs map[string]Facet
	// Sheets are the programs of the packet that cut segments, by path.
	Sheets   map[string]Sheet
	SawReach float64 // mm, 0 where the job does not say
}

// Unit is so many stars of one size, as the order has it.
type Unit struct {
	Name    string
	Points  int
	Count   int          // stars
	Segment []geom.Point // counter-clockwise, star's centre at the origin, tip on +x, show face up
	Slot    *Slot
	Spline  *Spline
}

// Slot is a spline slot as the model has it; mm.
type Slot struct{ Start, End, Depth, Width, FromFace float64 }

// Spline is what goes into two slots; mm.
type Spline struct {
	Length, Width, Thickness float64
	Count                    int // for all stars of this kind
}

// Facet is one of the two joint faces of the segments of one unit.
type Facet struct {
	Unit  int
	Right bool // seen from the front with the tip up
}

// Plate is a jig's outline as it was read.
type Plate struct {
	Outline geom.Contour
	Holes   []geom.Contour
}
