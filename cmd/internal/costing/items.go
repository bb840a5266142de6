package costing

import (
	"fmt"
	"strings"

	"starwright/cmd/internal/benchwork"
	"starwright/cmd/internal/job"
	"starwright/geom/bench/cost"
	"starwright/geom/route"
	"starwright/geom/route/choose"
)

// maker gathers the items.
type maker struct {
	Given
	times job.TimesTable
	items []cost.Item
	// woodPrice is what one unit of the items of wood costs, nil where nobody says.
	woodPrice *float64
}

func (m *maker) add(what string, kind cost.Kind, star int, count, each float64, unit string) {
	if count > 0 && each > 0 {
		m.items = append(m.items, cost.Item{What: what, Kind: kind, Star: star, Count: count, Each: each, Unit: unit})
	}
}

func (m *maker) minutes(what string, star int, count, each float64) {
	m.add(what, cost.Labour, star, count, each, "min")
}

// work counts the minutes of each set-up of the route: the machine set up, or
// only a stop moved where the set-up before left the rest; and then piece by piece.
func (m *maker) work() {
	last := map[route.Machine]string{}
	for i := range m.Route.Setups {
		s := &m.Route.Setups[i]
		if s.Machine != route.Hand && s.Machine != route.Laser && (s.Cut != nil || s.Slot != nil) { // programs of sheets are counted one by one
			now := choose.Setting(s)
			if now == last[s.Machine] {
				m.minutes("stops moved", s.Unit, 1, m.times.Stop)
			} else {
				m.minutes("set-ups of machines", cost.All, 1, m.times.Setup)
			}
			last[s.Machine] = now
		}
		m.pieces(s)
		// Both halves of a star dry at the same time.
		if next := i + 1; s.Kind == route.GlueHalves && (next == len(m.Route.Setups) || m.Route.Setups[next].Kind != route.GlueHalves) {
			m.dries(s.Unit)
		}
	}
}

// pieces counts what is done for each piece of a set-up.
func (m *maker) pieces(s *route.Setup) {
	n, t, star := float64(s.Count), m.times, s.Unit
	u := m.Order.Units[star]
	switch s.Kind {
	case route.CutJigs:
		m.minutes("jigs screwed together", cost.All, n, t.Plate)
	case route.Hang:
		m.minutes("hanging holes bored", star, n, t.Cut)
	case route.Plates:
		m.minutes("back plates cleaned", star, n, t.Plate)
	case route.Plate:
		m.minutes("back plates screwed on", star, n, t.Plate)
	case route.Rip:
		if u.Blank != nil {
			const mmPerM = 1000
			m.minutes("ripping and planing", star, n*u.Blank.Length/mmPerM, t.Rip)
		}
	case route.Laminate:
		joints := 1.0
		if x := m.Bench.StripsOf(u); x != nil {
			joints = float64(x.Joints)
		}
		m.minutes("blanks glued up", star, n*joints, t.Joint)
		m.dries(star)
	case route.Edges:
		m.minutes("outer edges cleaned of tabs", star, n, t.Spline)
	case route.Blanks, route.Boards, route.Facet, route.PairFacet, route.Tip:
		if s.Machine == route.Hand {
			m.minutes("faces by hand", star, n, t.HandCut)
		} else {
			m.minutes("cuts on the saw", star, n, t.Cut)
		}
	case route.Slot:
		m.minutes("slots, work put in and taken out", star, n, t.Slot)
	case route.Splines:
		m.minutes("splines cleaned and tried", star, n, t.Spline)
		if s.Machine == route.MitreSaw || s.Machine == route.Hand {
			m.minutes("splines cut", star, n, t.Cut)
		}
	case route.TestFit, route.DryFit:
		m.minutes("stars laid together dry", star, n, t.Fit)
	case route.GluePairs:
		m.minutes("joints glued", star, n, t.Joint)
		m.dries(star)
	case route.GlueHalves:
		m.minutes("joints glued", star, float64(s.Pieces)-n, t.Joint)
	case route.TrueHalves:
		m.minutes("halves trued", star, n, t.HandCut)
	case route.GlueLast:
		m.minutes("joints glued", star, 2*n, t.Joint)
		m.dries(star)
	case route.Finish:
		m.minutes("stars made flush and finished", star, n, t.Finish)
	}
}

// dries counts the wait for glue once for all stars of a kind: they dry together.
func (m *maker) dries(star int) { m.add("glue dries", cost.Drying, star, 1, m.times.Drying, "min") }

// segments is what programs are named by that cut them.
const segments = "segments"

// machines counts the programs' own minutes. At a slot somebody stands by; a sheet
// runs alone once it is put on.
func (m *maker) machines() {
	hours := 0.0
	for _, p := range m.Programs {
		runs := float64(p.Runs)
		hours += runs * p.Minutes / 60
		if p.Sheet == "" {
			m.add("slots, the program runs", cost.Labour, p.Star, runs, p.Minutes, "min")
			m.add("slots on the CNC", cost.Machine, p.Star, runs, p.Minutes, "min")
			continue
		}
		m.minutes("sheets put on the CNC", cost.All, runs, m.times.Program)
		m.add(p.Sheet+" on the CNC", cost.Machine, cost.All, runs, p.Minutes, "min")
		if p.Sheet != segments { // cut from boards
			m.add("sheets for "+p.Sheet, cost.Sheet, cost.All, runs, 1, "sheet")
		}
	}
	if h := m.Job.Cost.CutterHours; h != nil {
		m.add("cutters worn", cost.Cutter, cost.All, 1, hours/(*h), "cutter")
	}
}

// stuff counts glue and finish by the areas of the stars.
func (m *maker) stuff() {
	const mm2PerM2, gPerKg = 1e6, 1000
	for i, u := range m.Order.Units {
		n := float64(u.Count())
		joint := u.Segment.Facet * u.Thickness()
		if s := u.Spline; s != nil {
			joint += 2 * s.Length * s.Width // both faces of the spline
		}
		m.add("glue", cost.Glue, i, n*float64(u.Points), joint/mm2PerM2*benchwork.GluePerM2/gPerKg, "kg")
		kite := u.Segment.Outline().Area()
		face := 2*kite + 2*u.Segment.Edge*u.Thickness() // both faces and the two outer edges of a segment
		m.add("finish", cost.Finish, i, n*float64(u.Points), face/mm2PerM2, "m²")
	}
}

// Money prints a sum in the shop's currency, to the hundredth.
func (c *Cost) Money(v float64) string { return fmt.Sprintf("%.2f %s", v, c.Currency) }

// Minutes prints a time as people say it.
func Minutes(v float64) string {
	if v < 90 {
		return fmt.Sprintf("%.0f min", v)
	}
	return fmt.Sprintf("%.1f h", v/60)
}

// Without names what has no price.
func (c *Cost) Without() string {
	keys := map[cost.Kind]string{cost.Labour: "hour", cost.Machine: "machine_hour"}
	var out []string
	for _, k := range c.Sum.Missing {
		name := string(k)
		if keys[k] != "" {
			name = fmt.Sprintf("%s (%s)", k, keys[k])
		}
		out = append(out, name)
	}
	return strings.Join(out, ", ")
}
