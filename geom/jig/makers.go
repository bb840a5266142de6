package jig

import (
	"reflect"
	"slices"
	"strings"

	"starwright/geom"
	"starwright/geom/problem"
	"starwright/geom/star"
)

// maker makes one kind of jig for all units of an order.
type maker struct {
	key  string
	need func(*star.Unit, Params) bool // whether a unit needs it
	make func([]*star.Unit, Params) ([]Jig, problem.List)
}

// makers are all kinds, in the order in which a batch meets them.
var makers = []maker{
	{"angle-block", needBlocks, makeBlocks},
	{"tip-cradle", fromBoard, each(fromBoard, makeTipCradles)},
	{"offcut-cradle", isOffcut, offcutCradles},
	{"slot-stand", hasSlot, each(slottable, makeSlotStands)},
	{"router-carriage", hasSlot, each(slottable, makeCarriages)},
	{"centre-gauge", fromBoard, forAngles(func(s star.Segment) (geom.Angle, float64) { return s.Center, s.Facet }, makeCentreGauge)},
	{"tip-gauge", fromBoard, forAngles(func(s star.Segment) (geom.Angle, float64) { return s.Tip, s.Edge }, makeTipGauge)},
	{"segment-nest", fromBoard, each(fromBoard, makeSegmentNest)},
	{"glue-board", fromBoard, each(fromBoard, makeGlueBoard)},
	{"drill-guide", hasHang, each(hasHang, makeDrillGuide)},
}

func fromBoard(u *star.Unit, _ Params) bool { return !u.IsOffcut() }
func isOffcut(u *star.Unit, _ Params) bool  { return u.IsOffcut() }
func hasSlot(u *star.Unit, _ Params) bool   { return u.Slot != nil }

// slottable is for stars with slots and, where a job names the jig, for those
// from boards without.
func slottable(u *star.Unit, _ Params) bool { return !u.IsOffcut() || u.Slot != nil }

// of returns the units that pass a test.
func of(units []*star.Unit, p Params, pass func(*star.Unit, Params) bool) []*star.Unit {
	var out []*star.Unit
	for _, u := range units {
		if pass(u, p) {
			out = append(out, u)
		}
	}
	return out
}

// makeOne makes the jigs of one unit.
type makeOne func(*star.Unit, Params) ([]Jig, problem.List)

// each makes jigs for each unit that passes a test. Those that come out alike
// for several stars are made once.
func each(pass func(*star.Unit, Params) bool, jigs makeOne) func([]*star.Unit, Params) ([]Jig, problem.List) {
	return func(units []*star.Unit, p Params) ([]Jig, problem.List) {
		var groups [][]*star.Unit
		for _, u := range of(units, p, pass) {
			groups = append(groups, []*star.Unit{u})
		}
		return makeFor(groups, p, jigs)
	}
}

// forAngles makes one jig for each angle of the stars from boards, sized for the
// one with the longest edge beside it; what gives the two.
func forAngles(what func(star.Segment) (geom.Angle, float64), jigs makeOne) func([]*star.Unit, Params) ([]Jig, problem.List) {
	same := func(a, b geom.Angle) bool { return a-b < angleSlack && b-a < angleSlack }
	return func(units []*star.Unit, p Params) ([]Jig, problem.List) {
		var groups [][]*star.Unit
		for _, u := range of(units, p, fromBoard) {
			angle, edge := what(u.Segment)
			i := slices.IndexFunc(groups, func(g []*star.Unit) bool {
				a, _ := what(g[0].Segment)
				return same(a, angle)
			})
			if i < 0 {
				groups = append(groups, []*star.Unit{u})
			} else if _, longest := what(groups[i][0].Segment); edge > longest {
				groups[i] = slices.Insert(groups[i], 0, u)
			} else {
				groups[i] = append(groups[i], u)
			}
		}
		return makeFor(groups, p, jigs)
	}
}

// makeFor makes the jigs of the first unit of each group, which serve the whole
// group. A jig of one star alone carries its name.
func makeFor(groups [][]*star.Unit, p Params, build makeOne) ([]Jig, problem.List) {
	var jigs []Jig
	var serves [][]*star.Unit
	var plates []map[string]int // of the jig's unit: which jig a plate is, by its file
	var problems problem.List
	for _, g := range groups {
		plain := *g[0]
		plain.Spec.Name = "" // so that jigs of the same shape are the same
		made, ps := build(&plain, p)
		for _, found := range ps {
			if !slices.Contains(problems, found) {
				problems = append(problems, found)
			}
		}
		own := map[string]int{}
		for _, j := range made {
			if i := slices.IndexFunc(jigs, func(o Jig) bool { return reflect.DeepEqual(o, j) }); i >= 0 {
				serves[i], own[j.File] = append(serves[i], g...), i
				continue
			}
			own[j.File] = len(jigs)
			jigs, serves, plates = append(jigs, j), append(serves, g), append(plates, own)
		}
	}
	for i, units := range serves {
		jigs[i].For = units
		if name := units[0].Spec.Name; len(units) == 1 && name != "" {
			jigs[i].File = "jig-" + name + "-" + strings.TrimPrefix(jigs[i].File, "jig-")
			jigs[i].Title = name + ": " + jigs[i].Title
		}
	}
	jigs = uniqueFiles(jigs)
	for i, j := range jigs {
		if j.Build == nil {
			continue
		}
		for k, l := range j.Build.Layers {
			if n, ok := plates[i][l.File]; ok {
				j.Build.Layers[k].File = jigs[n].File
			}
		}
	}
	return jigs, problems
}
