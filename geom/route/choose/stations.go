package choose

import (
	"fmt"
	"math"

	"starwright/geom/jig"
)

// Stations is how many segments stand behind each other under the spindle, each
// in a stand of its own.
type Stations struct {
	Count int
	Pitch float64 // from one show face to the next
}

// mostStands is how many stands of a hand a kit has: more would be sheets by the
// hundred, and the drawings are there to cut others from.
const mostStands = 12

// stations is how the segments of a unit stand under the spindle.
func (m *maker) stations(u *unit) Stations {
	if m.Stations == nil {
		return Stations{Count: 1}
	}
	s := m.Stations(u.Unit)
	s.Count = max(1, s.Count)
	return s
}

// setUp says how the stands of several stations are set up, all of one build.
func (row Stations) setUp(u *unit, b *jig.Build) []string {
	out := []string{
		fmt.Sprintf("Stand the %d left slot stands under the spindle, one behind the other in Y, each screwed to a fence board of its own: the first board's face at Y0, each next %s further.",
			row.Count, u.Format(row.Pitch)),
		"Set X0 at the star's centre end of the first facet, Y0 at its show face, Z0 on it. All facets are level with the first, their centre ends in one line along Y.",
	}
	if free := row.Pitch - math.Max(u.Thickness(), b.Height); free > near {
		out = append(out, fmt.Sprintf("From the back of one to the show face of the next there are %s: straps and fence board together are thinner.", u.FormatFloor(free)))
	}
	if row.Count > mostStands {
		out = append(out, fmt.Sprintf("The kit has %d stands of each hand: cut the others from the same drawings.", mostStands))
	}
	return out
}
