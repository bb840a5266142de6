package star

import (
	"fmt"
	"math"
	"strings"

	"starwright/geom"
	"starwright/geom/problem"
)

// choices are the neat values that the model picks from where the job leaves
// one open, largest first. Common practice, no source; the trade's quarter-inch
// bit and a slot about ten millimetres deep come first.
type choices struct {
	cutters, depths []float64
	web, margin     float64
}

func choicesFor(u geom.Unit) choices {
	if u == geom.Inch {
		return choices{
			cutters: []float64{25.4 / 4, 25.4 / 8, 25.4 / 16},
			depths:  []float64{25.4 * 3 / 8, 25.4 * 5 / 16, 25.4 / 4, 25.4 * 3 / 16, 25.4 / 8},
			web:     25.4 / 4, margin: 25.4 / 2,
		}
	}
	return choices{
		cutters: []float64{6.35, 3.175, 1.5875},
		depths:  []float64{10, 8, 6, 5, 4, 3},
		web:     6, margin: 12,
	}
}

const (
	marginPart  = 6.0 // a facet is this many times the default end margin at least
	lengthParts = 4.0 // a default slot is as long as a facet divided by this
	tidyTravel  = 1.0 // mm kept free at the end of the machine's travel
)

// slots settles the slots, splines and, unless a star before has done so or one
// after may, the cutter.
func (o *Order) slots(u *Unit, last bool) problem.List {
	spec, in := u.Spec.Slot, u.Spec.Unit
	if spec.Make != nil && !*spec.Make {
		if last {
			o.withoutSlots(u)
		}
		return nil
	}
	w, slot, problems := u.choose("slot", o.cutters(u), nil)
	if !spec.asked() && (len(problems) > 0 || u.littleSpline(slot)) {
		if last {
			o.withoutSlots(u)
		}
		o.note("slot.make", "false", u.whyPlain(problems))
		return nil
	}
	if len(problems) > 0 {
		return problems
	}
	u.Slot = slot
	o.settleCutter(u, w.cutter)
	o.noteSlot(u, w)
	if reach, _ := u.reach(o.Cutter); slot.Depth > reach+eps {
		o.warn("slot.depth", in.Format(slot.Depth), fmt.Sprintf("a usual cutter of %s cuts %s deep; look whether yours has the length",
			in.FormatSize(o.Cutter), in.Format(reach)))
	}
	if spec.Wall != nil && slot.Wall < u.usualWall()-eps {
		o.warn("slot.wall", in.Format(*spec.Wall), fmt.Sprintf(
			"the slot leaves %s to the board's face, less than a quarter of the thickness: the wall may break out or show",
			in.Format(slot.Wall)))
	}
	return o.spline(u)
}

// The least spline that is worth its slot where the job does not ask for one:
// thinner ones come in no sheet and bend, shorter ones hold no more than the glue
// beside them. Common practice, no source.
const (
	leastSplineThick  = 3.0  // mm
	leastSplineLength = 12.0 // mm
)

// littleSpline reports whether a slot takes a spline that is not worth its work.
func (u *Unit) littleSpline(s *Slot) bool {
	return u.thin() || s.End-s.Start-2*s.Corner < leastSplineLength
}

// thin reports whether the walls of a slot leave no room for a spline that holds.
func (u *Unit) thin() bool { return u.Thickness()-2*quarter*u.Thickness() < leastSplineThick }

// whyPlain says why the joints of the unit are plain glued although nobody asked
// for it.
func (u *Unit) whyPlain(problems problem.List) string {
	in := u.Spec.Unit
	switch wide := len(problems) > 0 && strings.HasSuffix(problems[0].Key, ".width"); {
	case u.thin():
		return "boards of " + in.FormatSize(u.Thickness()) + " are too thin for a spline that holds; plain glue does as well"
	case wide:
		return "no bit at hand is thin enough for a slot in boards of " + in.FormatSize(u.Thickness()) + "; plain glue"
	}
	return "the joint is too short for a spline that holds; plain glue does as well"
}

// cutters returns the bits to choose from, largest first: one where the job or
// a star before has settled it.
func (o *Order) cutters(u *Unit) []float64 {
	switch {
	case u.Spec.Cutter != nil:
		return []float64{*u.Spec.Cutter}
	case o.Cutter > 0:
		return []float64{o.Cutter}
	}
	return u.usualCutters()
}

// usualCutters returns the diameters of the bits that the shop has, or else of
// the trade's usual ones, largest first.
func (u *Unit) usualCutters() []float64 {
	if len(u.Spec.Owned) == 0 {
		return choicesFor(u.Spec.Unit).cutters
	}
	out := make([]float64, len(u.Spec.Owned))
	for i, b := range u.Spec.Owned {
		out[i] = b.Diameter
	}
	return out
}

