package fitting

import (
	"fmt"
	"strings"

	"starwright/cmd/internal/plan"
	"starwright/geom/route"
)

// Way is how the facets of the job are cut, with the correction.
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

// reading returns a printed reading of a set-up.
func reading(s *route.Setup, name string) string {
	for _, r := range s.Readings {
		if r.Name == name {
			return r.Printed
		}
	}
	return ""
}

// correction says what to do at the set-up by which the job's facets are cut, a
// sentence each.
func (w *Way) correction(towardsSquare bool) []string {
	s := w.first()
	if s == nil {
		return nil
	}
	var out []string
	shim, at := reading(s, route.ReadShim), reading(s, route.ReadShimAt)
	behind := map[route.Method]string{route.Direct: "between fence and board", route.OnEdge: "between fence and pair",
		route.OnBlock: "between fence and block", route.Cradled: "between fence and cradle"}[s.Method]
	switch {
	case s.Method == route.ByHand:
		out = append(out, "Draw the line anew: "+marks(s)+".")
	case shim != "":
		out = append(out, fmt.Sprintf("Put a shim of %s %s, %s from the line of cut.", shim, behind, at))
	default:
		way := "away from square"
		if towardsSquare {
			way = "towards square"
		}
		out = append(out, fmt.Sprintf("Turn the saw %s, to %s.", way, reading(s, route.ReadSaw)))
	}
	if nose := reading(s, route.ReadNose); nose != "" {
		out = append(out, "Set the block's nose "+nose+" from the line of cut.")
	}
	if stop := reading(s, route.ReadStop); stop != "" && s.Method != route.OnBlock && s.Method != route.ByHand {
		out = append(out, "Set the stop "+stop+" from the line of cut.")
	}
	return append(out, "Do the same for both sides, and cut one more star to try it.")
}

// marks lists the marks of a line drawn by hand.
func marks(s *route.Setup) string {
	var out []string
	for _, r := range s.Readings {
		if r.Set {
			out = append(out, r.Printed+" "+r.Name)
		}
	}
	return strings.Join(out, ", ")
}
