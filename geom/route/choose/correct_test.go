package choose

import (
	"fmt"
	"math"
	"testing"

	"starwright/geom"
	"starwright/geom/route"
)

// angleAtCentre carries out both facet cuts of a unit and returns the angle
// between the two edges of what is left that meet nearest to the star's centre.
func angleAtCentre(t *testing.T, setups []route.Setup) geom.Angle {
	t.Helper()
	var lines [][2]geom.Point
	for _, s := range setups {
		if s.Stage == route.Rest || s.Cut == nil {
			continue
		}
		lines = append(lines, [2]geom.Point{back(s.Hold, s.Cut.From), back(s.Hold, s.Cut.To)})
	}
	if len(lines) != 2 {
		t.Fatalf("%d facet cuts", len(lines))
	}
	slope := func(l [2]geom.Point) float64 { // to the axis, as an angle from 0 to 90 degrees
		d := l[1].Sub(l[0])
		return math.Atan2(math.Abs(d.Y), math.Abs(d.X))
	}
	return geom.Angle(slope(lines[0]) + slope(lines[1]))
}

// However a facet is cut, a correction by an angle turns it by this angle: the
// centre angle of the segment grows by twice of it.
func TestCorrectionsTurnFacets(t *testing.T) {
	ways := map[route.Method]int{}
	for k, j := range testJobs(t) {
		if k%5 > 0 { // each builds its jigs anew
			continue
		}
		for i, u := range j.Order.Units {
			for _, delta := range []geom.Angle{geom.Deg(0.07), geom.Deg(-0.07), geom.Deg(0.4), geom.Deg(-0.4)} {
				t.Run(fmt.Sprintf("%s unit %d %+.2f", j.name, i, delta.Degrees()), func(t *testing.T) {
					setups, err := Facets(j.Given, Correct{i, delta})
					if err != nil {
						t.Fatal(err)
					}
					ways[setups[0].Method]++
					got := angleAtCentre(t, setups) - u.Segment.Center
					// A tenth of a correction is lost on no scale; the paper's
					// hundredths of a millimetre are.
					tol := math.Max(0.1*math.Abs(float64(delta)), 0.006/u.Segment.Facet)
					if math.Abs(float64(got-2*delta)) > 2*tol {
						t.Errorf("%s: the centre angle changes by %.4f°, wanted %.4f°", setups[0].Method, got.Degrees(), 2*delta.Degrees())
					}
					for _, s := range setups {
						kept, _ := carryOut(&s)
						if s.Stage == route.Rest || s.TurnBefore != "" {
							continue
						}
						// Neither the segment's length nor its width changes by more than the facet turns.
						if d := apart(kept, s.Piece.After); d > 2*math.Abs(delta.Tan())*u.Segment.Length+0.2 {
							t.Errorf("%s: %.3f mm off", s.Name, d)
						}
						pushed(t, &s)
					}
				})
			}
		}
	}
	t.Log(ways, saws, "by the saw's scale")
	for _, w := range []route.Method{route.Direct, route.OnBlock, route.OnEdge, route.Cradled, route.ByHand} {
		if ways[w] == 0 {
			t.Errorf("no job cuts facets by way of %q", w)
		}
	}
}

// saws counts the corrections made at the saw's scale.
var saws int

// pushed holds that work which lies at the fence over a shim reaches the stop
// and does not reach into the fence.
func pushed(t *testing.T, s *route.Setup) {
	t.Helper()
	if s.Machine != route.MitreSaw {
		return
	}
	var stop, thick, at float64
	for _, r := range s.Readings {
		switch r.Name {
		case route.ReadStop:
			stop = *r.MM
		case route.ReadShim:
			thick = *r.MM
		case route.ReadShimAt:
			at = *r.MM
		}
	}
	if thick == 0 && at == 0 { // the saw is turned instead
		saws++
		return
	}
	if thick <= 0 || at <= 0 {
		t.Errorf("%s: a shim of %v mm at %v mm", s.Name, thick, at)
	}
	if s.Method != route.Direct && s.Method != route.OnEdge {
		return
	}
	high, far := math.Inf(-1), 0.0
	sign := 1.0
	if !s.Cut.KeepLeft {
		sign = -1
	}
	least := math.Inf(1) // from the shim's corner to the work's edge at the fence
	for i := range s.Piece.Before {
		p, q := machine(s.Hold, s.Piece.Before[i]), machine(s.Hold, s.Piece.Before[(i+1)%len(s.Piece.Before)])
		high, far = math.Max(high, p.Y), math.Max(far, sign*p.X)
		if x := sign * at; (p.X-x)*(q.X-x) < 0 {
			y := p.Y + (q.Y-p.Y)*(x-p.X)/(q.X-p.X)
			least = math.Min(least, math.Abs(y+thick))
		}
	}
	if math.Abs(high) > 1e-3 {
		t.Errorf("%s: the work's corner at the fence lies %.4f mm from it", s.Name, high)
	}
	if least > 0.01 {
		t.Errorf("%s: the work lies %.4f mm from the shim", s.Name, least)
	}
	if s.Method == route.Direct && math.Abs(far-stop) > 1e-3 {
		t.Errorf("%s: the work reaches %.3f mm, the stop stands at %.3f", s.Name, far, stop)
	}
}
