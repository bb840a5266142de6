package job

import (
	_ "embed"

	"starwright/geom"
	"starwright/geom/bench/lumber"
	"starwright/geom/problem"
	"starwright/geom/star"
)

// Job is a job file that was read. Lengths are mm, feeds mm/min. A nil pointer
// is a value left open, for the star's model or a later step to choose.
type Job struct {
	Name        string // of the file, as the user gave it
	Units       geom.Unit
	Title       string // what people call the job; may be ""
	Date        string // YYYY-MM-DD, or ""
	Star        StarTable
	Blank       BlankTable
	Shop        ShopTable
	Saw         SawTable
	RouterTable RouterTableTable
	Slot        SlotTable
	OffcutSlot  SlotTable // its Width, FromFace, Wall, Stations, Pitch and Loads are not read: they are the main star's
	Spline      SplineTable
	Cutter      CutterTable // of the slots, and of all else where there is one for both
	Sheets      CutterTable // of jigs and splines, its diameter settled; not read
	Tabs        TabsTable
	Machine     MachineTable
	Controller  ControllerTable
	Sheet       SheetTable
	Output      OutputTable
	Jigs        JigsTable
	Laser       LaserTable
	Print       PrintTable
	Segments    SegmentsTable
	Stock       StockTable
	Wood        WoodTable
	Yard        []Board // that the yard sells, see `[yard]`
	Cost        CostTable
	Times       TimesTable
	Defaults    []problem.Note // values taken because the file left them out
	Warnings    []problem.Note // what the maker should know
	FromShop    []Taken        // values that the shop's file gave
	ShopFile    string         // its name; "" where there is none

	// Each is, of an order, the job of each of its stars alone, in the order of
	// the file; nil for a job of one star. The tables above that may be a star's
	// own are then those of the first.
	Each []*Job

	root      *node
	item      *node      // of a star of an order: its table
	place     int        // and its place in the order, from 1
	input     Input      // that it was read from
	sheetBits []star.Bit // that the sheets may be cut with, the best first; none where the slots' cutter cuts them
	passed    int        // how many better ones were passed over
	sizeless  bool       // the star has no size that can be read
}

// StarTable is `[star]`. One of BoardWidth and StarWidth is 0.
type StarTable struct {
	Name        string // of a star of an order, "" for the only one
	Points      int
	BoardWidth  float64      // mm
	Nominal     *lumber.Size // of the board, where BoardWidth was given by its trade name
	StarWidth   float64      // mm, widest tip to tip
	Thickness   float64      // mm
	Tip         *geom.Angle
	Count       int
	OffcutStar  bool
	OffcutSpare float64   // mm of a glued pair beyond the second star's centre
	Woods       [2]string // of a star of two woods; else ""
	Halves      star.Halves
	Joint       star.Joint // "" where `[slot]` make says it
	HangHole    *float64   // mm, diameter; nil for none
	HangAt      *float64   // mm from the star's centre
	OffcutHang  *float64   // mm, diameter, of the second star; nil for none
}

// BlankTable is `[blank]`.
type BlankTable struct {
	EndTrim float64 // mm added to the segment's length
	RoundTo float64 // mm, the step the blank is rounded up to; 0 for none
}

// SawTable is `[saw]`.
type SawTable struct {
	Kerf     float64 // mm
	MaxMiter geom.Angle
	Reach    *float64 // mm, longest cut from the fence; nil where the job does not say
	Swing    Swing
}

// SlotTable is `[slot]` or `[offcut_slot]`.
type SlotTable struct {
	Make      *bool
	Width     *float64 // mm
	Depth     *float64 // mm
	FromFace  *float64 // mm
	Start     *float64 // mm
	EndMargin *float64 // mm
	Web       *float64 // mm
	Wall      *float64 // mm
	Stations  int      // segments held side by side
	Pitch     float64  // mm from one station to the next
	Loads     int      // how often the stations are filled in one program
}

