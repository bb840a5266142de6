package tryout_test

import (
	"slices"
	"testing"

	"starwright/geom/route"
	"starwright/geom/tryout"
)

// sampled is of how many routes one is tried with a kind of slip where not every
// slip is: `go test -tags mutation ./geom/tryout` tries all.
const sampled = 9

// Every slip is found, wherever it applies, over stars of 4 to 12 points, both
// units, every kind of shop.
func TestSlipsAreFound(t *testing.T) {
	routes := all(t)
	if len(slips) < 40 {
		t.Errorf("only %d kinds of slips", len(slips))
	}
	tried, missed := 0, 0
	for n, k := range slips {
		here := 0
		for m, x := range routes {
			if !everySlip && (m+n)%sampled != 0 {
				continue
			}
			for i := range x.route.Setups {
				r, w := x.route, x.want
				r.Setups = slices.Clone(r.Setups)
				copied(&r.Setups[i])
				if !k.change(&r, &w, i) {
					continue
				}
				here++
				if len(tryout.Try(r, w).Faults()) == 0 {
					missed++
					if missed <= 40 {
						t.Errorf("%s: not found in %q of %s", k.name, x.route.Setups[i].Name, x.name)
					}
				}
			}
		}
		if here == 0 && everySlip {
			t.Errorf("%s: applies nowhere", k.name)
		}
		tried += here
	}
	t.Logf("%d kinds of slips, %d slips in %d routes, %d not found", len(slips), tried, len(routes), missed)
}

// What changes nothing in the wood passes.
func TestHarmlessChangesPass(t *testing.T) {
	harmless := []slip{
		of("other words", func(s *route.Setup) bool { s.Steps = []string{"Saw."}; return true }),
		of("a longer line", func(s *route.Setup) bool {
			if s.Cut == nil {
				return false
			}
			s.Cut.To = s.Cut.From.Lerp(s.Cut.To, 1.3)
			return true
		}),
		of("readings in another order", func(s *route.Setup) bool {
			s.Readings = slices.Clone(s.Readings)
			slices.Reverse(s.Readings)
			return len(s.Readings) > 1
		}),
		of("a stop a fiftieth off", func(s *route.Setup) bool { return sawn(s) && length(route.ReadStop, 0.02)(s) }),
		of("spare splines", func(s *route.Setup) bool { s.Count += 4; return s.Kind == route.Splines }),
		of("another page", func(s *route.Setup) bool { s.Page++; return true }),
		of("spare blanks", func(s *route.Setup) bool { s.Count += 3; return s.Kind == route.Blanks }),
	}
	n := 0
	for m, k := range harmless {
		for l, x := range all(t) {
			if !everySlip && (l+m)%sampled != 0 {
				continue
			}
			for i := range x.route.Setups {
				r, w := x.route, x.want
				r.Setups = slices.Clone(r.Setups)
				copied(&r.Setups[i])
				if !k.change(&r, &w, i) {
					continue
				}
				n++
				if f := tryout.Try(r, w).Faults(); len(f) > 0 {
					t.Errorf("%s in %q of %s: %+v", k.name, x.route.Setups[i].Name, x.name, f[0])
				}
			}
		}
	}
	t.Logf("%d harmless changes", n)
}
