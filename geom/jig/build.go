package jig

import (
	"fmt"
	"slices"
	"strings"

	"starwright/geom"
	"starwright/geom/star"
)

// Build is how a jig is put together from its plates, and how it is used: what
// a set-up, a page and a picture need to know. Places are those of the drawing
// of the plate that holds the work, mm.
type Build struct {
	Key   string     // kind: tip-cradle
	Hand  string     // left or right, "" where it has none
	Angle geom.Angle // of an angle block
	Title string     // tip cradle, left
	Sets  int        // how many of it are made

	Layers []Layer // from the table up; of what stands upright, from the fence outwards
	Bore   float64 // diameter of the screw holes
	Spacer float64 // set between two plates that together stay below the board
	Pack   float64 // under the straps, where the plates stand higher than the board
	Height float64 // of all layers
	Bed    float64 // height above the table at which the work lies; 0 on the table itself

	What   string       // the work: segment, glued off-cuts, board
	Work   geom.Contour // as it lies before the cut
	Seats  []geom.Curve // edges that the work is pushed against
	Stop   geom.Point   // where two seats meet: the work goes home there
	Fence  []geom.Curve // edges that lie against the fence of the machine
	Clamps []Clamp
	Wedges bool    // a pair of wedges goes between work and horn, or between work and pin
	Play   float64 // most play of the work, mm; 0 where it lies against open edges only
	Pins   int     // dowels in a glue-up board, all its plates
	Pin    float64 // their diameter
	Halves [2]int  // segments of the two halves in which a star is glued

	Cut    geom.Curve // line of cut, from the fence to where the off-cut is severed; zero where the jig has none
	Tip    float64    // from the fence to where the finished edge ends, along the line of cut
	Offcut string     // what carries the off-cut: a layer's plate, or "saw table"
	Batten geom.Curve // line of screws for a batten that carries a stop; zero where there is none

	SideX   float64    // of a stand or carriage: from the star's centre to its straight side
	FootZ   float64    // from the facet's plane to the foot
	RoomZ   float64    // how far plate and work reach below the facet
	Facing  string     // face that lies against the machine's fence: show face
	Grip    geom.Point // middle of the hand hole; zero where there is none
	Scribed bool       // the hole of a drilling guide is scribed, not cut
	Small   bool       // a smaller form than usual, for a small sheet
}

// Layer is some equal plates of a jig, one on the other.
type Layer struct {
	File  string // of the drawing
	Plate string // what it is: notched plate, base, off-cut base
	Count int
	Over  bool // turned over about its edge at the fence, against its drawing
	// Loose plates are not screwed to the others; they lie against the fence
	// beside them.
	Loose  bool
	Screws []geom.Point // middles of the holes that screw it to the others
}

// Clamp is a slot for a bolt.
type Clamp struct {
	From, To geom.Point // middles of its ends
	Holds    string     // work, jig
}

// Reach is how far from the fence the saw must cut to sever the off-cut, mm; 0
// for jigs without a line of cut.
func (b *Build) Reach() float64 { return b.Cut.Length() }

// Steps says how the jig is put together and used, a sentence each, with
// lengths in a unit. They follow from the other fields alone.
func (b *Build) Steps(u geom.Unit) []string {
	return append(b.Assembly(u), b.Laying(u)...)
}

// Assembly says how the plates are put together.
func (b *Build) Assembly(u geom.Unit) []string {
	var out []string
	var stack []Layer
	for _, l := range b.Layers {
		if !l.Loose {
			stack = append(stack, l)
		}
	}
	switch n := plates(stack); {
	case b.Key == "glue-board" && n > 1:
		out = append(out, fmt.Sprintf("Lay the %d sectors edge to edge on a flat base and screw each down with %s, heads sunk.", n, screwsOf(stack[0])))
	case len(stack) == 1 && n == 1:
	case len(stack) == 1:
		s := fmt.Sprintf("Screw the %d plates together, edges flush, with %s", n, screwsOf(stack[0]))
		if b.Spacer > 0 {
			s += fmt.Sprintf(", and %s of spacers between them", u.Format(b.Spacer))
		}
		out = append(out, s+".")
	default:
		top := stack[len(stack)-1]
		upper := "the " + top.Plate
		if top.Count > 1 {
			upper = fmt.Sprintf("the %d plates with the notch", top.Count)
		}
		s := fmt.Sprintf("Screw %s onto the %s with %s, flush at the line of cut and at the fence.", upper, stack[0].Plate, screwsOf(top))
		if stack[0].Over {
			s = "Turn the " + stack[0].Plate + " over. " + s
		}
		out = append(out, s)
	}
	if b.Pack > 0 {
		out = append(out, fmt.Sprintf("The plates stand %s higher than the board: pack the straps by that.", u.FormatFine(b.Pack)))
	}
	for _, l := range b.Layers {
		if l.Loose {
			out = append(out, fmt.Sprintf("Lay the %s on the other side of the line of cut, against the fence and the base, and clamp or screw it to the table. The first cut trims it.", l.Plate))
		}
	}
	return out
}

