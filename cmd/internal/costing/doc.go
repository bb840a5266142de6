// Package costing turns a job that was worked out - its route, programs and stock
// plan - into what it takes: the items that package cost adds up, by the minutes
// and prices of the shop's file, and says the sum as JSON.
//
// It draws nothing; the plan prints it and the shop sheet makes its page of it.
package costing

import (
	"starwright/cmd/internal/benchwork"
	"starwright/cmd/internal/job"
	"starwright/geom/bench/cost"
	"starwright/geom/route"
	"starwright/geom/star"
)

// Given is what the cost is worked out from.
type Given struct {
	Job      *job.Job
	Order    *star.Order
	Route    *route.Route
	Bench    *benchwork.Work
	Programs []Program
}

// Program is a program with its estimate.
type Program struct {
	Sheet   string // what the sheet holds: "jigs", "splines"; "" for a slot program
	Star    int    // of a slot program: whose facet, by its place in the order
	Runs    int
	Minutes float64 // of one run
}

// Cost is what an order takes.
type Cost struct {
	Currency string // "" where no money is worked out
	Stars    []cost.Star
	Sum      cost.Sum
	Fees     float64 // percent
	Margin   float64 // percent
	Prices   map[cost.Kind]float64
	Planned  bool // the wood is that of a stock plan; else the blanks and their kerfs alone
}

// New adds up what a job takes.
func New(g Given) (*Cost, error) {
	m := &maker{Given: g, times: g.Job.Times}
	out := &Cost{Fees: g.Job.Cost.Fees, Margin: g.Job.Cost.Margin, Currency: g.Job.Cost.Currency}
	for _, u := range g.Order.Units {
		name := u.Words("")
		if name == "" {
			name = "star"
		}
		out.Stars = append(out.Stars, cost.Star{Name: name, Count: u.Count(), Weight: float64(u.Segments())})
	}
	m.work()
	m.machines()
	out.Planned = m.wood()
	m.stuff()
	out.Prices = prices(g.Job.Cost)
	if m.woodPrice != nil && out.Currency != "" {
		out.Prices[cost.Wood] = *m.woodPrice
	}
	var err error
	out.Sum, err = cost.Add(cost.Ask{Stars: out.Stars, Items: m.items, Prices: out.Prices, Fees: out.Fees, Margin: out.Margin})
	return out, err
}

// prices are those that the shop gives, where it names a currency, but for the wood's.
func prices(t job.CostTable) map[cost.Kind]float64 {
	out := map[cost.Kind]float64{}
	for k, p := range map[cost.Kind]*float64{cost.Labour: t.Hour, cost.Machine: t.MachineHour, cost.Sheet: t.Sheet,
		cost.Glue: t.Glue, cost.Finish: t.Finish, cost.Cutter: t.Cutter} {
		if p != nil && t.Currency != "" {
			out[k] = *p
		}
	}
	return out
}
