package jig

import (
	"fmt"
	"slices"

	"starwright/geom"
	"starwright/geom/star"
)

// AllUnits stands for every star of an order.
const AllUnits = -1

// Want is a jig that somebody asks for: a set-up of the route, or the job
// itself by its name.
type Want struct {
	Key   string     // kind, see [Keys]
	Unit  int        // index of the star in the order whose work it holds, or [AllUnits]
	Hand  string     // left or right; "" for both, and for kinds that have none
	Angle geom.Angle // of an angle block; 0 for those that [Blocks] chooses
	Sets  int        // how many of it; 0 stands for one
}

// asked returns how many sets of a jig several wants ask for.
func (j *Jig) asked(o *star.Order, wants []Want) (sets int) {
	near := func(a, b geom.Angle) bool { return a-b < angleSlack && b-a < angleSlack }
	for _, w := range wants {
		switch {
		case w.Key != j.Key,
			w.Hand != "" && j.Hand != "" && w.Hand != j.Hand,
			w.Unit != AllUnits && !slices.Contains(j.For, o.Units[w.Unit]),
			w.Angle > 0 && !near(w.Angle, j.Angle):
			continue
		}
		sets = max(sets, w.Sets, 1)
	}
	return sets
}

// Named turns names of jigs, as in `[jigs] make`, into wants for both hands and
// all stars.
func Named(keys []string) []Want {
	var out []Want
	for i, k := range keys {
		if !slices.Contains(keys[:i], k) {
			out = append(out, Want{Key: k, Unit: AllUnits})
		}
	}
	return out
}

// Shop is what a choice of jigs needs to know of the machines.
type Shop struct {
	CNC         bool // slots are cut under its spindle
	RouterTable bool // slots are cut on it
}

// Choice is whether a jig is worth making, and why.
type Choice struct {
	Key  string
	Make bool
	From int    // stars from which it pays; 0 where the count decides nothing
	Why  string // in words
}

// Minutes that jigs cost and save. Common practice, no source.
const (
	assembly   = 15.0  // to saw tabs, clean, screw a jig together and set it
	outlineMin = 400.0 // mm of outline that a small machine cuts in a minute, all passes
	cutSaved   = 0.5   // minutes saved a cut where nothing is measured or set anew
	glueSaved  = 4.0   // minutes saved a star on a glue-up board
)

// Default says which jigs an order is worth: those without which a cut cannot be
// made, and those that only save time from the number of stars at which they
// have saved what they cost. Gauges and nest are made where the job names them.
func Default(o *star.Order, p Params, shop Shop) []Choice {
	var out []Choice
	add := func(key string, make bool, from int, why string, args ...any) {
		out = append(out, Choice{key, make, from, fmt.Sprintf(why, args...)})
	}
	boards := of(o.Units, p, fromBoard)
	block, needs := "the saw swings far enough for every facet", false
	for _, u := range boards {
		for _, k := range Blocks(u.Segment, p.MaxMiter) {
			if k.Cut == "facet" {
				needs, block = true, fmt.Sprintf("a facet needs %s and the saw swings to %s", star.FormatAngle(k.Needed), star.FormatAngle(p.MaxMiter))
			}
		}
	}
	add("angle-block", needs, 0, "%s", block)
	stars, cuts := 0, 0.0
	for _, u := range boards {
		stars += u.Count()
		cuts += 2 * float64(u.Segments())
	}
	paying := func(key string, saved float64) { // minutes saved on a star
		kit, ps := Kit(o, p, Named([]string{key}))
		if len(ps) > 0 {
			add(key, false, 0, "%s", ps[0].Why)
			return
		}
		cost := assembly
		for _, j := range kit {
			cost += float64(j.Quantity) * j.Outline.Length() / outlineMin
		}
		from := int(cost/saved) + 1
		add(key, stars >= from, from, "it takes %.0f minutes to make and saves %.1f a star, so it pays from %d stars", cost, saved, from)
	}
	paying("tip-cradle", cutSaved*cuts/float64(max(1, stars)))
	if len(of(o.Units, p, isOffcut)) > 0 {
		paying("offcut-cradle", cutSaved*cuts/float64(max(1, stars)))
	}
	switch {
	case len(of(o.Units, p, hasSlot)) == 0:
	case shop.CNC:
		add("slot-stand", true, 0, "it holds the segment under the spindle")
	case shop.RouterTable:
		add("router-carriage", true, 0, "it carries the segment over the bit")
	}
	paying("glue-board", glueSaved)
	return out
}

// Chosen returns the wants of the jigs that are worth making.
func Chosen(cs []Choice) []Want {
	var keys []string
	for _, c := range cs {
		if c.Make {
			keys = append(keys, c.Key)
		}
	}
	return Named(keys)
}
