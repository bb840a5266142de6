package choose

import (
	"fmt"
	"strings"
	"sync"

	"starwright/geom"
	"starwright/geom/problem"
	"starwright/geom/route"
)

// Corrector works out corrections of one route after another; the methods are
// settled once. It may be used from several goroutines.
type Corrector struct {
	mu sync.Mutex
	m  *maker
}

// NewCorrector settles how the facets are cut, or says what the shop cannot do.
func NewCorrector(j Given) (*Corrector, problem.List) {
	m, problems := newMaker(j)
	return &Corrector{m: m}, problems
}

// Facets returns, for each correction by which the facets of a unit come out
// steeper to the board's axis, the set-ups that cut them.
func (c *Corrector) Facets(unit int, by ...geom.Angle) ([][]route.Setup, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	m := c.m
	if unit < 0 || unit >= len(m.units) {
		return nil, fmt.Errorf("the order has no star %d", unit)
	}
	var out [][]route.Setup
	for _, a := range by {
		if m.Flat != nil { // no saw is set
			out = append(out, nil)
			continue
		}
		m.correct, m.out.Route.Setups, m.errs = &Correct{unit, a}, nil, nil
		for _, stage := range []route.Stage{route.FirstStar, route.Rest} {
			m.layFacets(m.units[unit], stage)
		}
		if len(m.errs) > 0 {
			return nil, m.errs[0]
		}
		out = append(out, m.out.Route.Setups)
	}
	return out, nil
}

// thinPaper is the shim that no paper is as thin as, mm. Common practice, no
// source.
const thinPaper = 0.03

// LeastShim is the thinnest shim that can be had, mm: less than kitchen foil. A
// correction that takes a thinner one is worked out, and not asked of anybody.
const LeastShim = 0.01

// CanBeSet reports whether a corrected set-up takes nothing thinner than can be
// had.
func CanBeSet(s *route.Setup) bool {
	shim, shimmed := readingOf(s, route.ReadShim)
	return !shimmed || *shim.MM >= LeastShim
}

// Advice says what a corrected set-up changes, a sentence each.
func Advice(s *route.Setup) []string {
	if s.Method == route.ByHand {
		var marks []string
		for _, r := range s.Readings {
			if where := markWords[r.Name]; r.Set && where != "" {
				marks = append(marks, r.Printed+" "+where)
			}
		}
		return []string{"Draw the line anew: " + strings.Join(marks, ", ") + "."}
	}
	var out []string
	shim, shimmed := readingOf(s, route.ReadShim)
	at, _ := readingOf(s, route.ReadShimAt)
	saw, _ := readingOf(s, route.ReadSaw)
	switch {
	case !shimmed:
		out = append(out, "Turn the saw to "+saw.Printed+".")
	case !CanBeSet(s):
		return []string{"No shim is thin enough for so little: true the last joint instead."}
	default:
		place := at.Printed + " from the line of cut"
		if *at.MM == 0 {
			place = "right at the line of cut"
		}
		out = append(out, fmt.Sprintf("Put a shim of %s %s, %s.", shim.Printed, ShimPlace(s.Method), place))
		if *shim.MM < thinPaper {
			out = append(out, "No paper is so thin: take kitchen foil, about 0.015 mm (0.0006 in), or true the last joint instead.")
		}
	}
	if nose, ok := readingOf(s, route.ReadNose); ok {
		out = append(out, "Set the block's nose "+nose.Printed+" from the line of cut.")
	}
	if stop, ok := readingOf(s, route.ReadStop); ok && s.Method != route.OnBlock {
		out = append(out, "Set the stop "+stop.Printed+" from the line of cut.")
	}
	return out
}

// markWords say where a mark of a line by hand is measured.
var markWords = map[string]string{
	route.ReadAlong: "along the edge", route.ReadAcross: "across the end", route.ReadAxis: "along the middle line, from the tip",
}

// ShimPlace says what a shim goes between.
func ShimPlace(m route.Method) string {
	switch m {
	case route.OnEdge:
		return "between fence and pair"
	case route.OnBlock:
		return "between fence and block"
	case route.Cradled:
		return "between fence and cradle"
	}
	return "between fence and board"
}

func readingOf(s *route.Setup, name string) (route.Reading, bool) {
	for _, r := range s.Readings {
		if r.Name == name {
			return r, true
		}
	}
	return route.Reading{}, false
}
