package choose

import (
	"fmt"
	"maps"
	"slices"
	"testing"

	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/route"
	"starwright/geom/star"
)

// testJob is a job with a name that says what it is.
type testJob struct {
	name, shop string
	Given
}

// specOf is a star of n points from boards w mm wide.
func specOf(n int, w float64, u geom.Unit) star.Spec {
	s := star.Spec{Unit: u, Points: n, BoardWidth: w, Thickness: 19, Count: 3, EndTrim: 8, RoundTo: 1, Kerf: 2.4,
		SplineFit: 0.15, GlueGap: 1}
	if u == geom.Inch {
		s.EndTrim, s.RoundTo, s.Kerf, s.Thickness = 25.4*5/16, 25.4/8, 25.4*3/32, 25.4*3/4
	}
	if n == 4 {
		a := geom.Deg(45)
		s.Tip = &a
	}
	return s
}

var shops = map[string]Shop{
	"saw":                {MitreSaw: true},
	"saw that reaches":   {MitreSaw: true, Reach: 120},
	"saw to the right":   {MitreSaw: true, RouterTable: true, Swing: route.Right},
	"saw to the left":    {MitreSaw: true, CNC: true, Swing: route.Left},
	"saw and router":     {MitreSaw: true, RouterTable: true},
	"saw, router, cnc":   {MitreSaw: true, RouterTable: true, CNC: true},
	"cnc":                {CNC: true},
	"laser":              {Laser: true},
	"hand":               {},
	"saw swings far":     {MitreSaw: true, RouterTable: true, MaxMiter: geom.Deg(60)},
	"saw swings little":  {MitreSaw: true, RouterTable: true, MaxMiter: geom.Deg(35)},
	"saw swings far, r.": {MitreSaw: true, RouterTable: true, MaxMiter: geom.Deg(60), Swing: route.Right},
}

// jobOf makes a job of a spec and a shop.
func jobOf(t testing.TB, spec star.Spec, s Shop) Given {
	t.Helper()
	if !s.CNC && !s.RouterTable {
		no := false
		spec.Slot.Make = &no
	}
	if s.MaxMiter == 0 {
		s.MaxMiter = geom.Deg(50)
	}
	o, ps := star.NewOrder([]star.Spec{spec})
	if len(ps) > 0 {
		t.Fatalf("%+v", ps)
	}
	return Given{Order: o, Shop: s, Path: SlotPath,
		Jigs: jig.Params{Cutter: o.Cutter, MaxMiter: s.MaxMiter, MaxW: 1200, MaxH: 800, Thickness: 12}}
}

// testJobs are stars of 4 to 12 points, in both units, with and without a second
// star, in every kind of shop.
func testJobs(t *testing.T) []testJob {
	var out []testJob
	i := 0
	for n := star.MinPoints; n <= star.MaxPoints; n++ {
		for _, name := range slices.Sorted(maps.Keys(shops)) {
			s := shops[name]
			u, w := geom.Millimetre, []float64{60, 96, 114, 235}[i%4]
			if (i+n)%2 == 0 {
				u, w = geom.Inch, 25.4*[]float64{2.5, 3.5, 5.5, 9.25}[i%4]
			}
			spec := specOf(n, w, u)
			spec.OffcutStar = i%3 != 0
			spec.Count = 1 + 20*(i%2)
			i++
			out = append(out, testJob{fmt.Sprintf("%d points %s %s %v", n, u.Format(w), name, spec.OffcutStar), name, jobOf(t, spec, s)})
		}
	}
	return out
}
