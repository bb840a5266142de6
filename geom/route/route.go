package route

import "starwright/geom"

// Machine is what a set-up is made on, as `[shop] has` names it.
type Machine string

// The machines. Hand is none of them: hand saw, plane and shooting block.
const (
	MitreSaw    Machine = "mitre saw"
	RouterTable Machine = "router table"
	CNC         Machine = "cnc"
	Laser       Machine = "laser"
	Hand        Machine = "hand"
)

// Word is the machine as people write it.
func (m Machine) Word() string {
	if m == CNC {
		return "CNC"
	}
	return string(m)
}

// Kind is the operation that a set-up is part of.
type Kind string

// The operations, in the order in which a star meets them.
const (
	CutJigs    Kind = "jigs"        // from sheet, before the first cut that needs them
	Rip        Kind = "rip"         // boards to the star's width
	Strips     Kind = "strips"      // strips of a lamination, ripped and cut to length
	Laminate   Kind = "laminate"    // strips glued edge to edge, then planed to width
	Blanks     Kind = "blanks"      // boards cut to length
	Boards     Kind = "boards"      // boards cut to pieces that lie on the CNC
	Segments   Kind = "segments"    // cut from such pieces
	Edges      Kind = "edges"       // outer edges of segments cleaned of the tabs
	Facet      Kind = "facet"       // joint face at the star's centre
	TestFit    Kind = "test fit"    // one star laid together dry, and the correction
	Tip        Kind = "tip"         // outer edge from valley to tip
	GluePairs  Kind = "glue pairs"  // two tip off-cuts to one blank of the off-cut star
	PairFacet  Kind = "pair facet"  // joint face of a small segment
	Slot       Kind = "slot"        // spline slot in a facet
	Splines    Kind = "splines"     // cut from sheet or strip
	DryFit     Kind = "dry fit"     // with splines, before glue
	GlueHalves Kind = "glue halves" // all joints but the last two
	TrueHalves Kind = "true halves" // the open faces of both halves
	GlueLast   Kind = "glue last"   // the last two joints
	Hang       Kind = "hang"        // hole to hang the star by
	Plates     Kind = "plates"      // back plates, cut from sheet
	Plate      Kind = "plate"       // screwed on the back
	Finish     Kind = "finish"      // flush, edges, finish
)

// Stage says which part of the batch a set-up is for.
type Stage string

// A route tries one star before it cuts the batch.
const (
	FirstStar Stage = "first star"
	Rest      Stage = "rest"
	All       Stage = "all"
)

// Route is the set-ups in the order of work, and what was chosen on the way.
type Route struct {
	Setups  []Setup
	Choices []Choice
}

// Choice is how one operation is done. Next is what the next best way would
// need, "" where there is none.
type Choice struct {
	Operation string // in words: "facets"
	Star      string // name of the unit, "" where there is one or it holds for all
	Method    string // "mitre saw at 0°, with an angle block of 54°"
	Why       string // "54° is beyond the saw's 50°"
	Next      string
}

// Setup is one set-up: fence, stop and jigs stay as they are while Count pieces
// go through.
type Setup struct {
	Name    string // unique in the route, in words
	Kind    Kind
	Group   string // set-ups with the same group share a page: first and second facet, left and right, first star and rest
	Page    int    // of the printed sheet, from 1; filled in when the pages are laid out
	Machine Machine
	Unit    int    // index into the order's units
	Star    string // the unit's name, "" where there is one
	Stage   Stage
	Count   int    // how many
	Of      string // of what: "cuts", "blanks", "slots"
	Pieces  int    // how many pieces go through, try pieces counted

	Jigs     []JigUse
	Readings []Reading // every number that is set or measured

	// Of a set-up that cuts an outline:
	Piece   *Piece
	Hold    *Hold
	Cut     *Cut
	Touches []Touch

	Slot   *SlotCut   // of a set-up that cuts a slot
	Join   *Join      // of a set-up that glues pieces to another one
	Sheets []SheetCut // of a set-up that cuts pieces with the programs of sheets: Piece says which, without Hold and Cut

	// Keeps says, in an order, what the set-up before on this machine leaves as it
	// is, "" where the machine is set anew: "saw 0°, block 54°". Then only stops are
	// moved, and jigs that hold the work changed.
	Keeps string

	TurnBefore string // what is turned between the cut before and this one, "" for nothing
	SetUp      []string
	Steps      []string
	Measure    []string
	Cautions   []string
	Support    string // what carries a long overhang, or what falls off
	Swing      Side   // which way the saw's arm goes from square, seen from above by the operator
	Setting    geom.Angle
	Method     Method
}

