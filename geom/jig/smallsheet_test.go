package jig

import (
	"fmt"
	"testing"

	"starwright/geom"
	"starwright/geom/star"
)

// onSheet are the params of a sheet with a margin of 10 mm, screws in its
// corners (25 mm squares, and 1 mm more than the cutter beside them) and a
// quarter-inch cutter.
func onSheet(w, h, thickness float64) Params {
	const margin, zone, cutter = 10, 25, 6.35
	return Params{Cutter: cutter, MaxMiter: geom.Deg(50), MaxW: w - 2*margin, MaxH: h - 2*margin,
		Margin: margin, Corner: zone + cutter + 1 - margin, Thickness: thickness}
}

func starOf(t testing.TB, n int, width, thick float64) *star.Order {
	t.Helper()
	six := 6.35
	o, ps := star.NewOrder([]star.Spec{{Points: n, BoardWidth: width, Thickness: thick, Count: 8, EndTrim: 8, RoundTo: 1, Kerf: 2.4,
		Cutter: &six, SplineFit: 0.2, GlueGap: 1, OffcutStar: true, Unit: geom.Inch}})
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return o
}

// Every jig that a route can ask for is made for the sheets that shops have:
// small CNC machines, the usual 300 mm sheet and barn stars on large ones.
func TestSmallSheetsGetTheirJigs(t *testing.T) {
	in := func(v float64) float64 { return v * geom.MMPerInch }
	for _, c := range []struct {
		width float64 // in
		thick float64 // mm
		sheet [2]float64
	}{
		{3.5, 19, [2]float64{280, 170}}, {3.5, 38, [2]float64{280, 170}}, {4.5, 19, [2]float64{280, 170}}, {5.5, 19, [2]float64{280, 170}},
		{5.5, 25, [2]float64{280, 170}}, {2.5, 19, [2]float64{280, 170}},
		{7.25, 19, [2]float64{300, 300}}, {9.25, 19, [2]float64{300, 300}}, {9.25, 38, [2]float64{300, 300}},
		{11.25, 38, [2]float64{600, 600}}, {14.5, 38, [2]float64{600, 600}},
	} {
		for _, thickness := range []float64{6, 9, 12} {
			t.Run(fmt.Sprintf("%g in on %g x %g, %g mm", c.width, c.sheet[0], c.sheet[1], thickness), func(t *testing.T) {
				o, p := starOf(t, 5, in(c.width), c.thick), onSheet(c.sheet[0], c.sheet[1], thickness)
				kit, ps := Kit(o, p, Named([]string{"angle-block", "tip-cradle", "offcut-cradle", "slot-stand", "router-carriage"}))
				if len(ps) > 0 {
					t.Fatal(ps)
				}
				for _, j := range kit {
					sound(t, j, p.Cutter)
					if !p.fits(j.Outline) {
						t.Errorf("%s of %v does not fit", j.Title, j.Outline.Bounds())
					}
				}
			})
		}
	}
}
