package backplot

import (
	"fmt"
	"math"

	"starwright/geom"
)

const (
	// skin is wood, in mm up from the sheet's underside, that holds nothing.
	skin = 0.3

	// chip is the area, in mm², below which a loose piece goes the way of the
	// chips: less than what a cutter of 1/8 in covers. Squares tell an area to a
	// few of their own, so that a planner that looks at less stays below it.
	chip = 8.0

	// mostLoose is how many loose pieces are looked at.
	mostLoose = 100

	// rowsWork is the most chords that the rows of a sheet are cut with: a few
	// seconds of work.
	rowsWork = 60e6
)

// looseRows are the rows of a sheet and what they show.
type looseRows struct {
	tangled bool    // there were too many cuts to work them out
	all     []piece // what hangs together in the rows along X, held first
	across  *rows   // the rows along Y, where all is more than one piece
	kept    []piece // what hangs together in those
}

// looseRows looks at the sheet once all is cut. It finds nothing and changes
// nothing, so that it can be done beside other questions.
func (r *Replay) looseRows() (out looseRows) {
	sh := r.Sheet
	if sh.Size == (geom.Point{}) || r.field.store.n == 0 {
		return out
	}
	z := -sh.Thickness + skin
	step := min(1, r.field.r/2)
	if sh.Tabs.Count > 0 {
		z = min(z, -sh.Thickness+sh.Tabs.Height/2)
		step = min(step, sh.Tabs.Width/4)
	}
	along := newRows(r.field, sh.Size, step, z, false)
	if along.work() > rowsWork {
		return looseRows{tangled: true}
	}
	along.scan()
	all := along.pieces()
	if len(all) < 2 {
		return out
	}
	out.all = all[:min(len(all), mostLoose)]
	out.across = newRows(r.field, sh.Size, step, z, true)
	out.across.look(out.all)
	out.across.scan()
	out.kept = out.across.pieces()
	return out
}

// loose looks for pieces of the sheet that nothing holds once all is cut: a
// closed cut frees what lies in it, a cut from edge to edge severs the sheet.
// What is a part is left to its tabs; where there are none, whatever holds the
// parts holds what their cut-outs free.
func (r *Replay) loose(s looseRows) {
	if s.tangled {
		r.find(0, "tangle", "so many cuts lie over each other that what they leave of the sheet is not worked out", 0, r.at, "nothing is known of the waste")
	}
	if len(s.all) == 0 {
		return
	}
	for i, p := range s.all[1:] {
		if p.area < chip || r.isPart(p.at) {
			continue
		}
		if n := s.across.found[i+1]; n >= 0 && len(s.kept) > 0 && s.across.find(n) == s.kept[0].root {
			continue // a thin bridge holds it
		}
		r.comesLoose(p)
	}
}

// isPart reports whether a place lies in a part; where no tabs hold the parts,
// its cut-outs with it.
func (r *Replay) isPart(p geom.Point) bool {
	in := false
	r.partTree().Each(geom.Box{Min: p, Max: p}, func(i int) bool {
		o := &r.parts[i].outline
		in = o.contains(p) || r.Sheet.Tabs.Count == 0 && o.Contour.Contains(p)
		return !in
	})
	return in
}

// comesLoose files a piece that nothing holds.
func (r *Replay) comesLoose(p piece) {
	at, size, area := geom.Point3{X: p.at.X, Y: p.at.Y}, math.Sqrt(p.area), r.Unit.FormatArea(p.area)
	if p.border {
		r.find(int(p.line), "severed", fmt.Sprintf("the sheet is cut in two: %s at X %.1f Y %.1f hang together with nothing else", area, r.in(p.at.X), r.in(p.at.Y)),
			size, at, "the sheet moves under the cutter")
		return
	}
	r.find(int(p.line), "loose", fmt.Sprintf("a piece of %s at X %.1f Y %.1f is cut free without tabs", area, r.in(p.at.X), r.in(p.at.Y)),
		size, at, "a loose piece is caught by the cutter and thrown")
}
