package jig

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
)

func TestCarriages(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, p, jigs := slotted(t, makeCarriages)
		for i, j := range jigs {
			sound(t, j, p.Cutter)
			// Carriage and facet run on the table, Y 0.
			if y := j.Outline.Bounds().Min.Y; math.Abs(y) > touch {
				t.Errorf("%s: the foot lies at %g", j.File, y)
			}
			if y := j.Seats[0].Work.Bounds().Min.Y; math.Abs(y) > touch {
				t.Errorf("%s: the facet lies at %g", j.File, y)
			}
			unit := b.Units[0]
			if i >= 2 {
				unit = b.Units[1]
			}
			if unit.Slot == nil {
				continue
			}
			seg, slot, side := unit.Segment, unit.Slot, [2]float64{1, -1}[i%2]
			gripKeepsAway(t, j, side, seg.Facet, slot.Depth)
			// The bit, run past both ends of the facet by its width, meets no wood.
			for k := 0; k <= 60; k++ {
				x := -slot.Width + (seg.Facet+2*slot.Width)*float64(k)/60
				for _, y := range []float64{0.01, slot.Depth / 2, slot.Depth} {
					if q := geom.Pt(side*x, y); j.Outline.Contains(q) {
						t.Fatalf("%s: the bit runs into wood at %v", j.File, q)
					}
				}
			}
		}
	})
}

// gripKeepsAway measures from the hand hole to the cut.
func gripKeepsAway(t tb, j Jig, side, facet, depth float64) {
	t.Helper()
	cut := geom.Rect(geom.Box{Min: geom.Pt(min(0, side*facet), 0), Max: geom.Pt(max(0, side*facet), depth)})
	grips := 0
	for _, h := range j.Holes {
		if h.Kind != "grip" {
			continue
		}
		grips++
		box := h.Contour.Bounds()
		// A hand takes four fingers in a row, 25 mm thick: common practice, no source.
		if box.W() < 70-touch || box.H() < 25 {
			t.Errorf("%s: the grip is %g by %g", j.File, box.W(), box.H())
		}
		for _, p := range h.Contour.Flatten(0.01) {
			if d := cut.DistTo(p); d < 40-touch {
				t.Fatalf("%s: the grip is %g from the cut", j.File, d)
			}
		}
	}
	if grips != 1 {
		t.Errorf("%s: %d grips", j.File, grips)
	}
}
