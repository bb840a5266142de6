package job

import (
	"cmp"
	"math"
	"slices"

	"starwright/geom/bench/feeds"
	"starwright/geom/problem"
	"starwright/geom/star"
)

// Slots and sheets may each have the cutter that suits them: a slot that of its
// width, a sheet the one that is through it soonest. A job that names its cutter, or
// a shop that lists none, has one for both.

// chooseSheetBits lists the cutters for the sheets, but for the best ones that were
// passed over.
func (j *Job) chooseSheetBits(passed int) {
	j.passed = passed
	if j.Cutter.Diameter != nil || !j.Shop.With(CNC) || len(j.Shop.Cutters) == 0 {
		return
	}
	bits := j.throughSheet()
	j.sheetBits = bits[min(passed, len(bits)-1):]
}

// throughSheet returns the cutters of the shop that reach through the sheet, the one
// that takes the least time first.
func (j *Job) throughSheet() []star.Bit {
	return j.through(j.Sheet.Thickness+j.Sheet.Breakthrough, feeds.Plywood)
}

// through returns the cutters of the shop that reach so deep (mm) into a material,
// the one that takes the least time first, the thicker of two alike; where none
// reaches, the longest.
func (j *Job) through(deep float64, m feeds.Material) []star.Bit {
	bits := slices.DeleteFunc(slices.Clone(j.Shop.Cutters), func(b star.Bit) bool { return j.reachOf(b) < deep })
	if len(bits) == 0 {
		return []star.Bit{slices.MaxFunc(j.Shop.Cutters, func(a, b star.Bit) int { return cmp.Compare(j.reachOf(a), j.reachOf(b)) })}
	}
	// The way round the parts is much the same for all.
	minutes := func(b star.Bit) float64 {
		c := j.cutterFor(b, m)
		return math.Ceil(deep/c.DepthPerPass-rounding) / c.Feed
	}
	slices.SortStableFunc(bits, func(a, b star.Bit) int { return cmp.Compare(minutes(a), minutes(b)) })
	return bits
}

// cutterFor returns a cutter of the shop with settings that suit a material.
func (j *Job) cutterFor(b star.Bit, m feeds.Material) CutterTable {
	c := j.ofBit(j.Cutter, b)
	c.Diameter = &b.Diameter
	return j.withSettings(c, b.Diameter, m)
}

// settleSheets settles how sheets are cut, once the order has the slots' own cutter:
// what has slots cut with the same one has them at the same settings. It says where no
// cutter reaches through.
func (j *Job) settleSheets(o *star.Order) []Error {
	d := o.Cutter
	if len(j.sheetBits) == 0 || j.sheetBits[0].Diameter == d {
		j.Sheets = j.Cutter
		j.Sheets.Diameter = &d
	} else {
		j.Sheets = j.cutterFor(j.sheetBits[0], feeds.Plywood)
		j.dropCutterNotes(o)
	}
	if len(j.sheetBits) == 0 {
		return nil
	}
	return j.tooShort(j.Sheets.CutLength)
}

// Next reads the job again for the next best cutter for the sheets, where the shop has
// another one that reaches through and that the order takes; with the last the sheets
// could not be cut.
func (j *Job) Next() (*Job, *star.Order, bool) {
	if len(j.sheetBits) < 2 {
		return nil, nil, false
	}
	next, o, errs := j.input.loadFrom(j.passed + 1)
	return next, o, len(errs) == 0
}

// OneCutter reports whether slots and sheets are cut with the same one.
func (j *Job) OneCutter(o *star.Order) bool { return *j.Sheets.Diameter == o.Cutter }

// dropCutterNotes leaves out what was chosen for the slots' cutter: `[cutter]` is of
// one cutter for all, and written there it would hold for the other cutters too.
func (j *Job) dropCutterNotes(o *star.Order) {
	own := append([]string{"cutter.diameter", "cutter.cut_length", "cutter.flutes"}, cuttingKeys...)
	not := func(n problem.Note) bool { return slices.Contains(own, n.Key) }
	j.Defaults, o.Defaults = slices.DeleteFunc(j.Defaults, not), slices.DeleteFunc(o.Defaults, not)
}

// reachOf is how deep a cutter of the shop cuts, as far as is known.
func (j *Job) reachOf(b star.Bit) float64 {
	if l := j.ofBit(j.Cutter, b).CutLength; l != nil {
		return *l
	}
	return math.Inf(1)
}
