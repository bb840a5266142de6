package star

import (
	"fmt"
	"math"
	"strings"

	"starwright/geom"
	"starwright/geom/problem"
)

// Slot is the spline slot in every facet of a star. Positions along a facet
// are measured from the star's centre and take in the cutter's radius.
type Slot struct {
	Width    float64 // across, mm
	Depth    float64 // from the facet inwards, mm
	FromFace float64 // show face to the slot's centre line, mm
	Start    float64 // near end, mm
	End      float64 // far end, mm
	Web      float64 // wood between the two slots of a segment where they are closest, mm
	Wall     float64 // wood to the nearer face of the board, mm
	Corner   float64 // radius that the cutter leaves in the slot's corners, mm
}

// Outline returns the slot seen onto the facet: x from the star's centre
// towards the valley, y from the show face into the thickness.
func (s Slot) Outline() geom.Contour {
	return geom.RoundedRect(geom.Box{
		Min: geom.Pt(s.Start, s.FromFace-s.Width/2),
		Max: geom.Pt(s.End, s.FromFace+s.Width/2),
	}, s.Corner)
}

// Spline is the loose tongue that spans the two slots of a joint.
type Spline struct {
	Length    float64 // along the facet, of a square-edged spline, mm
	Width     float64 // across the joint, mm
	Thickness float64 // mm
	Count     int     // for all stars of its unit
}

// Outline returns the spline flat on the bench, square-edged, its length on +x.
func (s Spline) Outline() geom.Contour {
	return geom.Rect(geom.Box{Max: geom.Pt(s.Length, s.Width)})
}

// Least sizes of a slot.
const (
	minSlotCutters = 2.0  // length in cutter diameters: shorter is a hole that cannot be ramped into
	quarter        = 0.25 // of the thickness, least wall to a face
	eps            = geom.Rounding
)

// web returns the wood between the two slots of a segment: at distance s from
// the centre the facets are 2 s sin(c/2) apart, and each slot reaches d cos(c/2)
// towards the axis.
func web(s, d float64, c geom.Angle) float64 {
	return 2 * (s*(c/2).Sin() - d*(c/2).Cos())
}

// leastStart is the start at which exactly web is left.
func leastStart(d, web float64, c geom.Angle) float64 {
	return d*(c/2).Cot() + web/(2*(c/2).Sin())
}

// want is a slot as the job asks for it, with the job's choices told from the
// model's own.
type want struct {
	table                         string
	spec                          SlotSpec
	width, depth, fromFace, start float64
	margin, web, wall             float64
	cutter                        float64
}

// reachDiameters is how deep a usual bit cuts, in diameters: a quarter-inch bit
// has an inch of edge. Common practice, no source.
const reachDiameters = 4

// reach returns how deep a cutter can cut, and whether that is known or, where
// the model chooses the cutter, supposed: a job that names its cutter but not
// its length is only warned.
func (u *Unit) reach(cutter float64) (mm float64, known bool) {
	if u.Spec.CutLength != nil {
		return *u.Spec.CutLength, true
	}
	for _, b := range u.Spec.Owned {
		if b.Diameter == cutter && b.CutLength > 0 && u.Spec.Cutter == nil {
			return b.CutLength, true
		}
	}
	return reachDiameters * cutter, u.Spec.Cutter == nil
}

// fit lays the slot in a facet, or says what does not fit.
func (u *Unit) fit(w want) (*Slot, problem.List) {
	c := u.Segment.Center
	slot := &Slot{Width: w.width, Depth: w.depth, FromFace: w.fromFace, Corner: w.cutter / 2}
	slot.Start, slot.End = w.start, u.Segment.Facet-w.margin
	if w.spec.Start == nil {
		// So rounded that it can be written into the job as it is printed.
		slot.Start = u.Spec.Unit.CeilFine(leastStart(w.depth, w.web, c))
	}
	slot.Web = web(slot.Start, w.depth, c)
	slot.Wall = math.Min(w.fromFace, u.Spec.Thickness-w.fromFace) - w.width/2
	return slot, u.misfits(w, slot)
}

