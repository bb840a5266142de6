package fit

import (
	"fmt"
	"math"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"

	"starwright/geom"
)

// trued is the truing measured on laid-out polygons.
type trued struct{ takeOff, closer float64 }

// buildTrued lays the two halves out and measures what has to come off. The new
// faces of an even star are the straight edge across a half; those of an odd
// star are the facets of the larger half, which the smaller is fitted to.
func buildTrued(t *testing.T, s Ring, e geom.Angle) trued {
	h := s.Points / 2
	small := fan(s, e, h, 0, geom.Pt(0, 0))
	top := small[h-1]
	if s.Points%2 == 0 {
		if e > 0 { // the straight edge goes through the centre, square to the half
			return trued{distance(t, point(t, top.left), line(t, geom.Pt(0, -1), geom.Pt(0, 1))), 0}
		}
		off := distance(t, point(t, top.o), line(t, small[0].right, top.left))
		return trued{off, 2 * off} // both halves lose it
	}
	big := fan(s, e, s.Points-h, math.Pi, geom.Pt(0, 0))
	face := line(t, big[0].o, big[0].right) // the facet that meets the top of the smaller half
	if e > 0 {
		return trued{distance(t, point(t, top.left), face), 0}
	}
	// The smaller half moves in until its valley corner lies on that facet.
	in := func(way float64) geom.Point { return geom.Pt(-way, 0) }
	way := slide(t, farEnough*s.BoardWidth, func(way float64) bool {
		return sf.Intersects(face, wkt(t, fmt.Sprintf("LINESTRING(%.17g %.17g,%.17g %.17g)",
			top.left.X+1, top.left.Y, top.left.Add(in(way)).X, top.left.Y)))
	})
	return trued{distance(t, point(t, in(way)), face), way}
}

func TestTruingIsWhatLaidOutHalvesNeed(t *testing.T) {
	for n := MinPoints; n <= MaxPoints; n++ {
		s := starOf(n)
		for _, e := range []geom.Angle{geom.Deg(-0.5), geom.Deg(-0.1), geom.Deg(0.1), geom.Deg(0.5)} {
			t.Run(fmt.Sprintf("%d points %+.1f deg", n, e.Degrees()), func(t *testing.T) {
				got, err := s.True(e)
				if err != nil {
					t.Fatal(err)
				}
				want := buildTrued(t, s, e)
				if math.Abs(got.TakeOff-want.takeOff) > buildSlack || math.Abs(got.Closer-want.closer) > buildSlack {
					t.Errorf("take off %.6f, closer %.6f; polygons give %.6f and %.6f",
						got.TakeOff, got.Closer, want.takeOff, want.closer)
				}
				// Once round, whatever was taken off.
				if a := got.Inside*geom.Angle(n-2) + got.Across*2; math.Abs(float64(a)-2*math.Pi) > 1e-12 {
					t.Errorf("the tips' spacings add up to %v deg", a.Degrees())
				}
				if want := map[bool]End{true: Valley, false: Centre}[e > 0]; got.WideEnd != want {
					t.Errorf("wide end at the %s, the halves touched at the %s", got.WideEnd, want)
				}
			})
		}
	}
}

func TestTruedStarsTips(t *testing.T) {
	// The trued star's tips, laid out as points by simplefeatures.
	for n := MinPoints; n <= MaxPoints; n++ {
		for _, e := range []geom.Angle{geom.Deg(-0.4), 0, geom.Deg(0.4)} {
			t.Run(fmt.Sprintf("%d points %+.1f deg", n, e.Degrees()), func(t *testing.T) {
				s := starOf(n)
				got, err := s.True(e)
				if err != nil {
					t.Fatal(err)
				}
				closer := 0.0
				if e < 0 {
					closer = buildTrued(t, s, e).closer
				}
				all := append(fan(s, e, n/2, 0, geom.Pt(-closer, 0)), fan(s, e, n-n/2, math.Pi, geom.Pt(0, 0))...)
				least, most, wide := math.Inf(1), 0.0, 0.0
				for i, k := range all {
					d := distance(t, point(t, k.tip), point(t, all[(i+1)%n].tip))
					least, most = math.Min(least, d), math.Max(most, d)
					for _, q := range all {
						wide = math.Max(wide, distance(t, point(t, k.tip), point(t, q.tip)))
					}
				}
				right := 0.0 // widest tip to tip of the star without an error
				for _, q := range fan(s, 0, n, 0, geom.Pt(0, 0)) {
					right = math.Max(right, distance(t, point(t, q.tip), point(t, fan(s, 0, n, 0, geom.Pt(0, 0))[0].tip)))
				}
				if math.Abs(got.TipDiff-(most-least)) > buildSlack || math.Abs(got.Narrower-(right-wide)) > buildSlack {
					t.Errorf("tips differ by %.5f, narrower by %.5f; laid out %.5f and %.5f",
						got.TipDiff, got.Narrower, most-least, right-wide)
				}
				if e == 0 && (got.TakeOff != 0 || math.Abs(got.TipDiff) > 1e-9 || math.Abs(got.Narrower) > 1e-9) {
					t.Errorf("a true star needs no truing: %+v", got)
				}
			})
		}
	}
}
