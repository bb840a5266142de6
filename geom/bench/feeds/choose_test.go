package feeds

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
)

// TestChosenIsCommon: what is chosen is not warned of, whatever bit, wood and
// machine. The ranges are those of [CommonRange], a tool seller's chart.
func TestChosenIsCommon(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Ask{
			Diameter: rapid.Float64Range(0.5, 25).Draw(t, "diameter"), Flutes: rapid.IntRange(1, 4).Draw(t, "flutes"),
			Materials: []Material{rapid.SampledFrom([]Material{Softwood, Hardwood}).Draw(t, "wood"), Plywood},
			Unit:      rapid.SampledFrom([]geom.Unit{geom.Millimetre, geom.Inch}).Draw(t, "unit"),
			CutLength: rapid.SampledFrom([]float64{0, 1, 12}).Draw(t, "cut length"),
			RPM:       rapid.SampledFrom([]float64{0, 0, 10000, 16500}).Draw(t, "rpm"),
			RPMMin:    rapid.SampledFrom([]float64{0, 6000, 10000}).Draw(t, "slowest"),
			RPMMax:    rapid.SampledFrom([]float64{0, 12000, 30000}).Draw(t, "fastest"),
		}
		s := Choose(a)
		if a.RPM == 0 && (s.RPM < a.RPMMin || a.RPMMax > 0 && s.RPM > a.RPMMax) {
			t.Fatalf("%+v turns beyond the machine: %+v", a, s)
		}
		for _, m := range a.Materials {
			r, err := Judge(Cut{Diameter: a.Diameter, Flutes: a.Flutes, RPM: s.RPM, FeedMMMin: s.FeedMMMin, PlungeMMMin: s.PlungeMMMin,
				Depth: s.Depth, Material: m, Unit: a.Unit})
			if err != nil || len(r.Warnings) > 0 {
				t.Fatalf("%+v chosen for %+v in %v: %v %+v", s, a, m, err, r.Warnings)
			}
		}
	})
}

// TestChosenByHand: 1/4 in softwood and plywood, 0.006 in a tooth at least in the
// chart, half of it for a small machine: 0.0762 mm and a tenth more times two edges
// at 12000 rev/min is 2012 mm/min, 79.2 in/min.
func TestChosenByHand(t *testing.T) {
	wood := []Material{Softwood, Plywood}
	for _, c := range []struct {
		name string
		ask  Ask
		want Settings
	}{
		{"open", Ask{}, Settings{12000, 2050, 510, 3}},
		{"inches", Ask{Unit: geom.Inch}, Settings{12000, 80 * 25.4, 20 * 25.4, 3.175}},
		{"feed set", Ask{FeedMMMin: 1500}, Settings{8900, 1500, 370, 3}},
		{"common feed set", Ask{FeedMMMin: 1900}, Settings{12000, 1900, 470, 3}},
		{"a slow machine", Ask{FeedMax: 1400}, Settings{8300, 1400, 350, 3}},
		{"a slower machine cannot", Ask{FeedMax: 700}, Settings{8000, 700, 170, 3}},
		{"a fast spindle", Ask{RPMMin: 15000}, Settings{15000, 2550, 630, 3}},
		{"half a thin bit in hardwood", Ask{Diameter: 3.175, Materials: []Material{Hardwood, Plywood}}, Settings{18000, 1550, 380, 1.5}},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := c.ask
			a.Flutes = 2
			if a.Diameter == 0 {
				a.Diameter, a.Materials = 6.35, wood
			}
			got := Choose(a)
			for _, v := range [][2]float64{{got.RPM, c.want.RPM}, {got.FeedMMMin, c.want.FeedMMMin}, {got.PlungeMMMin, c.want.PlungeMMMin}, {got.Depth, c.want.Depth}} {
				if math.Abs(v[0]-v[1]) > 1e-6 {
					t.Fatalf("%+v; want %+v", got, c.want)
				}
			}
		})
	}
}
