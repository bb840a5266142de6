package jig

import (
	"math"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/geom/star"
)

// TestDrillGuideLiesOnItsSegment: the plate is a part of the segment, by a geometry
// library, whose long edges run along the segment's outer ones up to the tip, so that
// edges flush put the hole where the star has it; and what is cut can be cut.
func TestDrillGuideLiesOnItsSegment(t *testing.T) {
	made, cut := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		no, tip := false, geom.Deg(rapid.Float64Range(20, 80).Draw(t, "tip"))
		n := rapid.IntRange(4, 12).Draw(t, "points")
		if tip > star.MaxTip(n)-2*geom.Degree {
			tip = star.MaxTip(n) - 2*geom.Degree
		}
		spec := star.Spec{Points: n, Tip: &tip, Count: 1, BoardWidth: rapid.Float64Range(40, 400).Draw(t, "width"), Thickness: 19, EndTrim: 8, Kerf: 2,
			HangHole: rapid.Float64Range(2, 12).Draw(t, "hole"), Slot: star.SlotSpec{Make: &no}}
		o, ps := star.NewOrder([]star.Spec{spec})
		if len(ps) > 0 {
			return // no room for the hole
		}
		p := Params{Cutter: rapid.SampledFrom([]float64{0, 3.175, 6.35}).Draw(t, "cutter"), MaxMiter: geom.Deg(50), MaxW: 2500, MaxH: 1300, Thickness: 12}
		kit, ps := Kit(o, p, Named([]string{"drill-guide"}))
		if len(ps) > 0 || len(kit) != 1 {
			t.Fatalf("%d plates, %v", len(kit), ps)
		}
		made++
		j, u := kit[0], o.Units[0]
		sound(t, j, p.Cutter)
		plate, work := sf.NewPolygon([]sf.LineString{ring(j.Outline)}).AsGeometry(), sf.NewPolygon([]sf.LineString{ring(u.Segment.Outline())}).AsGeometry()
		rest, err := sf.Difference(plate, work)
		if err != nil || rest.Area() > 1e-3 {
			t.Fatalf("%g mm2 of the guide stand beside the segment (%v)", rest.Area(), err)
		}
		tipAt, v := geom.Pt(u.Segment.Length, 0), u.Segment.Valley()
		for _, valley := range []geom.Point{v, geom.Pt(v.X, -v.Y)} {
			along := math.Min(40, u.Segment.Edge*0.3)
			for _, at := range []geom.Point{tipAt, tipAt.Add(valley.Sub(tipAt).Unit().Mul(along))} {
				if d := j.Outline.DistTo(at); d > 1e-6 {
					t.Fatalf("the guide's edge lies %g beside the segment's outer edge", d)
				}
			}
		}
		where := j.Marks[len(j.Marks)-1]
		if len(j.Holes) == 1 {
			cut++
			if where = j.Holes[0].Contour; p.Cutter > spec.HangHole {
				t.Fatalf("a hole of %g is cut by a bit of %g", spec.HangHole, p.Cutter)
			}
		}
		if b := where.Bounds(); b.Center().Dist(geom.Pt(u.Hang.At, 0)) > 1e-9 || math.Abs(b.W()-spec.HangHole) > 1e-9 {
			t.Fatalf("the hole lies at %v, %g wide", b.Center(), b.W())
		}
		if (len(j.Holes) == 0) != j.Build.Scribed {
			t.Fatal("the build does not say that the hole is scribed")
		}
	})
	if made < 20 || cut == 0 || cut == made {
		t.Errorf("%d guides, %d of them with a hole that is cut", made, cut)
	}
}