// Side is left or right, as the operator sees it; "" is neither.
type Side string

// The sides. Of a star: seen from the front with the tip up.
const (
	Left  Side = "left"
	Right Side = "right"
)

// Method is how the work is held for a cut with an angle.
type Method string

// The methods.
const (
	Direct  Method = "direct"   // board's edge against the fence
	OnBlock Method = "block"    // board's edge against an angle block, saw square or turned
	OnFacet Method = "on facet" // finished facet against the fence
	OnEdge  Method = "on edge"  // finished outer edge against the fence
	Cradled Method = "cradle"   // in a notched plate, saw square
	ByHand  Method = "hand"     // sawn to a line, planed to it
	Program Method = "program"  // on a CNC
	Carried Method = "carriage" // over a router bit
	Drawing Method = "drawing"  // from a drawing: laser or makerspace
)

// JigUse is a jig as a set-up uses it.
type JigUse struct {
	Key    string // kind of jig, as in `[jigs] make`
	Title  string // in words: "angle block 54°"
	Path   string // of its drawing: "dxf/jig-angle-block-54.dxf"; "" for one that the job does not make
	Plates int    // how many of it lie on each other
	Sets   int    // how many jigs of it stand there at once; 0 for one
	Base   string // drawing of the base below, "" for none
	Bed    string // drawing of what carries the off-cut beside it, "" for none
	Does   string // what it does, in a few words
	Beside bool   // its plates lie beside each other instead of on each other
}

// Piece is what is cut, before and after, in its own coordinates. What After of
// one set-up leaves is Before of the next on that kind of piece.
type Piece struct {
	Kind          string // PieceSegment and so on
	Before, After []geom.Point
	Falls         string // kind of the piece that the cut frees, where it is used later; "" for waste
}

// Kinds of pieces.
const (
	PieceSegment      = "segment" // from blank to finished segment
	PieceFirstOffcut  = "first off-cut"
	PieceSecondOffcut = "second off-cut"
	PiecePair         = "pair" // two off-cuts glued, until both facets are cut
	PieceHalf         = "half"
	PieceStar         = "star"
)

// Hold is where the readings, as printed, put the piece into the machine.
type Hold struct {
	ShowFaceDown bool
	Turn         geom.Angle
	X, Y         float64 // mm
}

// Place returns the hold as a placement of the piece.
func (h Hold) Place() geom.Place {
	return geom.Place{Mirror: h.ShowFaceDown, Turn: h.Turn, Move: geom.Pt(h.X, h.Y)}
}

// Cut is the edge of the kerf on the kept side, in the machine's coordinates.
type Cut struct {
	From, To geom.Point // from the fence outwards, long enough to sever what falls off
	KeepLeft bool       // looking from From to To; else the right side is kept
	Kerf     float64    // mm, on the side that is not kept
	Reach    float64    // mm along the line of cut from the fence to where the wood ends
}

// What work touches.
const (
	TouchFence  = "fence"
	TouchStop   = "stop"
	TouchBlock  = "block"
	TouchCradle = "cradle"
	TouchTable  = "table"
	TouchLine   = "line" // a line drawn on the work, for work by hand
)

// Touch is a contact of the work. Edge i runs from corner i of Before to the
// next; -1 where it is no edge, and so for Corner.
type Touch struct {
	What   string
	Edge   int
	Corner int
	Jig    string // path of the drawing, where a jig is touched
}

// SlotCut is a spline slot in one facet, as the printed numbers place it.
type SlotCut struct {
	Hand     Side    // of the facet: seen from the front with the tip up
	Edge     int     // of the finished segment's outline
	Start    float64 // mm from the star's centre to the near end, cutter radius included
	End      float64 // mm from the star's centre to the far end, likewise
	Depth    float64 // mm from the facet
	Width    float64 // mm
	FromFace float64 // mm from the show face to the slot's middle
	Program  string  // path of the program; "" where it is cut on a router table
}

// SheetCut is a sheet's program that is run for a set-up.
type SheetCut struct {
	Program string // its path
	Runs    int
	Each    int // pieces of the set-up's kind that one run gives
}

// Join is pieces glued to a new one.
type Join struct {
	Parts []JoinPart
	Makes string       // kind of piece
	After []geom.Point // its outline, in its own coordinates
}

// JoinPart is one piece and where it lies in the coordinates of what it
// becomes part of.
type JoinPart struct {
	Kind string
	At   geom.Place
}
