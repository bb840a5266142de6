package choose

import (
	"fmt"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/geom/route"
	"starwright/geom/star"
)

// Each station of a slot program holds a segment, so each takes a stand; what lies
// between two show faces beside the wood is the pitch less the thickness: 44 - 19 and
// 44 - 24 by hand.
func TestEachStationHasItsStand(t *testing.T) {
	for _, c := range []struct {
		stations, stands int
		thickness        float64
		free             string
	}{
		{1, 1, 19, ""}, {4, 4, 19, "25 mm"}, {4, 4, 24, "20 mm"}, {6, 6, 19, "25 mm"}, {40, 12, 19, "25 mm"},
	} {
		spec := specOf(5, 100, geom.Millimetre)
		spec.Thickness = c.thickness
		given := jobOf(t, spec, shops["saw, router, cnc"])
		given.Stations = func(*star.Unit) Stations { return Stations{Count: c.stations, Pitch: 44} }
		r, ps := New(given)
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		plates := map[string]int{}
		for _, j := range r.Kit {
			plates[j.File] = j.Quantity
		}
		for _, s := range r.Route.Setups {
			if s.Kind != route.Slot {
				continue
			}
			use := s.Jigs[0]
			if got := plates[strings.TrimSuffix(strings.TrimPrefix(use.Path, "dxf/"), ".dxf")]; got != c.stands*use.Plates || use.Sets != c.stations {
				t.Errorf("%d stations, %s: %d plates of %s are cut, %d for each of %d stands; want %d stands", c.stations, s.Name, got, use.Path, use.Plates, use.Sets, c.stands)
			}
			words := strings.Join(s.SetUp, " ")
			if s.Slot.Hand == route.Left && c.stands > 1 &&
				(!strings.Contains(words, fmt.Sprintf("the %d left slot stands", c.stations)) || !strings.Contains(words, "each next 44 mm further") || !strings.Contains(words, "there are "+c.free+":") ||
					strings.Contains(words, "cut the others") != (c.stands < c.stations)) {
				t.Errorf("%d stations: %s", c.stations, words)
			}
		}
	}
}
