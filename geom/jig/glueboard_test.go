package jig

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
)

func TestGlueBoard(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, p := drawOrder(t)
		g := newGlue(b.Units[0], p)
		j := g.board()
		sound(t, j, p.Cutter)
		outline := j.Marks[0]
		pinsKeepOff(t, j, outline)
		if j.Quantity != 1 {
			t.Errorf("%d boards", j.Quantity)
		}
		// A third of each joint at least lies over reliefs, and most of it
		// where the star is not tiny.
		least := 1.0 / 3
		if b.Units[0].Segment.Facet > 100 {
			least = 2.0 / 3
		}
		for _, v := range b.Units[0].Valleys() {
			v = geom.Place{Turn: 90 * geom.Degree}.Point(v)
			over := 0
			const parts = 100
			for i := range parts {
				q := v.Mul((float64(i) + 0.5) / parts)
				for _, h := range j.Holes {
					if h.Kind == "relief" && h.Contour.Contains(q) {
						over++
					}
				}
			}
			if float64(over) < least*parts {
				t.Errorf("of the joint to %v %d hundredths lie over a relief", v, over)
			}
		}
	})
}

// pinsKeepOff checks that no pin stands where the star lies.
func pinsKeepOff(t tb, j Jig, outline geom.Contour) {
	t.Helper()
	for _, h := range j.Holes {
		if h.Kind != "pin" {
			continue
		}
		box := h.Contour.Bounds()
		if o := box.Center(); outline.Contains(o) || outline.DistTo(o) < box.W()/2 {
			t.Errorf("%s: the pin at %v stands in the star", j.File, o)
		}
	}
}

func TestGlueSector(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, p := drawOrder(t)
		g := newGlue(b.Units[0], p)
		if (Params{MaxW: 300, MaxH: 300}).fits(g.board().Outline) {
			t.Skip("the star fits a small sheet in one piece")
		}
		j := g.sector(p)
		sound(t, j, p.Cutter)
		pinsKeepOff(t, j, j.Marks[0])
		if n := holesOf(j, "screw"); n < 2 {
			t.Errorf("%d screws hold a sector", n)
		}
		if j.Quantity != b.Units[0].Points {
			t.Errorf("%d sectors for %d points", j.Quantity, b.Units[0].Points)
		}
		// A sector keeps to its own wedge, so that neighbours lie edge to edge,
		// and leaves the joint's relief free up to the valley.
		half, facet := b.Units[0].Segment.Center/2, b.Units[0].Segment.Facet
		for _, q := range g.sectorOutline().Flatten(0.01) {
			off := q.X*half.Sin() - math.Abs(q.Y)*half.Cos() // from the nearer joint's line
			along := q.X*half.Cos() + math.Abs(q.Y)*half.Sin()
			if off < plateFree-touch || along < facet && off < g.relief/2-touch {
				t.Fatalf("%v lies %g from the joint, %g along it", q, off, along)
			}
		}
	})
}

func TestGlueBoardIsDividedToFitTheSheet(t *testing.T) {
	// Five points of 36° from boards of 90 mm are 381 mm wide (2 · 200.4 · sin 72°).
	b := orderOf(t, 5, 90, 36)
	p := kitParams()
	for _, c := range []struct {
		name     string
		w, h     float64
		quantity int
		file     string
	}{
		{"large sheet", 600, 600, 1, "jig-glue-board"},
		{"small sheet", 300, 300, 5, "jig-glue-board-sector"},
		{"narrow sheet", 140, 300, 5, "jig-glue-board-sector"},
		{"slanting", 165, 190, 5, "jig-glue-board-sector"},
	} {
		p.MaxW, p.MaxH = c.w, c.h
		jigs, _ := makeGlueBoard(b.Units[0], p)
		if len(jigs) != 1 || jigs[0].File != c.file || jigs[0].Quantity != c.quantity {
			t.Errorf("%s: %d jigs, first %s, %d of them", c.name, len(jigs), jigs[0].File, jigs[0].Quantity)
			continue
		}
		if box := jigs[0].Outline.Bounds(); box.W() > c.w || box.H() > c.h {
			t.Errorf("%s: %g by %g does not fit", c.name, box.W(), box.H())
		}
	}
}
