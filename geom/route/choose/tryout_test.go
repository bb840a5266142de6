package choose_test

import (
	"testing"

	"starwright/geom/route"
	"starwright/geom/route/choose"
	"starwright/geom/star"
	"starwright/geom/tryout"
)

// wantOf is what the virtual bench holds a route against.
func wantOf(o *star.Order, r *choose.Result) tryout.Want {
	w := tryout.Want{Plates: map[string]tryout.Plate{}, Programs: map[string]tryout.Facet{}}
	for i, u := range o.Units {
		s := tryout.Unit{Name: u.Spec.Name, Points: u.Points, Count: u.Count()}
		for _, v := range u.Segment.Outline() {
			s.Segment = append(s.Segment, v.Point)
		}
		if l := u.Slot; l != nil {
			s.Slot = &tryout.Slot{Start: l.Start, End: l.End, Depth: l.Depth, Width: l.Width, FromFace: l.FromFace}
		}
		if l := u.Spline; l != nil {
			s.Spline = &tryout.Spline{Length: l.Length, Width: l.Width, Thickness: l.Thickness, Count: l.Count}
		}
		w.Units = append(w.Units, s)
		for _, hand := range []string{"left", "right"} {
			w.Programs[choose.SlotPath(u, hand)] = tryout.Facet{Unit: i, Right: hand == "right"}
		}
	}
	for _, j := range r.Kit {
		p := tryout.Plate{Outline: j.Outline}
		for _, h := range j.Holes {
			p.Holes = append(p.Holes, h.Contour)
		}
		w.Plates["dxf/"+j.File+".dxf"] = p
	}
	return w
}

// The virtual bench shares no code with the choice: what it makes of a route by
// contacts and printed numbers is the star.
func TestVirtualBenchAgrees(t *testing.T) {
	for _, j := range choose.Jobs(t) {
		if !j.Shop.MitreSaw {
			continue
		}
		t.Run(j.Name(), func(t *testing.T) {
			r, ps := choose.New(j.Given)
			if len(ps) > 0 {
				t.Fatal(ps)
			}
			for _, s := range r.Route.Setups {
				if s.Cut != nil && s.Method == route.ByHand {
					t.Skip("by hand")
				}
			}
			for _, f := range tryout.Try(r.Route, wantOf(j.Order, r)).Faults() {
				t.Errorf("%+v", f)
			}
		})
	}
}
