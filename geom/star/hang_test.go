package star

import (
	"fmt"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"starwright/geom"
)

// TestHangHoleIsClear holds the hole against joints, edges and slots by the
// distances of a geometry library.
func TestHangHoleIsClear(t *testing.T) {
	holes := 0
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(5, 8).Draw(t, "points")
		spec := Spec{Points: n, BoardWidth: rapid.Float64Range(60, 300).Draw(t, "width"), Thickness: 20, Count: 1, EndTrim: 8, Kerf: 2,
			HangHole: rapid.Float64Range(2, 12).Draw(t, "hole"), GlueGap: 1, SplineFit: 0.1}
		o, ps := NewOrder([]Spec{spec})
		if len(ps) > 0 {
			return // the star itself does not go, or has no room
		}
		u := o.Units[0]
		holes++
		wkt := func(ps ...geom.Point) sf.Geometry {
			text := "LINESTRING("
			for i, p := range ps {
				if i > 0 {
					text += ","
				}
				text += fmt.Sprintf("%.12f %.12f", p.X, p.Y)
			}
			g, err := sf.UnmarshalWKT(text + ")")
			if err != nil {
				t.Fatal(err)
			}
			return g
		}
		middle := wkt(geom.Pt(u.Hang.At, 0), geom.Pt(u.Hang.At, 1e-9))
		v := u.Segment.Valley()
		things := []sf.Geometry{wkt(geom.Pt(0, 0), v), wkt(geom.Pt(0, 0), geom.Pt(v.X, -v.Y)), wkt(v, geom.Pt(u.Segment.Length, 0))}
		if k := u.Slot; k != nil {
			at := geom.Place{Turn: u.Segment.Center / 2}
			r := at.Contour(geom.Rect(geom.Box{Min: geom.Pt(k.Start, -k.Depth), Max: geom.Pt(k.End, 0)}))
			things = append(things, wkt(r[0].Point, r[1].Point, r[2].Point, r[3].Point, r[0].Point))
		}
		for i, g := range things {
			d, ok := sf.Distance(middle, g)
			if wood := d - spec.HangHole/2; !ok || wood < hangLeast-1e-6 || wood < hangDiameters*spec.HangHole-1e-6 || wood < u.Hang.Wood-1e-6 {
				t.Fatalf("%d: %g of wood round a hole of %g at %g; the model says %g", i, wood, spec.HangHole, u.Hang.At, u.Hang.Wood)
			}
		}
	})
	if holes < 20 {
		t.Errorf("only %d stars had a hole", holes)
	}
}

func TestHangHoleWithoutRoom(t *testing.T) {
	_, ps := NewOrder([]Spec{{Points: 5, BoardWidth: 40, Thickness: 19, Count: 1, Kerf: 2, HangHole: 12, GlueGap: 1}})
	if len(ps) != 1 || ps[0].Key != "star.hang_hole" {
		t.Fatalf("%+v", ps)
	}
	far := 1.0
	_, ps = NewOrder([]Spec{{Points: 5, BoardWidth: 100, Thickness: 19, Count: 1, Kerf: 2, HangHole: 5, HangAt: &far, GlueGap: 1}})
	if len(ps) != 1 || ps[0].Key != "star.hang_at" || ps[0].Would == "" {
		t.Fatalf("%+v", ps)
	}
}