// misfits returns all that is wrong with a slot.
func (u *Unit) misfits(w want, slot *Slot) problem.List {
	var ps problem.List
	in := u.Spec.Unit
	say := func(key string, got float64, why, would string) {
		ps = append(ps, problem.Problem{Key: w.table + "." + key, Got: in.Format(got), Why: why, Would: would})
	}
	c := u.Segment.Center
	if w.cutter > w.width+eps {
		ps = append(ps, problem.Problem{Key: "cutter.diameter", Got: in.FormatSize(w.cutter),
			Why:   fmt.Sprintf("the cutter is wider than the slot, which is %s", in.FormatSize(w.width)),
			Would: fmt.Sprintf("diameter = %q or a smaller standard cutter", floor(in, w.width))})
	}
	reach, known := u.reach(w.cutter)
	tooDeep := known && w.depth > reach+eps
	if tooDeep {
		say("depth", w.depth, fmt.Sprintf("the cutter, %s in diameter, reaches %s deep", in.FormatSize(w.cutter), in.Format(reach)), u.shallower(w, reach))
	}
	if slot.Wall < w.wall-eps {
		key, got, would := u.moreWall(w)
		say(key, got, fmt.Sprintf("the slot leaves a wall of %s to the board's face; the least is %s",
			in.Format(math.Max(0, slot.Wall)), ceil(in, w.wall)), would)
	}
	if slot.Web < w.web-eps {
		would := fmt.Sprintf("start = %q", ceil(in, leastStart(w.depth, w.web, c)))
		if d := u.deepest(w); d > leastDepth {
			would += fmt.Sprintf(" or depth = %q", floor(in, d))
		}
		say("start", w.start, fmt.Sprintf("with slots %s deep it leaves %s between the two slots of a segment; the least is %s",
			in.Format(w.depth), webWords(in, slot.Web), in.Format(w.web)), would)
	}
	if solved := tooDeep && w.spec.Start == nil; !solved && (slot.Start > u.Segment.Facet || slot.End-slot.Start < minSlotCutters*w.cutter-eps) {
		ps = append(ps, u.tooShort(w, slot))
	}
	if x := u.Spec.MaxTravelX; x > 0 && slot.End-w.cutter/2 > x+eps {
		ps = append(ps, problem.Problem{Key: "machine.travel", Got: in.Format(x),
			Why:   fmt.Sprintf("the slot's far end lies %s from the star's centre, beyond the machine's travel in X", in.Format(slot.End)),
			Would: fmt.Sprintf("end_margin = %q under [%s], or a machine with more travel", ceil(in, u.Segment.Facet-x-w.cutter/2), w.table)})
	}
	return ps
}

// leastSlot is the narrowest slot and the thinnest wall that a job may ask for, mm.
const leastSlot = 0.5

// leastDepth is the shallowest slot that is offered, mm.
const leastDepth = 1.0

// moreWall says which value leaves the slot its walls: the key, what it is now, and
// what to try. Where several are in the way, one comes after the other.
func (u *Unit) moreWall(w want) (key string, got float64, would string) {
	in, thick := u.Spec.Unit, u.Spec.Thickness
	near := math.Min(w.fromFace, thick-w.fromFace) // to the nearer face
	switch {
	case w.spec.FromFace != nil && thick-w.width >= 2*w.wall-eps:
		return "from_face", w.fromFace, fmt.Sprintf("from_face = %q", in.FormatExact(thick/2))
	case 2*(near-w.wall) >= leastSlot:
		name := "width"
		if w.spec.Width == nil { // it is as wide as the cutter
			name = "[cutter] diameter"
		}
		return "width", w.width, fmt.Sprintf("%s = %q, or a thinner wall under [%s] wall", name, floor(in, 2*(near-w.wall)), w.table)
	case w.spec.Wall != nil && near-w.width/2 >= leastSlot:
		return "wall", w.wall, fmt.Sprintf("wall = %q", floor(in, near-w.width/2))
	case thick >= 2*w.width && w.spec.FromFace != nil: // in the middle the last two are tried
		return "from_face", w.fromFace, fmt.Sprintf("from_face = %q", in.FormatExact(thick/2))
	}
	return "width", w.width, fmt.Sprintf("[star] thickness = %q", ceil(in, 2*w.width))
}

