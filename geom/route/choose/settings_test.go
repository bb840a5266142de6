package choose

import (
	"math"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/geom/route"
)

// What a mitre saw's scale reads for the facets of a star: from square 90 degrees
// less the angle between cut and board's edge, which is half of 360/n (plane
// geometry; for five points the 36 degree cut that reads 54). A block takes what
// the saw cannot swing, so that both together make it. The tips, with a finished
// facet against the fence, take 90 degrees less half of both angles.
func TestMitreSawSettings(t *testing.T) {
	facet := map[int]string{4: "45°", 5: "54°", 6: "60°", 7: "64.29°", 8: "67.5°", 9: "70°", 10: "72°", 11: "73.64°", 12: "75°"}
	// Tips of the regular stars: 180 (1 - 2k/n), k the largest below n/2; 45 for four.
	tip := map[int]float64{4: 45, 5: 36, 6: 60, 7: 180. / 7, 8: 45, 9: 20, 10: 36, 11: 180. / 11, 12: 30}
	for n := 4; n <= 12; n++ {
		far := setupsOf(t, n, 100, Shop{MitreSaw: true, MaxMiter: geom.Deg(80)})
		for _, s := range far {
			if s.Kind != route.Facet {
				continue
			}
			if got := printedOf(s, route.ReadSaw); !sameDegrees(got, facet[n]) || s.Method != route.Direct {
				t.Errorf("%d points, %s, a saw that swings far: facets at %s, want %s", n, s.Name, got, facet[n])
			}
		}
		for _, s := range setupsOf(t, n, 100, Shop{MitreSaw: true, MaxMiter: geom.Deg(44)}) {
			saw := s.Setting.Degrees()
			for _, r := range s.Readings {
				if r.Name == route.ReadBlock {
					saw += *r.Deg
				}
			}
			switch {
			case s.Kind == route.Facet && s.Method == route.OnBlock:
				if math.Abs(saw-(90-180/float64(n))) > 0.02 {
					t.Errorf("%d points, %s: saw and block make %.2f degrees, want %s", n, s.Name, saw, facet[n])
				}
			case s.Kind == route.Tip && s.Method == route.OnFacet:
				if want := 90 - 180/float64(n) - tip[n]/2; math.Abs(saw-want) > 0.02 {
					t.Errorf("%d points, %s: %.2f degrees, want %.2f", n, s.Name, saw, want)
				}
			case s.Cut != nil && s.Method == route.Cradled && saw != 0:
				t.Errorf("%d points, %s: a cradle takes the saw square, not at %.2f", n, s.Name, saw)
			}
		}
	}
}

// sameDegrees reports whether a setting is the one wanted, to the hundredth.
func sameDegrees(got, want string) bool { return math.Abs(number(got)-number(want)) < 0.01 }

func number(s string) float64 {
	a, err := geom.ParseAngle(strings.TrimSuffix(s, "°") + " deg")
	if err != nil {
		return math.NaN()
	}
	return a.Degrees()
}

func printedOf(s route.Setup, name string) string {
	for _, r := range s.Readings {
		if r.Name == name {
			return r.Printed
		}
	}
	return ""
}

// setupsOf is the route of a star of n points.
func setupsOf(t *testing.T, n int, wide float64, s Shop) []route.Setup {
	t.Helper()
	r, ps := New(jobOf(t, specOf(n, wide, geom.Millimetre), s))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return r.Route.Setups
}

// The message of a fence too short for the stops of a carriage has the length that
// works; left out, the page tells it.
func TestRouterFence(t *testing.T) {
	shop := Shop{MitreSaw: true, RouterTable: true}
	need := 0.0
	for _, s := range setupsOf(t, 5, 100, shop) {
		for _, r := range s.Readings {
			if r.Name == route.ReadLong {
				need = *r.MM
			}
		}
	}
	if need < 200 || need > 1000 {
		t.Fatalf("the page asks for a fence of %.1f mm", need)
	}
	j := jobOf(t, specOf(5, 100, geom.Millimetre), shop)
	j.Shop.FenceLength = need
	if _, ps := New(j); len(ps) > 0 {
		t.Error(ps)
	}
	j.Shop.FenceLength = need - 10
	_, ps := New(j)
	if len(ps) != 1 || ps[0].Key != "router_table.fence_length" || !strings.Contains(ps[0].Would, geom.Millimetre.Format(need)) {
		t.Errorf("a fence 10 mm too short: %+v", ps)
	}
	j.Shop.CNC = true // which then cuts the slots
	if _, ps := New(j); len(ps) > 0 {
		t.Error(ps)
	}
}

// What a shop would need for the slots is a machine that it does not have, and
// each machine is named once.
func TestWhatSlotsWouldNeed(t *testing.T) {
	for _, s := range []Shop{{MitreSaw: true}, {MitreSaw: true, RouterTable: true, FenceHeight: 6}, {MitreSaw: true, RouterTable: true, Bits: []float64{2}}, {}} {
		j := jobOf(t, specOf(5, 100, geom.Millimetre), Shop{MitreSaw: true, RouterTable: true})
		j.Shop = s
		j.Shop.MaxMiter = geom.Deg(50)
		_, ps := New(j)
		if len(ps) != 1 {
			t.Errorf("%+v: %v", s, ps)
			continue
		}
		if n := strings.Count(ps[0].Would, `"router table"`); n > 1 || s.RouterTable && n > 0 {
			t.Errorf("%+v: %s", s, ps[0].Would)
		}
	}
}
