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

// settleSheets settles the cutters that sheets may be cut with, the best first, once
// the order has the slots' own. It says where none reaches through.
func (j *Job) settleSheets(o *star.Order) []Error {
	if j.Cutter.Diameter != nil || !j.Shop.With(CNC) || len(j.Shop.Cutters) == 0 {
		j.sheetBits = []star.Bit{{Diameter: o.Cutter}}
		j.takeSheetBit(o)
		return nil
	}
	j.sheetBits = j.throughSheet()
	j.takeSheetBit(o)
	return j.tooShort(j.Sheets.CutLength)
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

// takeSheetBit takes the first of the cutters for sheets. What has slots cut with the
// same one has them at the same settings, and what has no slots has no other cutter.
func (j *Job) takeSheetBit(o *star.Order) {
	b := j.sheetBits[0]
	slots := slices.ContainsFunc(o.Units, func(u *star.Unit) bool { return u.Slot != nil })
	if !slots && b.Diameter != o.Cutter {
		o.Cutter = b.Diameter
		for i, n := range o.Defaults {
			if n.Key == "cutter.diameter" {
				o.Defaults[i].Value, o.Defaults[i].Why = j.Units.FormatExact(b.Diameter), "of your shop's cutters the one that is through the sheet soonest and gets round every part"
			}
		}
		j.takeBit(b.Diameter)
		j.settleCutting(b.Diameter)
	}
	if b.Diameter == o.Cutter {
		d := o.Cutter
		j.Sheets = j.Cutter
		j.Sheets.Diameter = &d
		return
	}
	j.Sheets = j.sheetSettings(b)
	// [cutter] is of one cutter for both: written there, what was chosen for the slots
	// would hold for the sheets too.
	own := append([]string{"cutter.diameter", "cutter.cut_length", "cutter.flutes"}, cuttingKeys...)
	not := func(n problem.Note) bool { return slices.Contains(own, n.Key) }
	j.Defaults, o.Defaults = slices.DeleteFunc(j.Defaults, not), slices.DeleteFunc(o.Defaults, not)
}

// NextSheetCutter takes the next best cutter for the sheets, where the shop has
// another one that reaches through; the last did not get round some part.
func (j *Job) NextSheetCutter(o *star.Order) bool {
	if len(j.sheetBits) < 2 {
		return false
	}
	j.sheetBits = j.sheetBits[1:]
	j.takeSheetBit(o)
	if j.At(sheetSpacing) == 0 {
		j.Sheet.Spacing = nil
		j.Defaults = slices.DeleteFunc(j.Defaults, func(n problem.Note) bool { return n.Key == sheetSpacing })
	}
	return len(j.spacing(*j.Sheets.Diameter)) == 0
}

// OneCutter reports whether slots and sheets are cut with the same one.
func (j *Job) OneCutter(o *star.Order) bool { return *j.Sheets.Diameter == o.Cutter }