// SplineTable is `[spline]`.
type SplineTable struct {
	Thickness *float64 // mm, measured
	Fit       float64  // mm, slot width less spline thickness
	GlueGap   float64  // mm, both slots' depth less the spline's width
}

// CutterTable is `[cutter]`.
type CutterTable struct {
	Diameter     *float64 // mm
	DepthPerPass float64  // mm
	Feed         float64  // mm/min
	PlungeFeed   float64  // mm/min
	SpindleRPM   float64
	Flutes       int
	CutLength    *float64   // mm
	Ramp         geom.Angle // steepest way into the wood
	Climb        bool       // side = "climb"
	Arcs         bool       // G2 and G3 may be used
}

// TabsTable is `[tabs]`.
type TabsTable struct {
	Count         int
	Width, Height float64 // mm
}

// MachineTable is `[machine]`.
type MachineTable struct {
	SafeZ      float64    // mm over the wood
	Approach   float64    // mm over the wood where rapids down end
	Travel     [3]float64 // mm; all 0 where the job does not say
	Room       *float64   // mm from the table to the collet at its highest; nil where the job does not say
	Park       string     // "back", "front", "left" or "right" of the work, or "up"
	SpinUp     float64    // seconds
	MaxFeed    *float64   // mm/min; nil where the job does not say
	SpindleMin *float64   // rev/min
	SpindleMax *float64   // rev/min
	Accel      float64    // mm/s²
}

// SheetTable is `[sheet]`.
type SheetTable struct {
	Width, Height, Thickness float64  // mm
	Margin                   float64  // mm kept free along the sheet's edges
	Spacing                  *float64 // mm between parts; [Load] fills it
	Breakthrough             float64  // mm cut into the spoilboard
	ScrewZones               bool
}

// OutputTable is `[output]`.
type OutputTable struct {
	DXFUnits, GCodeUnits geom.Unit
}

// JigsTable is `[jigs]`.
type JigsTable struct {
	Make []string // nil: those that are worth making; empty: none
}

// LaserTable is `[laser]`.
type LaserTable struct {
	Kerf *float64 // mm
}

// PrintTable is `[print]`.
type PrintTable struct {
	Paper  string // "A4" or "Letter"
	Labels bool   // a page of labels to cut
}

// StockTable is `[stock]`.
type StockTable struct {
	Boards   []Board
	Trim     float64      // mm lost at each end of every board
	Laminate bool         // the star's boards are glued up from strips
	Width    float64      // mm, of the boards on the rack; 0 where they are as wide as the star's
	Nominal  *lumber.Size // of them, where Width was given by its trade name
	RipKerf  float64      // mm, of the saw that rips; 0 without Width
	Jointing float64      // mm planed off each edge that is glued; 0 where nothing is glued up
}

// Board is one length of board, or several alike.
type Board struct {
	Length    float64      // mm
	Width     float64      // mm; 0 for that of all boards
	Thickness float64      // mm; 0 for that of the star
	Wood      string       // "" for that of `[wood]`
	Bad       [][2]float64 // stretches to leave out, from and to, mm from one end
	Count     int
	Price     *float64 // of one, nil where the file does not say
	Line      int      // of the file
}

// WoodTable is `[wood]`. Moisture contents and humidities are percent.
type WoodTable struct {
	Species       string // "" where the job does not say
	MCNow         *float64
	MCService     *float64
	RHNow         *float64
	RHService     *float64
	MovementLimit float64 // mm of opening that is not warned of; 0 without a wood
}

// parse reads a job file and returns it with all defaults, and all that is wrong
// with it: wrong values are replaced by usual ones. The job is nil only where the
// file cannot be read at all.
func parse(in Input) (*Job, []Error) {
	root, errs := readTree(in.Job.Name, in.Job.Data)
	if root == nil {
		return nil, errs
	}
	if n := root.kids["star"]; isOrder(n) {
		return parseOrder(in, root, n, errs)
	}
	r := &reader{file: in.Job.Name, root: root, errs: errs, known: map[string][]string{}}
	return r.withShop(in), r.errs
}

