package jig

import (
	"fmt"

	"starwright/geom/problem"
	"starwright/geom/star"
)

// Shop is what a choice of jigs needs to know of the machines.
type Shop struct {
	MitreSaw    bool // blocks and cradles hold work on it
	CNC         bool // slots are cut under its spindle
	RouterTable bool // slots are cut on it
}

// Choice is whether a jig is worth making, and why.
type Choice struct {
	Key  string
	Make bool
	From int    // stars from which it pays; 0 where the count decides nothing
	Why  string // in words

	Minutes float64 // to cut it and screw it together; 0 where that was not asked
	Sheet   float64 // mm² of sheet that its plates take
}

// Minutes that jigs cost and save. Common practice, no source.
const (
	assembly   = 15.0  // to saw tabs, clean, screw a jig together and set it
	outlineMin = 400.0 // mm of outline that a small machine cuts in a minute, all passes
	cutSaved   = 0.5   // minutes saved a cut where nothing is measured or set anew
	glueSaved  = 4.0   // minutes saved a star on a glue-up board
	drillSaved = 2.0   // minutes saved a star that is not marked out for its hole
)

// Default says which jigs an order is worth: those without which a cut cannot be
// made, and those that only save time from the number of stars at which they
// have saved what they cost. Gauges and nest are made where the job names them.
func Default(o *star.Order, p Params, shop Shop) []Choice { return NewKits(o, p).Default(shop) }

// Default is [Default] for the order.
func (k *Kits) Default(shop Shop) []Choice {
	o, p := k.order, k.params
	var out []Choice
	add := func(key string, make bool, from int, why string, args ...any) {
		out = append(out, Choice{Key: key, Make: make, From: from, Why: fmt.Sprintf(why, args...)})
	}
	boards := of(o.Units, p, fromBoard)
	block, needs := "the saw swings far enough for every facet", false
	for _, u := range boards {
		for _, b := range Blocks(u.Segment, p.MaxMiter) {
			if b.Cut == "facet" {
				needs, block = true, fmt.Sprintf("a facet needs %s and the saw swings to %s", star.FormatAngle(b.Needed), star.FormatAngle(p.MaxMiter))
			}
		}
	}
	if !shop.MitreSaw {
		needs, block = false, "the shop has no mitre saw"
	}
	add("angle-block", needs, 0, "%s", block)
	stars, cuts := 0, 0.0
	for _, u := range boards {
		stars += u.Count()
		cuts += 2 * float64(u.Segments())
	}
	paying := func(key string, saved float64) { // minutes saved on a star
		minutes, area, ps := k.price(key)
		if len(ps) > 0 {
			add(key, false, 0, "%s", ps[0].Why)
			return
		}
		from := int(minutes/saved) + 1
		add(key, stars >= from, from, "it takes %.0f minutes to make and saves %.1f a star, so it pays from %d stars", minutes, saved, from)
		c := &out[len(out)-1]
		c.Minutes, c.Sheet = minutes, area
	}
	if shop.MitreSaw {
		paying("tip-cradle", cutSaved*cuts/float64(max(1, stars)))
	}
	if shop.MitreSaw && len(of(o.Units, p, isOffcut)) > 0 {
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
	if len(of(o.Units, p, hasHang)) > 0 {
		paying("drill-guide", drillSaved)
	}
	return out
}

// price returns what all jigs of a kind cost: minutes, and mm² of sheet.
func (k *Kits) price(key string) (minutes, area float64, ps problem.List) {
	kit, ps := k.Kit(Named([]string{key}))
	minutes = assembly
	for _, j := range kit {
		minutes += float64(j.Quantity) * j.Outline.Length() / outlineMin
		area += float64(j.Quantity) * j.Outline.Area()
	}
	return minutes, area, ps
}
