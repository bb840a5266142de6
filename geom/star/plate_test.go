package star

import (
	"fmt"
	"math"
	"strings"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"starwright/geom"
)

// area is a contour as a polygon of a geometry library, arcs as chords that stray
// by less than a twentieth of a millimetre.
func area(t *rapid.T, c geom.Contour) sf.Geometry {
	text := "POLYGON(("
	pts := c.Flatten(0.05)
	for _, p := range append(pts, pts[0]) {
		text += fmt.Sprintf("%.12f %.12f,", p.X, p.Y)
	}
	g, err := sf.UnmarshalWKT(strings.TrimSuffix(text, ",") + "))")
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// TestPlateIsClear holds plates by the distances of a geometry library against what
// their star asks: inside of its outline, away from the valleys, and holes away from
// joints, edges and each other; the bit reaches everywhere, and the keyhole holds a
// head and lets its shank through.
func TestPlateIsClear(t *testing.T) {
	made := 0
	rapid.Check(t, func(t *rapid.T) {
		spec := Spec{Points: rapid.IntRange(4, 12).Draw(t, "points"), BoardWidth: rapid.Float64Range(30, 400).Draw(t, "width"),
			Thickness: 20, Count: 1, EndTrim: 8, Kerf: 2, Joint: Plated, GlueGap: 1, SplineFit: 0.1}
		no, bit := false, rapid.SampledFrom([]float64{3.175, 6, 6.35, 8}).Draw(t, "bit")
		spec.Slot.Make, spec.Cutter = &no, &bit
		tip := geom.Deg(rapid.Float64Range(10, 80).Draw(t, "tip"))
		if tip < MaxTip(spec.Points)-2*geom.Degree || spec.Points == 4 {
			spec.Tip = &tip
		}
		o, ps := NewOrder([]Spec{spec})
		if len(ps) > 0 {
			p := ps[0]
			if p.Key != "star.joint" {
				t.Fatal(ps)
			}
			// The board that is offered takes the plate.
			_, after, ok := strings.Cut(p.Would, `or board_width = "`)
			var mm float64
			if _, err := fmt.Sscanf(after, "%f mm", &mm); !ok || err != nil {
				t.Fatalf("%q offers no board", p.Would)
			}
			spec.BoardWidth = mm
			if o, ps = NewOrder([]Spec{spec}); len(ps) > 0 {
				t.Fatalf("the board that is offered, %g mm, does not do: %v", mm, ps)
			}
		}
		made++
		u := o.Units[0]
		p := u.Plate
		plate, outline := area(t, p.Outline()), area(t, u.Outline())
		if ok, err := sf.Contains(outline, plate); !ok || err != nil {
			t.Fatalf("the plate leaves the star (%v)", err)
		}
		const tol = 0.06
		apart := func(what string, a, b sf.Geometry, least float64) {
			if d, ok := sf.Distance(a, b); !ok || d < least-tol {
				t.Fatalf("%s: %g mm, %g is asked", what, d, least)
			}
		}
		apart("plate to the outer edges", plate.Boundary(), outline.Boundary(), 8)
		holes := p.Holes()
		if len(holes) != 2*spec.Points+1 {
			t.Fatalf("%d holes", len(holes))
		}
		for i, h := range holes {
			one := area(t, h)
			if ok, err := sf.Contains(plate, one); !ok || err != nil {
				t.Fatalf("hole %d leaves the plate", i)
			}
			apart("hole to edge", one, plate.Boundary(), 6)
			for _, v := range u.Valleys() {
				joint, err := sf.UnmarshalWKT(fmt.Sprintf("LINESTRING(0 0,%.9f %.9f)", v.X, v.Y))
				if err != nil {
					t.Fatal(err)
				}
				apart("hole to joint", one, joint, 5)
			}
			for k := range i {
				if h.Bounds().Center().Dist(holes[k].Bounds().Center()) > 40 {
					continue // no two holes are so wide together
				}
				apart("hole to hole", one, area(t, holes[k]), 5)
			}
			if w := math.Min(h.Bounds().W(), h.Bounds().H()); w < bit+0.4 {
				t.Fatalf("hole %d is %g mm wide for a bit of %g", i, w, bit)
			}
		}
		if p.KeyHead < p.Neck+4 || p.Run+p.Neck/2 <= p.KeyHead/2 {
			t.Fatalf("a keyhole of %g with a neck of %g lets the head out again, or ends in the round end", p.KeyHead, p.Neck)
		}
		// It hangs above the centre, in the segment whose tip is on +x.
		if key := holes[len(holes)-1].Bounds(); key.Min.X <= 0 || math.Abs(key.Center().Y) > 1e-9 {
			t.Fatalf("the keyhole lies at %v", key)
		}
	})
	if made < 20 {
		t.Errorf("only %d plates were made", made)
	}
}

// TestNoPlate: an order's star from off-cuts goes plain where its off-cuts are too
// small, with a warning; a bit that is too thick has no star for it.
func TestNoPlate(t *testing.T) {
	no := false
	spec := Spec{Points: 5, BoardWidth: 70, Thickness: 20, Count: 1, EndTrim: 8, Kerf: 2, Joint: Plated, OffcutStar: true, GlueGap: 1, SplineFit: 0.1}
	spec.Slot.Make = &no
	o, ps := NewOrder([]Spec{spec})
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	if o.Units[0].Joint() != Plated || o.Units[1].Joint() != PlainCut {
		t.Errorf("joints %s and %s", o.Units[0].Joint(), o.Units[1].Joint())
	}
	said := false
	for _, n := range o.Warnings {
		said = said || n.Key == "star.joint" && strings.Contains(n.Why, "too short for a plate")
	}
	if !said {
		t.Errorf("no word of the off-cut star: %v", o.Warnings)
	}
	bit := 10.0
	spec.Cutter = &bit
	if _, ps = NewOrder([]Spec{spec}); len(ps) != 1 || ps[0].Key != "star.joint" || ps[0].Would != `joint = "plain"` {
		t.Errorf("with a bit of 10 mm: %v", ps)
	}
}