// choose tries the model's neat values, largest first, for whatever the job
// left open, and returns the first slot that fits and is long enough to be of
// use; failing that the first that fits at all; failing that the problems of
// the job's own values with the smallest choices.
// A star from off-cuts has the slots of the star that they come from, main,
// where they fit it.
func (u *Unit) choose(table string, cutters []float64, main *Slot) (want, *Slot, problem.List) {
	ch := choicesFor(u.Spec.Unit)
	depths := ch.depths
	if main != nil {
		depths = upTo(depths, main.Depth)
	}
	if d := u.Spec.Slot.Depth; d != nil {
		depths = []float64{*d}
		cutters = u.longEnough(cutters, *d)
	}
	var fits *Slot
	var fitsWant want
	var last problem.List
	for _, d := range cutters {
		for _, depth := range depths {
			w := u.wanted(table, main, d, depth, ch)
			slot, ps := u.fit(w)
			if len(ps) > 0 {
				last = ps
				continue
			}
			if slot.End-slot.Start >= math.Max(3*d, u.Segment.Facet/lengthParts) {
				return w, slot, nil
			}
			if fits == nil {
				fits, fitsWant = slot, w
			}
		}
	}
	if fits != nil {
		return fitsWant, fits, nil
	}
	return want{}, nil, last
}

// longEnough returns the cutters that reach a depth, the first where none does:
// what is wrong with a slot is not that a cutter nobody named is too short.
func (u *Unit) longEnough(cutters []float64, depth float64) []float64 {
	var out []float64
	for _, d := range cutters {
		if reach, _ := u.reach(d); reach >= depth-eps {
			out = append(out, d)
		}
	}
	if len(out) == 0 {
		return cutters[:1]
	}
	return out
}

// upTo returns most followed by the values below it.
func upTo(values []float64, most float64) []float64 {
	out := []float64{most}
	for _, v := range values {
		if v < most-eps {
			out = append(out, v)
		}
	}
	return out
}

// wanted fills what the job left open for one cutter and depth.
func (u *Unit) wanted(table string, main *Slot, cutter, depth float64, ch choices) want {
	spec := u.Spec.Slot
	w := want{table: table, spec: spec, cutter: cutter, depth: depth,
		width: cutter, fromFace: u.Thickness() / 2, wall: u.usualWall(),
		web: ch.web, margin: math.Min(ch.margin, u.Spec.Unit.CeilFine(u.Segment.Facet/marginPart))}
	if main != nil {
		w.width, w.fromFace, w.wall = main.Width, main.FromFace, main.Wall
		take(&w.web, u.From.Spec.Slot.Web)
	}
	take(&w.width, spec.Width)
	take(&w.fromFace, spec.FromFace)
	take(&w.wall, spec.Wall)
	take(&w.web, spec.Web)
	take(&w.margin, spec.EndMargin)
	take(&w.start, spec.Start)
	if x := u.Spec.MaxTravelX; x > 0 && spec.EndMargin == nil {
		w.margin = math.Max(w.margin, u.Spec.Unit.CeilFine(u.Segment.Facet-(x-tidyTravel)-cutter/2))
	}
	return w
}

// usualWall is the least wall where the job gives none, so rounded that it can be
// written into the job as it is printed.
func (u *Unit) usualWall() float64 { return u.Spec.Unit.FloorFine(quarter * u.Thickness()) }

// take sets a value that the job gives.
func take(dst *float64, v *float64) {
	if v != nil {
		*dst = *v
	}
}

// withoutSlots fixes the cutter of an order that has no slots: that of its sheets.
func (o *Order) withoutSlots(u *Unit) {
	b := u.Spec.SheetBit
	if b == 0 || o.Cutter > 0 || u.Spec.Cutter != nil {
		o.settleCutter(u, u.usualCutters()[0])
		return
	}
	o.Cutter = b
	o.note("cutter.diameter", u.Spec.Unit.FormatExact(b), "of your shop's cutters the one that is through the sheet soonest and gets round every part")
}

// settleCutter fixes the cutter of the slots, noting it where the job left it open and
// the sheets have no other one: written under `[cutter]` it would hold for them too.
func (o *Order) settleCutter(u *Unit, d float64) {
	if o.Cutter > 0 {
		return
	}
	if o.Cutter = d; u.Spec.Cutter != nil {
		o.Cutter = *u.Spec.Cutter
		return
	}
	if b := u.Spec.SheetBit; b > 0 && b != d {
		return
	}
	why := "the trade's usual bit"
	if usual := u.usualCutters(); u.Slot != nil && d < usual[0]-eps {
		why = "the largest usual bit whose slot fits"
	}
	if len(u.Spec.Owned) > 0 {
		why = "the thickest of [shop] cutters that suits the slots"
	}
	o.note("cutter.diameter", u.Spec.Unit.FormatExact(d), why)
}

