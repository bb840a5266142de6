package benchwork

import (
	"slices"

	"starwright/cmd/internal/job"
	"starwright/geom/problem"
	"starwright/geom/star"
)

// NewOrder works out everything an order says, or a job of a star of two woods:
// strips and wood of each star, the cutter in all slots, and one plan for the rack.
func NewOrder(j *job.Job, o *star.Order) (*Work, problem.List) {
	w := &Work{each: map[*star.Unit]*Work{}}
	var problems problem.List
	for _, u := range o.FromBoards() {
		one := &Work{}
		ps := one.wood(j, u)
		if !j.Segments.CNC {
			ps = append(one.strips(j, u), ps...)
		}
		if ps = append(ps, one.feeds(j, u, o.Cutter)...); len(ps) > 0 {
			for _, p := range ps { // a fault of all stars is a fault of each
				if !slices.Contains(problems, p) {
					problems = append(problems, p)
				}
			}
			continue
		}
		w.each[u] = one
		for _, n := range one.Warnings {
			if n.Key == "wood.movement_limit" || n.Key == "star.woods" {
				n.Star = u.Spec.Name
			}
			if !slices.Contains(w.Warnings, n) {
				w.Warnings = append(w.Warnings, n)
			}
		}
		for _, f := range one.Feeds {
			if !slices.ContainsFunc(w.Feeds, func(g Feed) bool { return sameCut(f, g) }) {
				w.Feeds = append(w.Feeds, f)
			}
		}
	}
	if !j.Segments.CNC {
		problems = append(problems, w.rack(j, o)...)
	}
	if len(problems) > 0 {
		return nil, problems
	}
	return w, nil
}

// sameCut reports whether two stars ask the same of the cutter.
func sameCut(a, b Feed) bool {
	return a.For == b.For && a.Material == b.Material && a.Cut == b.Cut
}