// withShop reads the job with what the shop's file gives.
func (r *reader) withShop(in Input) *Job {
	if in.Shop != nil {
		r.shopFile(*in.Shop)
	}
	j := r.job()
	if j.FromShop = r.taken; in.Shop != nil {
		j.ShopFile = in.Shop.Name
	}
	return j
}

// job reads all tables.
func (r *reader) job() *Job {
	j := &Job{Name: r.file, root: r.root}
	r.head(j)
	r.star(j)
	r.blankAndSaw(j)
	r.shop(j)
	r.slots(j)
	r.machine(j)
	r.controller(j)
	r.cutter(j)
	r.tabs(j)
	r.sheet(j)
	r.output(j)
	r.segments(j)
	r.stock(j)
	r.wood(j)
	r.yard(j)
	r.cost(j)
	r.unknown()
	j.Defaults = r.defaults
	if d := j.Cutter.Diameter; d != nil {
		j.takeBit(*d)
	}
	j.settleCutting(j.supposed())
	r.rules(j)
	j.Warnings = r.warnings
	j.sizeless = r.sizeless
	return j
}

// Spec returns what the job asks of the star's model.
func (j *Job) Spec() star.Spec {
	slot := func(t SlotTable) star.SlotSpec {
		return star.SlotSpec{Make: t.Make, Width: t.Width, Depth: t.Depth, FromFace: t.FromFace,
			Start: t.Start, EndMargin: t.EndMargin, Web: t.Web, Wall: t.Wall}
	}
	hole, small := 0.0, 0.0
	if j.Star.HangHole != nil {
		hole = *j.Star.HangHole
	}
	if j.Star.OffcutHang != nil {
		small = *j.Star.OffcutHang
	}
	return star.Spec{
		HangHole: hole, HangAt: j.Star.HangAt, OffcutHang: small, Joint: j.Star.Joint,
		Woods: j.Star.Woods, Halves: j.Star.Halves,
		Name: j.Star.Name, Unit: j.Units,
		Points: j.Star.Points, BoardWidth: j.Star.BoardWidth, StarWidth: j.Star.StarWidth,
		Thickness: j.Star.Thickness, Tip: j.Star.Tip, Count: j.Star.Count, OffcutStar: j.Star.OffcutStar,
		OffcutSpare: j.Star.OffcutSpare,
		EndTrim:     j.Blank.EndTrim, RoundTo: j.Blank.RoundTo, Kerf: j.Saw.Kerf,
		Cutter: j.Cutter.Diameter, Owned: j.owned(), CutLength: j.Cutter.CutLength, MaxTravelX: j.Machine.Travel[0],
		Slot: slot(j.Slot), OffcutSlot: slot(j.OffcutSlot),
		SplineThick: j.Spline.Thickness, SplineFit: j.Spline.Fit, GlueGap: j.Spline.GlueGap,
	}
}

// Specs returns what the job asks of the star's model, for each of its stars.
func (j *Job) Specs() []star.Spec {
	all := j.Each
	if all == nil {
		all = []*Job{j}
	}
	out := make([]star.Spec, len(all))
	for i, k := range all {
		out[i] = k.Spec()
		if len(j.sheetBits) > 0 { // chosen for the whole order
			out[i].SheetBit = j.sheetBits[0].Diameter
		}
	}
	return out
}

//go:embed builtin.toml
var builtIn string

// BuiltInName is what errors and printouts call the job of [BuiltIn].
const BuiltInName = "built-in job"

// BuiltIn returns the job that is made where the user names none.
func BuiltIn() []byte { return []byte(builtIn) }

//go:embed starter.toml
var starter string

// Starter returns a job file with every key explained, for a new job to start
// from.
func Starter() []byte { return []byte(starter) }

//go:embed order.toml
var orderStarter string

// OrderStarter returns an order of several stars with its keys explained, for a
// new one to start from.
func OrderStarter() []byte { return []byte(orderStarter) }
