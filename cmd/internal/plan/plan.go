// Package plan says every number of a job: as one JSON document for programs,
// and as one page for the person at the bench. It computes nothing that the
// model has not settled; it only names, groups and prints.
package plan

import (
	"fmt"

	"starwright/cmd/internal/benchwork"
	"starwright/cmd/internal/costing"
	"starwright/cmd/internal/job"
	"starwright/cmd/internal/packet"
	"starwright/geom"
	"starwright/geom/problem"
	"starwright/geom/star"
)

// Document is the JSON document of `plan --json`. Lengths are mm (_mm), angles
// degrees (_deg), at full precision.
type Document struct {
	Job   string `json:"job"`
	Units string `json:"units"`
	// Of a job of one star its numbers stand at the top, of an order in a list.
	*KindDocument
	Stars       []OrderedDocument `json:"stars,omitempty"`
	Cutter      CutterDocument    `json:"cutter"`
	SheetCutter *CutterDocument   `json:"sheet_cutter,omitempty"`   // where jigs and splines have one of their own
	SegmentBit  *CutterDocument   `json:"segment_cutter,omitempty"` // where segments are cut on the CNC with another one than the slots
	Stations    *StationsDocument `json:"stations,omitempty"`
	Jigs        []JigDocument     `json:"jigs"`
	Sheets      []SheetDocument   `json:"sheets"`
	Programs    []ProgramDocument `json:"programs"`
	Drawings    []DrawingDocument `json:"drawings"`
	Choices     []ChoiceDocument  `json:"choices"`
	Route       []SetupDocument   `json:"route"`

	Strips *benchwork.StripsDocument `json:"strips,omitempty"`
	Stock  any                       `json:"stock,omitempty"` // a [benchwork.StockDocument], of an order a [benchwork.RackDocument], of segments from the CNC a [benchwork.FlatDocument]
	Wood   *benchwork.WoodDocument   `json:"wood,omitempty"`
	Feeds  []benchwork.FeedDocument  `json:"feeds"`

	Cost *costing.Document `json:"cost,omitempty"`

	ShopFile string          `json:"shop_file"` // "" without one
	FromShop []TakenDocument `json:"from_shop"` // what the shop file gave; all else that is no default stands in the job
	Defaults []NoteDocument  `json:"defaults"`
	Warnings []NoteDocument  `json:"warnings"`
}

// KindDocument is one kind of star, with the one from its off-cuts.
type KindDocument struct {
	Count   int             `json:"count"`
	Woods   []string        `json:"woods,omitempty"`  // of a star of two, the left half's first
	Halves  string          `json:"halves,omitempty"` // how they come together
	Joint   string          `json:"joint"`            // spline, plain or plate
	Plate   *PlateDocument  `json:"plate,omitempty"`
	Star    StarDocument    `json:"star"`
	Segment SegmentDocument `json:"segment"`
	Blank   BlankDocument   `json:"blank"`
	Saw     SawDocument     `json:"saw"`
	Slot    *SlotDocument   `json:"slot,omitempty"`
	Spline  *SplineDocument `json:"spline,omitempty"`
	Offcut  *OffcutDocument `json:"offcut,omitempty"`
	Hang    *HangDocument   `json:"hang,omitempty"`
}

// PlateDocument is a plate on the back of a star, as it lies on it; distances count
// from the star's centre.
type PlateDocument struct {
	Outline   [][2]float64 `json:"outline_mm"`
	Thickness float64      `json:"thickness_mm"`
	Bore      float64      `json:"screw_hole_mm"`
	Screws    [][2]float64 `json:"screws_mm"`
	KeyAt     float64      `json:"keyhole_at_mm"` // middle of its round end, towards a tip
	KeyHead   float64      `json:"keyhole_head_mm"`
	Neck      float64      `json:"keyhole_neck_mm"`
	Run       float64      `json:"keyhole_run_mm"` // from there to where the screw hangs
	Count     int          `json:"count"`
}

func newPlate(w *packet.Work, u *star.Unit) *PlateDocument {
	p := u.Plate
	if p == nil {
		return nil
	}
	d := &PlateDocument{Thickness: w.Job.Sheet.Thickness, Bore: p.Bore, KeyAt: p.KeyAt, KeyHead: p.KeyHead, Neck: p.Neck, Run: p.Run, Count: u.Count()}
	for _, v := range p.Outline() {
		d.Outline = append(d.Outline, [2]float64{v.X, v.Y})
	}
	for _, h := range p.Screws() {
		at := h.Bounds().Center()
		d.Screws = append(d.Screws, [2]float64{at.X, at.Y})
	}
	return d
}

// HangDocument is the hole that a star hangs by, on the middle line of its top
// segment.
type HangDocument struct {
	Diameter float64 `json:"diameter_mm"`
	At       float64 `json:"at_mm"`   // from the star's centre
	Wood     float64 `json:"wood_mm"` // to the nearest joint, edge or slot
}

// OrderedDocument is one kind of star of an order.
type OrderedDocument struct {
	Name string `json:"name"`
	KindDocument
	Stations StationsDocument          `json:"stations"`
	Strips   *benchwork.StripsDocument `json:"strips,omitempty"`
	Wood     *benchwork.WoodDocument   `json:"wood,omitempty"`
}

