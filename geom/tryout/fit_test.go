package tryout_test

import (
	"fmt"
	"math"
	"testing"

	"starwright/geom"
	"starwright/geom/bench/fit"
	"starwright/geom/route"
	"starwright/geom/route/choose"
	"starwright/geom/star"
	"starwright/geom/tryout"
)

// The whole way of a correction, for every way in which a facet can be cut: a
// machine that is off makes a star whose last joint stands open. The gap, as fine
// as it is printed, is read as `fit` reads it; the set-ups that it answers with
// are done on the same machine; and the joint is shut.
func TestCorrectionsShutTheJoint(t *testing.T) {
	const shut = 0.05 // mm
	ways, shutBefore := map[route.Method]int{}, 0
	for _, x := range corrected(t) {
		for unit, u := range x.given.Order.Units {
			var tries []try
			for _, e := range []float64{0.03, -0.03, 0.08, -0.08} {
				for what, slips := range slipsOf(x.route, unit, geom.Deg(e)) {
					y := try{name: fmt.Sprintf("%s, unit %d, %s off by %g", x.name, unit, what, e), slips: slips}
					var ok bool
					if y.gap, ok = tryout.Gap(x.route, x.want, slips, unit); !ok {
						t.Errorf("%s: no star to try", y.name)
						continue
					}
					if math.Abs(y.gap) < tryout.JointTol { // as a saw off square in two cradles: one facet gives what the other takes
						shutBefore++
						continue
					}
					tries = append(tries, y)
				}
			}
			for i, setups := range answers(t, x, unit, u, tries) {
				y := tries[i]
				ways[setups[0].Method]++
				left, ok := tryout.Gap(with(x.route, setups), x.want, y.slips, unit)
				if !ok || math.Abs(left) >= shut {
					t.Errorf("%s, %s: gap %.2f mm, and %.3f mm after the correction %s", y.name, setups[0].Method, y.gap, left, said(setups[0]))
				}
			}
		}
	}
	for _, w := range []route.Method{route.Direct, route.OnBlock, route.OnEdge, route.Cradled, route.ByHand} {
		if ways[w] < 8 {
			t.Errorf("%d corrections of facets cut by way of %q", ways[w], w)
		}
	}
	t.Log(ways, shutBefore, "were shut as they came")
}

// A correction with the wrong sign, or at the wrong end, opens the joint wider.
func TestWrongCorrectionsAreSeen(t *testing.T) {
	x := corrected(t)[0]
	slips := tryout.Slips{Block: geom.Deg(0.1), Only: []route.Kind{route.Facet}}
	gap, _ := tryout.Gap(x.route, x.want, slips, 0)
	r, err := ringOf(x.given.Order.Units[0]).Read(math.Abs(gap), map[bool]fit.End{true: fit.Valley, false: fit.Centre}[gap > 0], fit.LastJoint, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, turn := range []geom.Angle{r.Error, -r.Error} {
		all, err := x.correct.Facets(0, turn)
		if err != nil {
			t.Fatal(err)
		}
		left, _ := tryout.Gap(with(x.route, all[0]), x.want, slips, 0)
		if worse := math.Abs(left) > math.Abs(gap); worse != (turn == r.Error) {
			t.Errorf("gap %.3f mm, corrected by %.3f degrees: %.3f mm", gap, turn.Degrees(), left)
		}
	}
}

// fitted is a job with its route.
type fitted struct {
	tried
	given   choose.Given
	correct *choose.Corrector
}

// corrected are stars of 4 to 12 points in shops that cut facets in every way.
func corrected(t *testing.T) []fitted {
	t.Helper()
	var out []fitted
	for i, n := range []int{5, 4, 6, 7, 8, 10, 12} {
		for k, s := range shops() {
			if k > 0 && (i+k)%3 > 0 || s.Laser {
				continue
			}
			u, wide := geom.Millimetre, 100.0
			if (i+k)%2 == 1 {
				u, wide = geom.Inch, 5.5*geom.MMPerInch
			}
			given, r, want, ok := givenOf(t, specOf(n, wide, u, 1+8*((i+k)%2), true), s.Shop)
			if !ok {
				continue
			}
			c, ps := choose.NewCorrector(given)
			if len(ps) > 0 {
				t.Fatal(ps)
			}
			out = append(out, fitted{tried{fmt.Sprintf("%d points, %s, %s", n, u.Format(wide), s.name), r, want}, given, c})
		}
	}
	return out
}

// slipsOf are the errors that the facets of a unit can have, by how they are cut:
// a saw off its scale and a jig off its angle. Only the set-ups of these facets
// are off: a pair whose outer edges stand at another angle is found before.
func slipsOf(r route.Route, unit int, e geom.Angle) map[string]tryout.Slips {
	out := map[string]tryout.Slips{}
	for _, s := range r.Setups {
		if s.Unit != unit || s.Kind != route.Facet && s.Kind != route.PairFacet {
			continue
		}
		only := []route.Kind{s.Kind}
		out["saw"] = tryout.Slips{Saw: e, Only: only}
		if s.Method == route.OnBlock || s.Method == route.Cradled {
			out["jig"] = tryout.Slips{Block: e, Only: only}
		}
	}
	return out
}

func ringOf(u *star.Unit) fit.Ring {
	return fit.Ring{Points: u.Points, BoardWidth: u.Segment.Width, Tip: u.Segment.Tip}
}

// try is a machine that is off, and the gap that it makes: above zero at the
// valley, mm.
type try struct {
	name  string
	slips tryout.Slips
	gap   float64
}

// answers are what `fit` says of the gaps, each as fine as it is printed.
func answers(t *testing.T, x fitted, unit int, u *star.Unit, tries []try) [][]route.Setup {
	t.Helper()
	var by []geom.Angle
	for _, y := range tries {
		at := fit.Valley
		if y.gap < 0 {
			at = fit.Centre
		}
		r, err := ringOf(u).Read(math.Round(math.Abs(y.gap)*100)/100, at, fit.LastJoint, nil)
		if err != nil {
			t.Fatalf("%s: gap %.3f mm: %v", y.name, y.gap, err)
		}
		by = append(by, -r.Error)
	}
	all, err := x.correct.Facets(unit, by...)
	if err != nil {
		t.Fatalf("%s: %v", x.name, err)
	}
	return all
}

// with is a route with set-ups exchanged for those of their names.
func with(r route.Route, setups []route.Setup) route.Route {
	out := route.Route{Setups: append([]route.Setup{}, r.Setups...)}
	for i := range out.Setups {
		for _, s := range setups {
			if s.Name == out.Setups[i].Name {
				out.Setups[i] = s
			}
		}
	}
	return out
}

// said lists the readings of a set-up.
func said(s route.Setup) string {
	out := ""
	for _, r := range s.Readings {
		out += r.Name + " " + r.Printed + "; "
	}
	return out
}
