package packet

import (
	"slices"
	"strings"

	"starwright/cmd/internal/costing"
	"starwright/geom/problem"
)

// cost works out what the job takes and costs.
func (w *Work) cost() error {
	g := costing.Given{Job: w.Job, Order: w.Order, Route: &w.Route, Bench: w.Bench}
	for _, p := range w.Programs {
		one := costing.Program{Runs: p.Quantity, Minutes: p.Minutes}
		if p.Sheet != nil {
			one.Sheet, _, _ = strings.Cut(p.Plan.Name, "-")
		}
		if p.Slot != nil {
			one.Star = slices.Index(w.Order.Units, p.Slot.Unit)
		}
		g.Programs = append(g.Programs, one)
	}
	var err error
	if w.Cost, err = costing.New(g); err != nil {
		return asErrors(w.Job, problem.List{{Key: "cost", Why: err.Error()}})
	}
	return nil
}
