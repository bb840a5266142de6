// Package star is the parametric model of solid stars made of kite-shaped
// segments: an order ([Order]) of stars, each unit of it ([Unit]) with its
// segment, the blank that it is sawn from or the off-cuts of another unit, the
// spline slots in the facets and the splines.
//
// The star's centre O lies at the origin and the segment's tip on +x. With n
// points, board width w, tip angle t and centre angle c = 360/n:
//
//	           valley ( (w/2)cot(c/2), w/2 )
//	          .-'  `-._
//	facet  .-'         `-._  edge
//	    .-'  c/2    t/2    `-._
//	  O ------------------------ tip ( L, 0 )
//	    `-.                _.-'
//	       `-.         _.-'
//	          `-.  _.-'
//
// The model checks what wood allows and says what it chose where the job left
// a choice open. It knows nothing of saws' makers, cutters' paths or files.
package star

import "starwright/geom"

// Spec is what a job asks for. Lengths are millimetres; a nil pointer is a
// value that the job left open, which [NewOrder] fills.
type Spec struct {
	Name        string    // letters, digits and -; "" for the only star of a job
	Unit        geom.Unit // of the values in problems and defaults
	Points      int
	BoardWidth  float64 // valley to valley across a segment; 0 when sized by StarWidth
	StarWidth   float64 // widest tip to tip; 0 when sized by BoardWidth
	Thickness   float64
	Tip         *geom.Angle
	Count       int     // stars
	OffcutStar  bool    // a second star from each star's tip off-cuts
	OffcutSpare float64 // wood of a glued pair beyond the second star's centre, for what planing and sawing lose
	EndTrim     float64
	RoundTo     float64
	Kerf        float64
	Cutter      *float64 // diameter
	Owned       []Bit    // cutters to choose from, the thickest first; none for the usual ones
	SheetBit    float64  // diameter of the cutter for all that is cut from sheet; 0 for that of the slots
	CutLength   *float64 // of the cutter's edges, where the job gives it
	MaxTravelX  float64  // along a facet, 0 where no machine limits it
	Slot        SlotSpec
	OffcutSlot  SlotSpec
	SplineThick *float64  // measured thickness of the spline stock
	SplineFit   float64   // slot width less spline thickness
	GlueGap     float64   // both slots' depth less the spline's width
	Woods       [2]string // of a star of two woods, the left half's first; else ""
	Halves      Halves
	Joint       Joint    // as the job names it; "" where it does not
	HangHole    float64  // diameter of a hole to hang the star by; 0 for none
	OffcutHang  float64  // the same of the second star
	HangAt      *float64 // from the star's centre to the hole
}

// Bit is a straight cutter that a shop has.
type Bit struct {
	Diameter  float64 // mm
	CutLength float64 // mm; 0 where it is not known
	Flutes    int     // 0 where it is not known
}

// SlotSpec is what a job asks of the slots of one star.
type SlotSpec struct {
	Make      *bool
	Width     *float64
	Depth     *float64 // from the facet inwards
	FromFace  *float64 // show face to the slot's centre
	Start     *float64 // star's centre to the near end along the facet
	EndMargin *float64 // far end to the valley along the facet
	Web       *float64 // least wood between the two slots of a segment
	Wall      *float64 // least wood to both faces of the board
}

// asked reports whether the job says anything of the slots.
func (s SlotSpec) asked() bool {
	return s.Make != nil && *s.Make || s.Width != nil || s.Depth != nil || s.FromFace != nil ||
		s.Start != nil || s.EndMargin != nil || s.Web != nil || s.Wall != nil
}

// floor and ceil print a length rounded to what a rule shows, towards the side
// on which the value still does.
func floor(u geom.Unit, mm float64) string { return u.FormatFloor(max(0, mm)) }
func ceil(u geom.Unit, mm float64) string  { return u.Format(u.Ceil(mm)) }
