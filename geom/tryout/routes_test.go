package tryout_test

import (
	"fmt"
	"sync"
	"testing"

	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/route"
	"starwright/geom/route/choose"
	"starwright/geom/star"
	"starwright/geom/tryout"
)

// The routes that are tried: stars of 4 to 12 points, both units, with and
// without a second star, in every kind of shop. The test takes them from the
// chooser; the bench does not.

// shop is a kind of shop.
type shop struct {
	name string
	choose.Shop
}

func shops() []shop {
	return []shop{
		{"saw, router table, cnc", choose.Shop{MitreSaw: true, RouterTable: true, CNC: true}},
		{"saw and router table", choose.Shop{MitreSaw: true, RouterTable: true}},
		{"saw alone", choose.Shop{MitreSaw: true}},
		{"saw that swings to the right", choose.Shop{MitreSaw: true, RouterTable: true, Swing: route.Right}},
		{"saw that swings little", choose.Shop{MitreSaw: true, RouterTable: true, MaxMiter: geom.Deg(35)}},
		{"saw that swings far", choose.Shop{MitreSaw: true, CNC: true, MaxMiter: geom.Deg(60)}},
		{"saw that reaches little", choose.Shop{MitreSaw: true, RouterTable: true, Reach: 130}},
		{"cnc", choose.Shop{CNC: true}},
		{"laser", choose.Shop{Laser: true}},
		{"hand tools", choose.Shop{}},
	}
}

// tried is a route with what it has to come to.
type tried struct {
	name  string
	route route.Route
	want  tryout.Want
}

// specOf is a star of n points.
func specOf(n int, wide float64, u geom.Unit, count int, offcut bool) star.Spec {
	s := star.Spec{Unit: u, Points: n, BoardWidth: wide, Thickness: 19, Count: count, OffcutStar: offcut,
		EndTrim: 8, RoundTo: 1, Kerf: 2.4, SplineFit: 0.15, GlueGap: 1}
	if u == geom.Inch {
		s.EndTrim, s.RoundTo, s.Kerf, s.Thickness = 25.4*5/16, 25.4/8, 25.4*3/32, 25.4*3/4
	}
	if n == 4 {
		a := geom.Deg(45)
		s.Tip = &a
	}
	return s
}

// routeOf works a route out.
func routeOf(t testing.TB, spec star.Spec, s choose.Shop) (route.Route, tryout.Want, bool) {
	t.Helper()
	_, r, w, ok := givenOf(t, spec, s)
	return r, w, ok
}

// givenOf works a route out and returns what it was worked out for.
func givenOf(t testing.TB, spec star.Spec, s choose.Shop) (choose.Given, route.Route, tryout.Want, bool) {
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
		return choose.Given{}, route.Route{}, tryout.Want{}, false // a star that cannot be; the model's tests say why
	}
	paths := map[string]tryout.Facet{}
	given := choose.Given{Order: o, Shop: s,
		Jigs: jig.Params{Cutter: o.Cutter, MaxMiter: s.MaxMiter, MaxW: 1200, MaxH: 800, Thickness: 12},
		Path: func(u *star.Unit, hand string) string { return "gcode/" + u.File("slot-"+hand) + ".nc" }}
	res, ps := choose.New(given)
	if len(ps) > 0 {
		t.Fatalf("%+v", ps)
	}
	want := tryout.Want{SawReach: s.Reach, Plates: map[string]tryout.Plate{}, Programs: paths}
	for _, j := range res.Kit {
		p := tryout.Plate{Outline: j.Outline}
		for _, h := range j.Holes {
			p.Holes = append(p.Holes, h.Contour)
		}
		want.Plates["dxf/"+j.File+".dxf"] = p
	}
	for i, u := range o.Units {
		for _, right := range []bool{false, true} {
			hand := map[bool]string{false: "left", true: "right"}[right]
			paths["gcode/"+u.File("slot-"+hand)+".nc"] = tryout.Facet{Unit: i, Right: right}
		}
		want.Units = append(want.Units, starOf(u))
	}
	return given, res.Route, want, true
}

func starOf(u *star.Unit) tryout.Unit {
	s := tryout.Unit{Name: u.Spec.Name, Points: u.Points, Count: u.Count()}
	for _, v := range u.Segment.Outline() {
		s.Segment = append(s.Segment, v.Point)
	}
	if x := u.Slot; x != nil {
		s.Slot = &tryout.Slot{Start: x.Start, End: x.End, Depth: x.Depth, Width: x.Width, FromFace: x.FromFace}
	}
	if x := u.Spline; x != nil {
		s.Spline = &tryout.Spline{Length: x.Length, Width: x.Width, Thickness: x.Thickness, Count: x.Count}
	}
	return s
}

// routes are worked out once for all tests.
var routes struct {
	sync.Once
	list []tried
}

// all returns the routes of 4 to 12 points in every shop.
func all(t testing.TB) []tried {
	routes.Do(func() { routes.list = work(t) })
	return routes.list
}

func work(t testing.TB) []tried {
	var out []tried
	i := 0
	for n := star.MinPoints; n <= star.MaxPoints; n++ {
		for _, s := range shops() {
			u, w := geom.Millimetre, []float64{60, 96, 114, 235}[i%4]
			if (i+n)%2 == 0 {
				u, w = geom.Inch, geom.MMPerInch*[]float64{2.5, 3.5, 5.5, 9.25}[i%4]
			}
			spec := specOf(n, w, u, 1+7*(i%2), i%3 != 0)
			i++
			r, want, ok := routeOf(t, spec, s.Shop)
			if !ok {
				continue
			}
			out = append(out, tried{fmt.Sprintf("%d points, %s, %s, second star %v", n, u.Format(w), s.name, spec.OffcutStar), r, want})
		}
	}
	return out
}

// Every route, done as it is printed, makes its star.
func TestRoutesMakeTheirStars(t *testing.T) {
	n := 0
	for _, x := range all(t) {
		n++
		report := tryout.Try(x.route, x.want)
		for _, f := range report.Faults() {
			t.Errorf("%s: %+v", x.name, f)
		}
		if len(report.Figures) < 10 {
			t.Errorf("%s: only %d figures", x.name, len(report.Figures))
		}
	}
	if n < 80 {
		t.Errorf("only %d routes were tried", n)
	}
}

// Off-cuts that lie by the outer edge of their star when their facets are cut take
// the error of its tips over. Two stars whose tips were once printed too coarsely,
// cut at the saw without jigs.
func TestOffcutsByTheTip(t *testing.T) {
	for _, x := range []struct {
		points                      int
		wide, tip, kerf, thick, saw float64
	}{{11, 150, 52, 2.4, 37.5, 52}, {12, 33.2, 33.2, 2.9, 11.8, 53}} {
		spec := specOf(x.points, x.wide, geom.Millimetre, 4, true)
		tip := geom.Deg(x.tip)
		spec.Tip, spec.Kerf, spec.Thickness, spec.EndTrim = &tip, x.kerf, x.thick, 0
		given, _, want, ok := givenOf(t, spec, choose.Shop{MitreSaw: true, RouterTable: true, CNC: true, MaxMiter: geom.Deg(x.saw)})
		given.Named = []string{}
		res, ps := choose.New(given)
		if !ok || len(ps) > 0 {
			t.Fatalf("%d points: %+v", x.points, ps)
		}
		for _, f := range tryout.Try(res.Route, want).Faults() {
			t.Errorf("%d points: %+v", x.points, f)
		}
	}
}
