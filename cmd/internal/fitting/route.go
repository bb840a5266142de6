package fitting

import (
	"starwright/cmd/internal/plan"
	"starwright/geom/route"
	"starwright/geom/route/choose"
)

// Way is how the facets of the job are cut, with the correction; without set-ups
// where no saw cuts them.
type Way struct {
	Setups []route.Setup
}

// SetRoute adds to the answer how the job's facets are cut, corrected.
func (a *Answer) SetRoute(setups []route.Setup) {
	a.Route = plan.Setups(setups)
	a.way = &Way{setups}
}

// first returns the first set-up that cuts facets, nil where no job was given.
func (w *Way) first() *route.Setup {
	if w == nil || len(w.Setups) == 0 {
		return nil
	}
	return &w.Setups[0]
}

// correction says what to do at the set-up by which the job's facets are cut, a
// sentence each.
func (w *Way) correction() []string {
	s := w.first()
	if s == nil && w != nil {
		return choose.FlatFit()
	} else if s == nil {
		return nil
	}
	if !choose.CanBeSet(s) {
		return choose.Advice(s)
	}
	return append(choose.Advice(s), "Do the same for both sides, and cut one more star to try it.")
}