func webWords(u geom.Unit, web float64) string {
	if web <= 0 {
		return "no wood"
	}
	return u.Format(web)
}

// WithoutSlots is what a job says to have plain glued joints: by the joint where it
// names that, for `[slot]` make may not say otherwise.
func (u *Unit) WithoutSlots() string {
	if u.Spec.Joint == Splined {
		return fmt.Sprintf("[star] joint = %q", PlainCut)
	}
	return "make = false under [slot]"
}

// noSlots is what to try where a slot fits at no depth.
func (u *Unit) noSlots(w want) string {
	without := u.WithoutSlots()
	if u.IsOffcut() {
		without = fmt.Sprintf("make = false under [%s]", w.table)
	}
	return without + " (plain glued joints), a thinner cutter or a wider board"
}

// shallower is what to try for a slot deeper than the cutter reaches.
func (u *Unit) shallower(w want, reach float64) string {
	switch d := u.deepest(w); {
	case d < leastDepth:
		return u.noSlots(w)
	case d < reach:
		return fmt.Sprintf("depth = %q", floor(u.Spec.Unit, d))
	}
	return fmt.Sprintf("depth = %q, or a longer cutter under [cutter] diameter and cut_length", floor(u.Spec.Unit, reach))
}

// deepest is how deep a slot may be that leaves the web, and is long enough where its
// start is not given; it may be less than nothing.
func (u *Unit) deepest(w want) float64 {
	c := u.Segment.Center
	if w.spec.Start != nil {
		return w.start*(c/2).Tan() - w.web/(2*(c/2).Cos())
	}
	return (u.Segment.Facet - w.margin - minSlotCutters*w.cutter - w.web/(2*(c/2).Sin())) * (c / 2).Tan()
}

// tooShort says which of depth, start and end margin to change when no slot
// fits between web and valley.
func (u *Unit) tooShort(w want, slot *Slot) problem.Problem {
	in, c := u.Spec.Unit, u.Segment.Center
	need := minSlotCutters * w.cutter
	why := fmt.Sprintf("between %s from the centre and %s from the valley the slot would be %s long; it takes at least %s (two cutter diameters) on a facet of %s",
		in.Format(slot.Start), in.Format(w.margin), in.Format(math.Max(0, slot.End-slot.Start)), in.Format(need), in.Format(u.Segment.Facet))
	var would []string
	if d := u.deepest(w); w.spec.Start == nil && d >= leastDepth {
		would = append(would, fmt.Sprintf("depth = %q", floor(in, d)))
	}
	if m := u.Segment.Facet - slot.Start - need; m >= 0 {
		would = append(would, fmt.Sprintf("end_margin = %q", floor(in, m)))
	}
	if st := u.Segment.Facet - w.margin - need; w.spec.Start != nil && st >= leastStart(w.depth, w.web, c) {
		would = append(would, fmt.Sprintf("start = %q", floor(in, st)))
	}
	if len(would) == 0 {
		would = append(would, u.noSlots(w))
	}
	key, got := w.table+".depth", in.Format(w.depth)
	switch {
	case w.spec.EndMargin != nil && w.spec.Depth == nil:
		key, got = w.table+".end_margin", in.Format(w.margin)
	case w.spec.Start != nil && w.spec.Depth == nil:
		key, got = w.table+".start", in.Format(w.start)
	}
	return problem.Problem{Key: key, Got: got, Why: why, Would: strings.Join(would, " or ")}
}