// noteSlot records the slot's values that the job left open.
func (o *Order) noteSlot(u *Unit, w want) {
	in, slot := u.Spec.Unit, u.Slot
	open := func(v *float64, key string, value float64, why string) {
		if v == nil {
			o.note(w.table+"."+key, in.FormatExact(value), why)
		}
	}
	open(w.spec.Width, "width", slot.Width, "the cutter's diameter: one pass wide")
	open(w.spec.Depth, "depth", slot.Depth, "the deepest usual depth that leaves a slot of useful length")
	open(w.spec.FromFace, "from_face", slot.FromFace, "half the thickness")
	open(w.spec.Start, "start", slot.Start, "the least that leaves the web")
	open(w.spec.EndMargin, "end_margin", w.margin, "room to the valley")
	open(w.spec.Web, "web", w.web, "common practice, no source")
	open(w.spec.Wall, "wall", w.wall, "a quarter of the thickness")
}

// spline sizes the spline of the unit's slot.
func (o *Order) spline(u *Unit) problem.List {
	in, spec, slot := u.Spec.Unit, u.Spec, u.Slot
	sp := &Spline{
		Length:    slot.End - slot.Start - 2*slot.Corner,
		Width:     2*slot.Depth - spec.GlueGap,
		Thickness: slot.Width - spec.SplineFit,
		Count:     u.Segments(), // a joint beside each
	}
	if t := spec.SplineThick; t != nil {
		if *t > slot.Width-eps {
			wider := fmt.Sprintf("width = %q under [slot]", ceil(in, *t+spec.SplineFit))
			p := problem.Problem{Key: "spline.thickness", Got: in.FormatExact(*t), Would: "[slot] " + strings.TrimSuffix(wider, " under [slot]"),
				Why: fmt.Sprintf("splines that thick do not slide into slots %s wide", in.FormatSize(slot.Width))}
			if thin := slot.Width - spec.SplineFit; thin >= leastSlot {
				p.Would = fmt.Sprintf("thickness = %q, or %s", floor(in, thin), wider)
			}
			return problem.List{p}
		}
		sp.Thickness = *t
		if play := slot.Width - *t; play > loosePlay {
			o.warn("spline.thickness", in.Format(*t), fmt.Sprintf("the splines have %s of play in their slots; a joint slips out of line by as much", in.FormatFine(play)))
		}
	}
	if sp.Thickness <= 0 {
		return problem.List{{Key: "spline.fit", Got: in.FormatFine(spec.SplineFit),
			Why: "nothing is left of the spline's thickness", Would: fmt.Sprintf("fit = %q", floor(in, slot.Width/20))}}
	}
	if sp.Width <= 0 {
		return problem.List{{Key: "spline.glue_gap", Got: in.Format(spec.GlueGap),
			Why: "nothing is left of the spline", Would: fmt.Sprintf("glue_gap = %q", floor(in, slot.Depth/5))}}
	}
	u.Spline = sp
	return nil
}

// loosePlay is the play of a spline above which it no longer aligns the faces,
// mm. Common practice, no source: 0.1 to 0.2 mm is a hand fit.
const loosePlay = 0.4

// offcutSlots settles the slots of a star from off-cuts: same cutter, same
// spline stock, the depth of the star that they come from where it fits and
// less where not.
func (o *Order) offcutSlots(u *Unit) problem.List {
	spec, main := u.Spec.Slot, u.From.Slot
	if main == nil || spec.Make != nil && !*spec.Make {
		return nil
	}
	w, slot, problems := u.choose("offcut_slot", []float64{o.Cutter}, main)
	if len(problems) > 0 {
		if spec.asked() {
			return problems
		}
		o.note("offcut_slot.make", "false", u.whyPlain(problems))
		return nil
	}
	if !spec.asked() && u.littleSpline(slot) {
		o.note("offcut_slot.make", "false", u.whyPlain(nil))
		return nil
	}
	u.Slot = slot
	o.noteOffcut(u, w)
	return o.spline(u)
}

func (o *Order) noteOffcut(u *Unit, w want) {
	in, slot := u.Spec.Unit, u.Slot
	if w.spec.Depth == nil {
		why := "as the main star's"
		if slot.Depth < u.From.Slot.Depth-eps {
			why = "less than the main star's, so that a slot of useful length fits"
		}
		o.note("offcut_slot.depth", in.FormatExact(slot.Depth), why)
	}
	if w.spec.Start == nil {
		o.note("offcut_slot.start", in.FormatExact(slot.Start), "the least that leaves the web")
	}
	if w.spec.EndMargin == nil {
		o.note("offcut_slot.end_margin", in.FormatExact(w.margin), "room to the valley")
	}
}
