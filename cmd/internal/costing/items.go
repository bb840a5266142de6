package costing

import (
	"fmt"
	"strings"

	"starwright/cmd/internal/benchwork"
	"starwright/cmd/internal/job"
	"starwright/geom/bench/cost"
	"starwright/geom/bench/lumber"
	"starwright/geom/route"
	"starwright/geom/route/choose"
	"starwright/geom/star"
)

// maker gathers the items.
type maker struct {
	Given
	times job.TimesTable
	items []cost.Item
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

// board is a board that is taken.
type board struct {
	long, wide, thick float64
	price             *float64
}

// wood counts the wood that is taken, shared by what each star's blanks are of it;
// false where no stock plan says so: then it is the blanks with their kerfs.
func (m *maker) wood() bool {
	boards, planned := m.boards()
	amount, unit := m.amount(boards)
	volume := func(u *star.Unit) float64 {
		if m.flat() != nil {
			return float64(u.Segments()) * u.Segment.Outline().Area() * u.Thickness()
		}
		return float64(u.Blank.Count+choose.Spare(u)) * u.Blank.Length * u.Segment.Width * u.Thickness()
	}
	all := 0.0
	for _, u := range m.Order.FromBoards() {
		all += volume(u)
	}
	for i, u := range m.Order.Units {
		if u.Blank != nil {
			m.add("wood", cost.Wood, i, 1, amount*volume(u)/all, unit)
		}
	}
	return planned
}

// flat is the plan of segments from the CNC, nil where they are sawn.
func (m *maker) flat() *benchwork.Flat {
	if m.Bench == nil {
		return nil
	}
	return m.Bench.Flat
}

// boards returns the boards that the stock plan takes.
func (m *maker) boards() (out []board, planned bool) {
	if x := m.flat(); x != nil {
		for _, s := range x.Boards {
			b := x.Board(s)
			out = append(out, board{b.Length, b.Width, b.Thickness, b.Price})
		}
		return out, true
	}
	if x := m.Bench; x != nil && x.Rack != nil && len(x.Rack.Plan.Boards) > 0 {
		for _, s := range x.Rack.Plan.Boards {
			b := x.Rack.Board(s)
			out = append(out, board{b.Length, b.Width, b.Thickness, x.Rack.Price(s)})
		}
		return out, true
	}
	if x := m.Bench; x != nil && x.Stock != nil && len(x.Stock.Taken()) > 0 {
		part := 1.0 // a board that is ripped stands in the plan as so many lengths
		if x.Strips != nil {
			part /= float64(x.Strips.Across)
		}
		for _, c := range x.Stock.Taken() {
			b := board{c.Length * part, x.Stock.YardWidth, x.Stock.YardThickness, m.Job.Stock.Boards[c.Board].Price}
			if b.price == nil {
				b.price = m.Job.Cost.Wood
			}
			if b.price != nil {
				p := *b.price * part
				b.price = &p
			}
			out = append(out, b)
		}
		return out, true
	}
	for _, u := range m.Order.FromBoards() {
		long := float64(u.Blank.Count+choose.Spare(u)) * (u.Blank.Length + u.Spec.Kerf)
		out = append(out, board{long: long, wide: u.Segment.Width, thick: u.Thickness()})
	}
	return out, false
}

// amount is what the boards are in the measure that wood is sold by; of boards by
// the piece it is what they cost.
func (m *maker) amount(boards []board) (sum float64, unit string) {
	per := m.Job.Cost.WoodPer
	for _, b := range boards {
		switch per {
		case job.PerMetre:
			sum += b.long / 1000
		case job.PerCubicMetre:
			sum += b.long * b.wide * b.thick / 1e9
		case job.PerBoard:
			switch {
			case b.price != nil:
				sum += *b.price
			case m.Job.Cost.Wood != nil:
				sum += *m.Job.Cost.Wood
			}
		default:
			sum += lumber.BoardFeet(b.long, b.wide, b.thick)
		}
	}
	switch per {
	case job.PerMetre:
		unit = "m"
	case job.PerCubicMetre:
		unit = "m³"
	case job.PerBoard:
		unit = m.Job.Cost.Currency
	default:
		unit = "board feet"
	}
	return sum, unit
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
