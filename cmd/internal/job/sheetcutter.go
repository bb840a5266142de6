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
// that takes the least time first, the thicker of two alike; where none reaches, the
// longest.
func (j *Job) throughSheet() []star.Bit {
	deep := j.Sheet.Thickness + j.Sheet.Breakthrough
	reach := func(b star.Bit) float64 {
		if l := j.ofBit(j.Cutter, b).CutLength; l != nil {
			return *l
		}
		return math.Inf(1)
	}
	bits := slices.DeleteFunc(slices.Clone(j.Shop.Cutters), func(b star.Bit) bool { return reach(b) < deep })
	if len(bits) == 0 {
		return []star.Bit{slices.MaxFunc(j.Shop.Cutters, func(a, b star.Bit) int { return cmp.Compare(reach(a), reach(b)) })}
	}
	// The way round the parts is much the same for all.
	minutes := func(b star.Bit) float64 {
		c := j.sheetSettings(b)
		return math.Ceil(deep/c.DepthPerPass-rounding) / c.Feed
	}
	slices.SortStableFunc(bits, func(a, b star.Bit) int { return cmp.Compare(minutes(a), minutes(b)) })
	return bits
}

// sheetSettings returns a cutter with settings that suit sheets.
func (j *Job) sheetSettings(b star.Bit) CutterTable {
	c := j.ofBit(j.Cutter, b)
	c.Diameter = &b.Diameter
	return j.withSettings(c, b.Diameter, feeds.Plywood)
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
		j.Sheets = j.sheetSettings(j.sheetBits[0])
		// [cutter] is of one cutter for both: written there, what was chosen for the
		// slots would hold for the sheets too.
		own := append([]string{"cutter.cut_length", "cutter.flutes"}, cuttingKeys...)
		j.Defaults = slices.DeleteFunc(j.Defaults, func(n problem.Note) bool { return slices.Contains(own, n.Key) })
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
