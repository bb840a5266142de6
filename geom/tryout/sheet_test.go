package tryout_test

import (
	"regexp"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/route"
	"starwright/geom/route/choose"
	"starwright/geom/star"
	"starwright/geom/tryout"
)

// flatCase is two stars of five points whose ten segments a CNC cuts: three pieces of
// board with three each, one with one.
func flatCase(t *testing.T) (route.Route, tryout.Want) {
	t.Helper()
	no := false
	o, ps := star.NewOrder([]star.Spec{{Points: 5, BoardWidth: 100, Thickness: 19, Count: 2, Unit: geom.Millimetre, EndTrim: 8, Kerf: 2.4, Slot: star.SlotSpec{Make: &no}}})
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	flat := &choose.Flat{Bit: 6, Pieces: []choose.FlatPiece{
		{Program: "gcode/segments-1.nc", Length: 720, Width: 120, Thickness: 19, Count: 3, Segments: []int{3}},
		{Program: "gcode/segments-2.nc", Length: 250, Width: 120, Thickness: 19, Count: 1, Segments: []int{1}},
	}}
	r, ps := choose.New(choose.Given{Order: o, Shop: choose.Shop{MitreSaw: true, CNC: true, MaxMiter: 50 * geom.Degree}, Flat: flat,
		Jigs: jig.Params{Cutter: 6, MaxMiter: 50 * geom.Degree, MaxW: 280, MaxH: 280, Margin: 10, Thickness: 12, Named: []string{}}, Named: []string{}})
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	u := o.Units[0]
	kite := u.Segment.Outline()
	lay := func(x float64, turn geom.Angle) geom.Contour {
		return geom.Place{Turn: turn, Move: geom.Pt(x, 60)}.Contour(kite)
	}
	want := tryout.Want{Unit: geom.Millimetre, Sheets: map[string]tryout.Sheet{
		"gcode/segments-1.nc": {Runs: 3, Parts: []geom.Contour{lay(10, 0), lay(470, 180*geom.Degree), lay(480, 0).Reversed()}},
		"gcode/segments-2.nc": {Runs: 1, Parts: []geom.Contour{lay(10, 0)}},
	}}
	one := tryout.Unit{Points: 5, Count: 2}
	for _, v := range kite {
		one.Segment = append(one.Segment, v.Point)
	}
	want.Units = []tryout.Unit{one}
	return r.Route, want
}

// The route of segments from the CNC comes to its stars, and what is wrong with it or
// with the drawings that it trusts is found.
func TestSheetsOfSegments(t *testing.T) {
	find := func(r route.Route, kind route.Kind, n int) *route.Setup {
		for i := range r.Setups {
			if s := &r.Setups[i]; s.Kind == kind {
				if n--; n < 0 {
					return s
				}
			}
		}
		t.Fatalf("the route has no %s", kind)
		return nil
	}
	for name, c := range map[string]struct {
		slip func(r *route.Route, w *tryout.Want)
		says string // "" where it is sound
	}{
		"sound":       {func(*route.Route, *tryout.Want) {}, ""},
		"a run short": {func(r *route.Route, _ *tryout.Want) { find(*r, route.Segments, 1).Sheets[0].Runs-- }, "gives? .* pieces"},
		"a count of its own": {func(r *route.Route, _ *tryout.Want) {
			s := find(*r, route.Segments, 1)
			s.Sheets[0].Runs, s.Count = s.Sheets[0].Runs+1, s.Count+3
		}, "is run 4 times"},
		"more on a piece than lie there": {func(r *route.Route, _ *tryout.Want) {
			s := find(*r, route.Segments, 0)
			s.Sheets[0].Each, s.Count = 4, s.Count+2
		}, "gives 3 such pieces"},
		"a program that is not there": {func(r *route.Route, _ *tryout.Want) { find(*r, route.Segments, 0).Sheets[0].Program = "gcode/x.nc" }, "no program"},
		"a kite drawn too wide": {func(_ *route.Route, w *tryout.Want) {
			c := w.Sheets["gcode/segments-1.nc"].Parts[1]
			for i := range c {
				c[i].Y = 60 + (c[i].Y-60)*1.01
			}
		}, "gives 2 such pieces"},
		"too few pieces of board": {func(r *route.Route, _ *tryout.Want) { find(*r, route.Boards, 0).Count-- }, "pieces of board"},
		"the rest before a star was tried": {func(r *route.Route, _ *tryout.Want) {
			for i := range r.Setups {
				if r.Setups[i].Kind == route.TestFit {
					r.Setups = append(r.Setups[:i:i], r.Setups[i+1:]...)
					return
				}
			}
		}, "no star of it has been tried"},
		"a piece without its outline": {func(r *route.Route, _ *tryout.Want) { find(*r, route.Segments, 0).Piece = nil }, "does not say which"},
		"glued before all are cut": {func(r *route.Route, _ *tryout.Want) {
			s := *find(*r, route.Segments, 1)
			for i := range r.Setups {
				if r.Setups[i].Kind == route.Segments && r.Setups[i].Stage == route.Rest {
					r.Setups = append(append(r.Setups[:i:i], r.Setups[i+1:]...), s)
					return
				}
			}
		}, "after the star is glued"},
	} {
		t.Run(name, func(t *testing.T) {
			r, w := flatCase(t)
			c.slip(&r, &w)
			var said []string
			for _, f := range tryout.Try(r, w).Faults() {
				said = append(said, f.Why)
			}
			text := strings.Join(said, "\n")
			if c.says == "" && text != "" || c.says != "" && !matches(c.says, text) {
				t.Errorf("said %q, should say %q", text, c.says)
			}
		})
	}
}

func matches(pattern, text string) bool { return regexp.MustCompile(pattern).MatchString(text) }