// StarDocument is a whole star.
type StarDocument struct {
	Points       int     `json:"points"`
	Width        float64 `json:"width_mm"`
	Circumradius float64 `json:"circumradius_mm"`
	ValleyRadius float64 `json:"valley_radius_mm"`
	Tip          float64 `json:"tip_deg"`
	Center       float64 `json:"center_deg"`
}

// SegmentDocument is one kite.
type SegmentDocument struct {
	Length    float64      `json:"length_mm"`
	Width     float64      `json:"width_mm"`
	Facet     float64      `json:"facet_mm"`
	Edge      float64      `json:"edge_mm"`
	Thickness float64      `json:"thickness_mm"`
	Outline   [][2]float64 `json:"outline_mm"`
}

// BlankDocument is the piece a segment is cut from.
type BlankDocument struct {
	Length float64 `json:"length_mm"`
	Width  float64 `json:"width_mm"`
	Count  int     `json:"count"`
}

// SawDocument is what the saw is set to.
type SawDocument struct {
	CenterMiter float64 `json:"center_miter_deg"`
	TipMiter    float64 `json:"tip_miter_deg"`
	MaxMiter    float64 `json:"max_miter_deg"`
	Kerf        float64 `json:"kerf_mm"`
}

// SlotDocument is a spline slot; positions run along the facet from the star's centre.
type SlotDocument struct {
	Width    float64 `json:"width_mm"`
	Depth    float64 `json:"depth_mm"`
	FromFace float64 `json:"from_face_mm"`
	Start    float64 `json:"start_mm"`
	End      float64 `json:"end_mm"`
	Web      float64 `json:"web_mm"`
	Wall     float64 `json:"wall_mm"`
}

// SplineDocument is the loose tongue of a joint.
type SplineDocument struct {
	Length    float64 `json:"length_mm"`
	Width     float64 `json:"width_mm"`
	Thickness float64 `json:"thickness_mm"`
	Count     int     `json:"count"`
}

// OffcutDocument is the second star.
type OffcutDocument struct {
	Star    StarDocument    `json:"star"`
	Segment SegmentDocument `json:"segment"`
	Slot    *SlotDocument   `json:"slot,omitempty"`
	Spline  *SplineDocument `json:"spline,omitempty"`
	Joint   string          `json:"joint"`
	Plate   *PlateDocument  `json:"plate,omitempty"`
	Hang    *HangDocument   `json:"hang,omitempty"`
}

// CutterDocument is the bit the slots are cut with.
type CutterDocument struct {
	Diameter float64 `json:"diameter_mm"`
	Feed     float64 `json:"feed_mm_min"`
	Plunge   float64 `json:"plunge_feed_mm_min"`
	PerPass  float64 `json:"depth_per_pass_mm"`
	RPM      float64 `json:"spindle_rpm"`
}

// StationsDocument is how segments are held side by side for the slot programs.
type StationsDocument struct {
	Count int     `json:"count"`
	Pitch float64 `json:"pitch_mm"`
	Loads int     `json:"loads"`
}

// ProgramDocument is a G-code program of the packet.
type ProgramDocument struct {
	Path    string  `json:"path"`
	Use     string  `json:"use"`
	Runs    int     `json:"runs"`
	Minutes float64 `json:"minutes"`
}

// DrawingDocument is a DXF of the packet.
type DrawingDocument struct {
	Path     string `json:"path"`
	Use      string `json:"use"`
	Quantity int    `json:"quantity"`
}

// TakenDocument is a value that the shop file gave.
type TakenDocument struct {
	Key   string `json:"key"`
	Value string `json:"value"`
	File  string `json:"file"`
	Line  int    `json:"line"`
}

func taken(j *job.Job) []TakenDocument {
	out := []TakenDocument{}
	for _, t := range j.FromShop {
		out = append(out, TakenDocument(t))
	}
	return out
}

// NoteDocument is a default that was taken or a warning.
type NoteDocument struct {
	Key   string `json:"key"`
	Value string `json:"value"`
	Why   string `json:"why"`
	Star  string `json:"star,omitempty"` // of an order: which star it is about, where it is one
}

func cutterDocument(c job.CutterTable, diameter float64) CutterDocument {
	return CutterDocument{diameter, c.Feed, c.PlungeFeed, c.DepthPerPass, c.SpindleRPM}
}