// Laying says what the jig goes against and how the work lies in it.
func (b *Build) Laying(u geom.Unit) []string {
	var out []string
	add := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	switch b.Key {
	case "tip-cradle", "offcut-cradle":
		add("Saw square (0°), long edge against the fence, the side that ends at the notch along the line of cut.")
		add("The saw must reach %s from the fence.", u.Format(u.Ceil(b.Reach())))
		if b.Offcut == sawTable {
			add("Cradle, work and off-cut lie on the saw's table; sink the heads of the bolts.")
		}
		add("Push the %s home in the notch and clamp it.", b.What)
	case "angle-block":
		add("Fence edge against the fence, nose towards the blade; clamp through the window.")
		add("The board lies against the sloping edge. Screw a stop batten along it.")
	case "slot-stand":
		if b.Sets > 1 {
			add("Stand each upright under the spindle, screwed to a fence board of its own.")
		} else {
			add("Stand it upright under the spindle, screwed to a fence board at Y0.")
		}
		b.home(add)
		if b.RoomZ > b.FootZ {
			add("The work reaches %s below the facet, lower than the foot: set the stand at the table's edge.", u.Format(b.RoomZ))
		}
		add("It needs %s below the facet.", u.Format(b.RoomZ))
	case "centre-gauge":
		add("Put a segment's two facets into the notch and hold it to the light: they must close on both edges.")
		add("The outside fits the gap left for the last segment, %s.", star.FormatAngle(b.Angle))
	case "tip-gauge":
		add("Put a segment's tip into the notch and hold it to the light: it must close on both edges.")
	case "segment-nest":
		add("Drop a segment in, either face up: it has no more than %s of play and an even line of light all round.", u.FormatFine(b.Play))
		add("A gap at one end is an error in length, a wedge of light one in angle.")
	case "glue-board":
		add("Wax it. Lay the segments on it over the reliefs, show face down.")
		add("Set %s pins of %s.", fmt.Sprint(b.Pins), u.FormatSize(b.Pin))
		add("Between each pin at an outer edge and the wood goes a wedge: tapped alike on both edges of a segment they push it to the centre along its axis. No strap round the tips: it would open the joints at the centre.")
		add("Glue %d segments to one half (A) and %d to the other (B), with the rest laid in dry. True the last two joints if they do not close.", b.Halves[0], b.Halves[1])
		add("Glue the halves to each other on the board with the same wedges.")
	case "drill-guide":
		add("Lay it on the show face, tip on tip, its two long edges flush with the outer edges of the wood, and clamp it. Bore through it, on waste.")
		if b.Scribed {
			add("Its hole is scribed alone: bore it with the bit that bores the stars.")
		}
	case "router-carriage":
		b.home(add)
		add("Facet down on the table, show face against the fence, both hands at the grip, feed against the bit's rotation.")
	}
	return out
}

// home says how a segment is held in a stand or a carriage.
func (b *Build) home(add func(string, ...any)) {
	add("Show face to the fence, push the %s into the corner of the two seats.", b.What)
	if b.Wedges {
		add("Drive a pair of wedges between its outer edge and the horn.")
	}
	add("Draw straps over its back with bolts through the slots, heads sunk.")
}

// sawTable carries the off-cuts of a cradle without a base.
const sawTable = "saw table"

func plates(ls []Layer) int {
	n := 0
	for _, l := range ls {
		n += l.Count
	}
	return n
}

func screwsOf(l Layer) string {
	if len(l.Screws) == 1 {
		return "one screw"
	}
	return fmt.Sprintf("%d screws", len(l.Screws))
}

// Use is all steps in one line, for a drawing's comment.
func (b *Build) Use(u geom.Unit) string { return strings.Join(b.Steps(u), " ") }

// moved returns the build with every place carried elsewhere.
func (b *Build) moved(at func(geom.Point) geom.Point) *Build {
	out := *b
	points := func(ps []geom.Point) []geom.Point {
		var q []geom.Point
		for _, p := range ps {
			q = append(q, at(p))
		}
		return q
	}
	curve := func(c geom.Curve) geom.Curve { return geom.Curve{A: at(c.A), B: at(c.B)} }
	curves := func(cs []geom.Curve) []geom.Curve {
		var q []geom.Curve
		for _, c := range cs {
			q = append(q, curve(c))
		}
		return q
	}
	out.Layers = slices.Clone(b.Layers)
	for i, l := range b.Layers {
		out.Layers[i].Screws = points(l.Screws)
	}
	out.Work = slices.Clone(b.Work)
	for i, v := range b.Work {
		out.Work[i].Point = at(v.Point)
	}
	out.Work = out.Work.CCW()
	out.Seats, out.Fence, out.Stop, out.Grip = curves(b.Seats), curves(b.Fence), at(b.Stop), at(b.Grip)
	out.Clamps = slices.Clone(b.Clamps)
	for i, c := range b.Clamps {
		out.Clamps[i].From, out.Clamps[i].To = at(c.From), at(c.To)
	}
	if b.Cut != (geom.Curve{}) {
		out.Cut = curve(b.Cut)
	}
	if b.Batten != (geom.Curve{}) {
		out.Batten = curve(b.Batten)
	}
	return &out
}

// clampsOf returns the clamp slots among holes, and for what each is.
func clampsOf(holes []Hole, holds func(middle geom.Point) string) []Clamp {
	var out []Clamp
	for _, h := range holes {
		if h.Kind != "clamp" {
			continue
		}
		// A slot has two half circles; a single bolt's hole is one circle.
		var ends []geom.Point
		for _, e := range h.Contour.Curves() {
			if e.IsArc() && (len(ends) == 0 || ends[len(ends)-1].Dist(e.Center()) > touch) {
				ends = append(ends, e.Center())
			}
		}
		if len(ends) == 0 {
			box := h.Contour.Bounds()
			ends = append(ends, box.Center())
		}
		c := Clamp{From: ends[0], To: ends[0]}
		for _, p := range ends {
			if p.Dist(c.From) > c.To.Dist(c.From) {
				c.To = p
			}
		}
		c.Holds = holds(c.From.Lerp(c.To, 0.5))
		out = append(out, c)
	}
	return out
}

// screwsIn returns the middles of the screw holes among holes.
func screwsIn(holes []Hole) []geom.Point {
	var out []geom.Point
	for _, h := range holes {
		if h.Kind == "screw" {
			out = append(out, h.Contour.Bounds().Center())
		}
	}
	return out
}
