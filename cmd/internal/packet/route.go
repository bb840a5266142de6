package packet

import (
	"slices"
	"sync"

	"starwright/cmd/internal/job"
	"starwright/geom"
	"starwright/geom/problem"
	"starwright/geom/route"
	"starwright/geom/route/choose"
	"starwright/geom/star"
)

// routeJob is what the route is worked out for.
func (w *Work) routeJob() choose.Given {
	j := w.Job
	s := choose.Shop{
		MitreSaw: j.Shop.With(job.MitreSaw), RouterTable: j.Shop.With(job.RouterTable),
		CNC: j.Shop.With(job.CNC), Laser: j.Shop.With(job.Laser),
		MaxMiter: j.Saw.MaxMiter, Reach: open(j.Saw.Reach),
		FenceHeight: open(j.RouterTable.FenceHeight), FenceLength: open(j.RouterTable.FenceLength),
		Bits: j.RouterTable.Bits, Room: open(j.Machine.Room),
	}
	switch j.Saw.Swing {
	case job.SwingLeft:
		s.Swing = route.Left
	case job.SwingRight:
		s.Swing = route.Right
	}
	return choose.Given{Order: w.Order, Shop: s, Jigs: w.jigParams(w.sheetBit()), Named: j.Jigs.Make,
		Strips: w.lamination, Flat: w.flatWay(), Path: slotPath, Stations: w.stations}
}

// stations is how the segments of a unit stand under the spindle.
func (w *Work) stations(u *star.Unit) choose.Stations {
	s := w.of(u).Slot
	return choose.Stations{Count: min(s.Stations, u.Segments()), Pitch: s.Pitch}
}

// open returns a value that a job may leave open, 0 where it does.
func open(v *float64) float64 {
	if v == nil {
		return 0
	}
	return *v
}

// slotPath is the path of a slot program by the facet's hand.
func slotPath(u *star.Unit, hand string) string { return "gcode/" + u.File("slot-"+hand) + ".nc" }

// lamination is how the boards of a unit are made of others, nil where they are
// as wide as the star's.
func (w *Work) lamination(u *star.Unit) *choose.Lamination {
	s := w.Bench.StripsOf(u)
	if s == nil {
		if w.Bench != nil && w.Bench.Rack.Rips(u) {
			return &choose.Lamination{Strips: 1, Rip: u.Segment.Width}
		}
		return nil
	}
	out := &choose.Lamination{Strips: s.PerBlank, Rip: s.StripWidth, Joint: s.Ask.Jointing, Glued: s.GluedWidth(),
		Raw: s.Ask.Length, Board: s.Ask.BoardWidth, Across: s.Across, Clamps: s.Clamps}
	if s.Planned {
		out.Across, out.Plan = 0, w.Bench.Rack != nil
	}
	return out
}

// findRoute works out how the shop makes the order, and the jigs for it.
func (w *Work) findRoute() problem.List {
	done := w.begin("choosing the way", 1)
	defer done.file()
	r, problems := choose.New(w.routeJob())
	if len(problems) > 0 {
		return problems
	}
	w.Route, w.wants, w.Jigs = r.Route, r.Wants, r.Kit
	used := map[string]bool{}
	for _, s := range r.Route.Setups {
		if s.Slot != nil {
			used[s.Slot.Program] = true
		}
	}
	w.Programs = slices.DeleteFunc(w.Programs, func(p Program) bool { return p.Slot != nil && !used[p.Path] })
	return nil
}

// Corrected returns, for each correction by which the facets of a unit of the
// order come out steeper to the board's axis, the set-ups that cut them.
func (w *Work) Corrected(unit int, by ...geom.Angle) ([][]route.Setup, error) {
	w.corrector.Do(func() {
		c, problems := choose.NewCorrector(w.routeJob())
		if len(problems) > 0 {
			w.corrector.err = problems
		}
		w.corrector.c = c
	})
	if w.corrector.err != nil {
		return nil, w.corrector.err
	}
	all, err := w.corrector.c.Facets(unit, by...)
	page := map[string]int{}
	for _, s := range w.Route.Setups {
		page[s.Name] = s.Page
	}
	for _, setups := range all {
		for i := range setups {
			setups[i].Page = page[setups[i].Name]
		}
	}
	return all, err
}

// corrector works out corrections; it is made when the first is asked for.
type corrector struct {
	sync.Once
	c   *choose.Corrector
	err error
}