// New returns the plan of a job that was worked out.
func New(w *packet.Work) *Document {
	o, j := w.Order, w.Job
	p := &Document{
		Job: w.Title(), Units: j.Units.String(),
		Cutter: cutterDocument(j.Cutter, o.Cutter),
		Jigs:   newJigs(w.Jigs), Sheets: newSheets(w),
		Choices: newChoices(w.Route.Choices), Route: Setups(w.Route.Setups),
		Programs: []ProgramDocument{}, Drawings: []DrawingDocument{}, Feeds: []benchwork.FeedDocument{},
		ShopFile: j.ShopFile, FromShop: taken(j),
		Defaults: notes(j.Defaults, o.Defaults), Warnings: notes(j.Warnings, o.Warnings, w.Warnings),
	}
	if !j.OneCutter(o) {
		d := cutterDocument(j.Sheets, *j.Sheets.Diameter)
		p.SheetCutter = &d
	}
	if c := j.Segments.Cutter; j.OwnSegmentCutter(o) {
		d := cutterDocument(c, *c.Diameter)
		p.SegmentBit = &d
	}
	p.kinds(w)
	if x := w.Bench; x != nil {
		p.Feeds = x.FeedDocuments()
		if x.Stock != nil {
			p.Stock = x.Stock.Document()
		} else if x.Rack != nil {
			p.Stock = x.Rack.Document()
		} else if x.Flat != nil {
			p.Stock = x.Flat.Document()
		}
		p.Warnings = append(p.Warnings, notes(x.Warnings)...)
	}
	if w.Cost != nil {
		p.Cost = w.Cost.Document()
	}
	for _, g := range w.Programs {
		p.Programs = append(p.Programs, ProgramDocument{g.Path, g.Use, g.Quantity, g.Minutes})
	}
	for _, d := range w.Drawings {
		p.Drawings = append(p.Drawings, DrawingDocument{d.Path, d.Use, d.Quantity})
	}
	return p
}

// kinds adds the numbers of the stars.
func (p *Document) kinds(w *packet.Work) {
	for _, u := range w.Order.FromBoards() {
		own := w.Job.Of(u.Spec.Name)
		kind := newKind(w, u)
		stations := StationsDocument{own.Slot.Stations, own.Slot.Pitch, own.Slot.Loads}
		if !w.Job.IsOrder() {
			p.KindDocument, p.Stations = &kind, &stations
			p.Strips, p.Wood = w.Bench.StripsOf(u).Document(), w.Bench.WoodOf(u).Document()
			return
		}
		p.Stars = append(p.Stars, OrderedDocument{u.Spec.Name, kind, stations, w.Bench.StripsOf(u).Document(), w.Bench.WoodOf(u).Document()})
	}
}

func newKind(w *packet.Work, u *star.Unit) KindDocument {
	k := KindDocument{
		Count: u.Count(), Star: newStar(u.Star), Segment: newSegment(u),
		Blank: BlankDocument{u.Blank.Length, u.Segment.Width, u.Blank.Count},
		Saw: SawDocument{u.Segment.CenterMiter().Degrees(), u.Segment.TipMiter().Degrees(),
			w.Job.Saw.MaxMiter.Degrees(), w.Job.Saw.Kerf},
		Slot: newSlot(u.Slot), Spline: newSpline(u.Spline), Joint: string(u.Joint()), Plate: newPlate(w, u),
	}
	if u.TwoWoods() {
		k.Woods, k.Halves = u.Spec.Woods[:], string(u.Spec.Halves)
	}
	k.Hang = newHang(u)
	if small := w.Order.FromOffcuts(u); small != nil {
		k.Offcut = &OffcutDocument{newStar(small.Star), newSegment(small), newSlot(small.Slot), newSpline(small.Spline), string(small.Joint()), newPlate(w, small), newHang(small)}
	}
	return k
}

func newHang(u *star.Unit) *HangDocument {
	if h := u.Hang; h != nil {
		return &HangDocument{h.Diameter, h.At, h.Wood}
	}
	return nil
}

func newStar(s star.Star) StarDocument {
	return StarDocument{s.Points, s.Width(), s.Segment.Length, s.ValleyRadius(), s.Segment.Tip.Degrees(), s.Segment.Center.Degrees()}
}

func newSegment(u *star.Unit) SegmentDocument {
	s := u.Segment
	out := SegmentDocument{Length: s.Length, Width: s.Width, Facet: s.Facet, Edge: s.Edge, Thickness: u.Thickness()}
	for _, v := range s.Outline() {
		out.Outline = append(out.Outline, [2]float64{v.X, v.Y})
	}
	return out
}

func newSlot(s *star.Slot) *SlotDocument {
	if s == nil {
		return nil
	}
	return &SlotDocument{s.Width, s.Depth, s.FromFace, s.Start, s.End, s.Web, s.Wall}
}

func newSpline(s *star.Spline) *SplineDocument {
	if s == nil {
		return nil
	}
	return &SplineDocument{s.Length, s.Width, s.Thickness, s.Count}
}

func notes(lists ...[]problem.Note) []NoteDocument {
	out := []NoteDocument{}
	for _, l := range lists {
		for _, n := range l {
			out = append(out, NoteDocument(n))
		}
	}
	return out
}

// roundingMatters is the rounding of a printed length above which the page
// says so, mm: a tenth is what a careful rule shows.
const roundingMatters = 0.1

// rounding says by how much the true length differs from the printed one, ""
// where nobody could measure it.
func rounding(u geom.Unit, mm float64) string {
	e := -u.FractionError(mm)
	if u != geom.Inch || e < roundingMatters && e > -roundingMatters {
		return ""
	}
	return fmt.Sprintf("true %+.3f in", e/u.MM())
}
