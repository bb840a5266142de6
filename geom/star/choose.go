package star

import (
	"fmt"
	"math"

	"starwright/geom"
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

// slots settles the main star's slots, splines and the cutter.
func (b *Batch) slots() []Problem {
	spec := b.Spec.Slot
	if spec.Make != nil && !*spec.Make {
		b.settleCutter(choicesFor(b.Spec.Unit).cutters[0], nil)
		return nil
	}
	w, slot, problems := b.choose(b.Main.Star, "slot", spec, nil)
	if len(problems) > 0 && !spec.asked() {
		b.settleCutter(choicesFor(b.Spec.Unit).cutters[0], nil)
		b.note("slot.make", "false", "no slot fits this segment")
		b.warn("slot.make", "false", "no slot fits so small a segment, so the joints are plain glued: "+problems[0].Why)
		return nil
	}
	if len(problems) > 0 {
		return problems
	}
	b.settleCutter(w.cutter, slot)
	b.noteSlot(w, slot)
	if reach, _ := b.reach(b.Cutter); slot.Depth > reach+eps {
		b.warn("slot.depth", b.Spec.Unit.Format(slot.Depth), fmt.Sprintf("a usual cutter of %s cuts %s deep; look whether yours has the length",
			b.Spec.Unit.FormatSize(b.Cutter), b.Spec.Unit.Format(reach)))
	}
	b.Main.Slot = slot
	if spec.Wall != nil && slot.Wall < quarter*b.Thickness-eps {
		b.warn("slot.wall", b.Spec.Unit.Format(*spec.Wall), fmt.Sprintf(
			"the slot leaves %s to the board's face, less than a quarter of the thickness: the wall may break out or show",
			b.Spec.Unit.Format(slot.Wall)))
	}
	sp, p := b.spline(b.Main.Star, slot)
	b.Main.Spline = sp
	return p
}

// choose tries the model's neat values, largest first, for whatever the job
// left open, and returns the first slot that fits and is long enough to be of
// use; failing that the first that fits at all; failing that the problems of
// the job's own values with the smallest choices.
func (b *Batch) choose(s Star, table string, spec SlotSpec, main *Slot) (want, *Slot, []Problem) {
	ch := choicesFor(b.Spec.Unit)
	cutters, depths := ch.cutters, ch.depths
	if b.Spec.Cutter != nil {
		cutters = []float64{*b.Spec.Cutter}
	}
	if main != nil {
		cutters = []float64{b.Cutter}
		depths = upTo(depths, main.Depth)
	}
	if spec.Depth != nil {
		depths = []float64{*spec.Depth}
		cutters = b.longEnough(cutters, *spec.Depth)
	}
	var fits *Slot
	var fitsWant want
	var last []Problem
	for _, d := range cutters {
		for _, depth := range depths {
			w := b.wanted(s, table, spec, main, d, depth, ch)
			slot, ps := b.fit(s, w)
			if len(ps) > 0 {
				last = ps
				continue
			}
			if slot.End-slot.Start >= math.Max(3*d, s.Segment.Facet/lengthParts) {
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
func (b *Batch) longEnough(cutters []float64, depth float64) []float64 {
	var out []float64
	for _, d := range cutters {
		if reach, _ := b.reach(d); reach >= depth-eps {
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
func (b *Batch) wanted(s Star, table string, spec SlotSpec, main *Slot, cutter, depth float64, ch choices) want {
	w := want{table: table, spec: spec, cutter: cutter, depth: depth,
		width: cutter, fromFace: b.Thickness / 2, wall: quarter * b.Thickness,
		web: ch.web, margin: math.Min(ch.margin, s.Segment.Facet/marginPart)}
	if main != nil {
		w.width, w.fromFace, w.wall = main.Width, main.FromFace, main.Wall
		take(&w.web, b.Spec.Slot.Web)
	}
	take(&w.width, spec.Width)
	take(&w.fromFace, spec.FromFace)
	take(&w.wall, spec.Wall)
	take(&w.web, spec.Web)
	take(&w.margin, spec.EndMargin)
	take(&w.start, spec.Start)
	if x := b.Spec.MaxTravelX; x > 0 && spec.EndMargin == nil {
		w.margin = math.Max(w.margin, s.Segment.Facet-(x-tidyTravel)-cutter/2)
	}
	return w
}

// take sets a value that the job gives.
func take(dst *float64, v *float64) {
	if v != nil {
		*dst = *v
	}
}

// settleCutter fixes the cutter, noting it where the job left it open.
func (b *Batch) settleCutter(d float64, slot *Slot) {
	b.Cutter = d
	if b.Spec.Cutter != nil {
		b.Cutter = *b.Spec.Cutter
		return
	}
	why := "the trade's usual bit"
	if slot != nil && d < choicesFor(b.Spec.Unit).cutters[0]-eps {
		why = "the largest usual bit whose slot fits"
	}
	b.note("cutter.diameter", b.Spec.Unit.FormatSize(d), why)
}

// noteSlot records the slot's values that the job left open.
func (b *Batch) noteSlot(w want, slot *Slot) {
	u := b.Spec.Unit
	open := func(v *float64, key string, value float64, why string) {
		if v == nil {
			b.note(w.table+"."+key, u.Format(value), why)
		}
	}
	if w.spec.Width == nil {
		b.note(w.table+".width", u.FormatSize(slot.Width), "the cutter's diameter: one pass wide")
	}
	open(w.spec.Depth, "depth", slot.Depth, "the deepest usual depth that leaves a slot of useful length")
	open(w.spec.FromFace, "from_face", slot.FromFace, "half the thickness")
	open(w.spec.Start, "start", slot.Start, "the least that leaves the web")
	open(w.spec.EndMargin, "end_margin", w.margin, "room to the valley")
	open(w.spec.Web, "web", w.web, "common practice, no source")
	open(w.spec.Wall, "wall", w.wall, "a quarter of the thickness")
}

// spline sizes the spline of a slot.
func (b *Batch) spline(s Star, slot *Slot) (*Spline, []Problem) {
	u := b.Spec.Unit
	sp := &Spline{
		Length:    slot.End - slot.Start - 2*slot.Corner,
		Width:     2*slot.Depth - b.Spec.GlueGap,
		Thickness: slot.Width - b.Spec.SplineFit,
		Count:     s.Points * b.Count,
	}
	if t := b.Spec.SplineThick; t != nil {
		if *t > slot.Width-eps {
			return nil, []Problem{{Key: "spline.thickness", Got: u.Format(*t),
				Why:   fmt.Sprintf("splines that thick do not slide into slots %s wide", u.Format(slot.Width)),
				Would: fmt.Sprintf("thickness = %q, or slots %s wide", floor(u, slot.Width-b.Spec.SplineFit), ceil(u, *t+b.Spec.SplineFit))}}
		}
		sp.Thickness = *t
		if play := slot.Width - *t; play > loosePlay {
			b.warn("spline.thickness", u.Format(*t), fmt.Sprintf("the splines have %.2f mm of play in their slots; a joint slips out of line by as much", play))
		}
	}
	if sp.Width <= 0 || sp.Thickness <= 0 {
		return nil, []Problem{{Key: "spline.glue_gap", Got: u.Format(b.Spec.GlueGap),
			Why: "nothing is left of the spline", Would: fmt.Sprintf("glue_gap = %q", floor(u, slot.Depth/5))}}
	}
	return sp, nil
}

// loosePlay is the play of a spline above which it no longer aligns the faces,
// mm. Common practice, no source: 0.1 to 0.2 mm is a hand fit.
const loosePlay = 0.4

// offcutSlots settles the second star's slots: same cutter, same spline stock,
// the main star's depth where it fits and less where not.
func (b *Batch) offcutSlots() []Problem {
	spec := b.Spec.OffcutSlot
	main := b.Main.Slot
	off := b.Offcut
	if main == nil || spec.Make != nil && !*spec.Make {
		return nil
	}
	w, slot, problems := b.choose(off.Star, "offcut_slot", spec, main)
	if len(problems) > 0 {
		if spec.asked() {
			return problems
		}
		b.note("offcut_slot.make", "false", "no slot fits the off-cut segment")
		b.warn("offcut_slot.make", "false", "the off-cut star is too small for slots, so its joints are plain glued: "+problems[0].Why)
		return nil
	}
	b.noteOffcut(w, slot)
	off.Slot = slot
	sp, p := b.spline(off.Star, slot)
	off.Spline = sp
	return p
}

func (b *Batch) noteOffcut(w want, slot *Slot) {
	u := b.Spec.Unit
	if w.spec.Depth == nil {
		why := "as the main star's"
		if slot.Depth < b.Main.Slot.Depth-eps {
			why = "less than the main star's, so that a slot of useful length fits"
		}
		b.note("offcut_slot.depth", u.Format(slot.Depth), why)
	}
	if w.spec.Start == nil {
		b.note("offcut_slot.start", u.Format(slot.Start), "the least that leaves the web")
	}
	if w.spec.EndMargin == nil {
		b.note("offcut_slot.end_margin", u.Format(w.margin), "room to the valley")
	}
}
