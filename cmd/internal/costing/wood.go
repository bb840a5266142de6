package costing

import (
	"starwright/cmd/internal/benchwork"
	"starwright/cmd/internal/job"
	"starwright/geom/bench/cost"
	"starwright/geom/bench/lumber"
	"starwright/geom/route/choose"
	"starwright/geom/star"
)

// board is a board that is taken, or the part of one.
type board struct {
	long, wide, thick float64
	part              float64 // of a board that is ripped to several
	wood              string  // "" where all are of one
	price             *float64
}

// wood counts the wood that is taken, shared by what each star's pieces are of it,
// wood by wood; false where no stock plan says so: then it is the blanks with their
// kerfs.
func (m *maker) wood() bool {
	boards, planned := m.boards()
	measure, unit := m.amount, m.unit()
	switch one := 1.0; {
	case m.money(boards):
		measure, unit, m.woodPrice = m.worth, m.Job.Cost.Currency, &one
	case m.Job.Cost.WoodPer != job.PerBoard || planned: // else nobody knows how many boards
		m.woodPrice = m.Job.Cost.Wood
	}
	amount := map[string]float64{}
	for _, b := range boards {
		amount[b.wood] += measure(b)
	}
	all := map[string]float64{}
	pieces := m.volumes()
	for _, p := range pieces {
		all[p.wood] += p.volume
	}
	for i, u := range m.Order.Units {
		if u.Blank == nil {
			continue
		}
		sum := 0.0
		for _, p := range pieces {
			if p.of == u && p.volume > 0 {
				sum += amount[p.wood] * p.volume / all[p.wood]
			}
		}
		m.add("wood", cost.Wood, i, 1, sum, unit)
	}
	return planned
}

// share is what a star's pieces take of a wood, mm3.
type share struct {
	of     *star.Unit
	wood   string
	volume float64
}

// volumes lists what the stars' pieces take, by wood where the stock plan knows it.
func (m *maker) volumes() (out []share) {
	x := m.Bench
	switch {
	case m.flat() != nil:
		for _, w := range m.flat().Wanted {
			out = append(out, share{w.Unit, w.Wood, float64(w.Wanted) * w.Unit.Segment.Outline().Area() * w.Unit.Thickness()})
		}
	case m.racked():
		for i, p := range x.Rack.Ask.Pieces {
			out = append(out, share{x.Rack.Units[i], p.Wood, float64(p.Count) * p.Length * p.Width * p.Thickness})
		}
	default:
		for _, u := range m.Order.FromBoards() {
			out = append(out, share{u, "", float64(u.Blank.Count+choose.Spare(u)) * u.Blank.Length * u.Segment.Width * u.Thickness()})
		}
	}
	return out
}

// flat is the plan of segments from the CNC, nil where they are sawn.
func (m *maker) flat() *benchwork.Flat {
	if m.Bench == nil {
		return nil
	}
	return m.Bench.Flat
}

// racked reports whether an order's stock plan says which boards are taken.
func (m *maker) racked() bool {
	return m.Bench != nil && m.Bench.Rack != nil && len(m.Bench.Rack.Plan.Boards) > 0
}

// boards returns the boards that the stock plan takes.
func (m *maker) boards() (out []board, planned bool) {
	if x := m.flat(); x != nil {
		for _, s := range x.Boards {
			b := x.Board(s)
			out = append(out, board{b.Length, b.Width, b.Thickness, 1, b.Wood, b.Price})
		}
		return out, true
	}
	if m.racked() {
		x := m.Bench.Rack
		for _, s := range x.Plan.Boards {
			b := x.Board(s)
			out = append(out, board{b.Length, b.Width, b.Thickness, 1, b.Wood, x.Price(s)})
		}
		return out, true
	}
	if x := m.Bench; x != nil && x.Stock != nil && len(x.Stock.Taken()) > 0 {
		part := 1.0 // a board that is ripped stands in the plan as so many lengths
		if x.Strips != nil {
			part /= float64(x.Strips.Across)
		}
		for _, c := range x.Stock.Taken() {
			out = append(out, board{c.Length, x.Stock.YardWidth, x.Stock.YardThickness, part, "", m.Job.Stock.Boards[c.Board].Price})
		}
		return out, true
	}
	for _, u := range m.Order.FromBoards() {
		long := float64(u.Blank.Count+choose.Spare(u)) * (u.Blank.Length + u.Spec.Kerf)
		out = append(out, board{long: long, wide: u.Segment.Width, thick: u.Thickness(), part: 1})
	}
	return out, false
}

// money reports whether the wood is counted in money: where a board that is taken
// has a price of its own, and each of the others one too.
func (m *maker) money(boards []board) bool {
	own, missing := false, false
	for _, b := range boards {
		own = own || b.price != nil
		missing = missing || b.price == nil && m.Job.Cost.Wood == nil
	}
	return own && !missing && m.Job.Cost.Currency != ""
}

// worth is what a board costs: its own price, or what so much wood costs.
func (m *maker) worth(b board) float64 {
	if b.price != nil {
		return *b.price * b.part
	}
	return *m.Job.Cost.Wood * m.amount(b)
}

// amount is what a board is in the measure that wood is sold by.
func (m *maker) amount(b board) float64 {
	switch m.Job.Cost.WoodPer {
	case job.PerMetre:
		return b.long * b.part / 1000
	case job.PerCubicMetre:
		return b.long * b.part * b.wide * b.thick / 1e9
	case job.PerBoard:
		return b.part
	}
	return lumber.BoardFeet(b.long*b.part, b.wide, b.thick)
}

// unit names that measure.
func (m *maker) unit() string {
	switch m.Job.Cost.WoodPer {
	case job.PerMetre:
		return "m"
	case job.PerCubicMetre:
		return "m³"
	case job.PerBoard:
		return "boards"
	}
	return "board feet"
}
