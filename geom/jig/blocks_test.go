package jig

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/geom/star"
)

// orderOf returns a batch of one star, with a second one of its off-cuts.
func orderOf(t *testing.T, n int, width, tip float64) *star.Order {
	t.Helper()
	a, no := geom.Deg(tip), false
	b, ps := star.NewOrder([]star.Spec{{Points: n, BoardWidth: width, Thickness: 18, Tip: &a, Count: 1,
		OffcutStar: true, EndTrim: 10, RoundTo: 5, Kerf: 2.6, Slot: star.SlotSpec{Make: &no}}})
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return b
}

// Common practice, no source: blocks for five-pointed stars have 18, 36 and 54
// degrees.
func TestFivePointBlocksAreTheUsualOnes(t *testing.T) {
	b := orderOf(t, 5, 90, 36)
	usual := []float64{18, 36, 54}
	for _, most := range []float64{18, 24, 30, 36, 45, 47, 50, 52, 54, 60} {
		got := Blocks(b.Units[0].Segment, geom.Deg(most))
		if len(got) == 0 {
			t.Errorf("saw to %g: no block, but the tips need 72", most)
		}
		for _, k := range got {
			if !slices.ContainsFunc(usual, func(u float64) bool { return math.Abs(u-k.Angle.Degrees()) < 1e-9 }) {
				t.Errorf("saw to %g: a block of %g degrees for the %s", most, k.Angle.Degrees(), k.Cut)
			}
		}
	}
}

func TestBlocksByHand(t *testing.T) {
	type row struct {
		cut            string
		angle, setting float64
	}
	for _, c := range []struct {
		name     string
		n        int
		tip, saw float64
		want     []row
	}{
		{"five, usual saw: square to the block for the facets", 5, 36, 50, []row{{"facet", 54, 0}, {"tip", 54, 18}}},
		{"five, saw that reaches the facets", 5, 36, 55, []row{{"tip", 54, 18}}},
		{"five, saw that cuts square only", 5, 36, 0, []row{{"facet", 54, 0}, {"tip", 72, 0}}},
		{"four, facets at 45 in reach", 4, 45, 45, []row{{"tip", 45, 22.5}}},
		{"eight, both cuts at 67.5", 8, 45, 45, []row{{"facet", 22.5, 45}, {"tip", 22.5, 45}}},
		{"twelve, 75 left of 60 at most to a detent", 12, 30, 45, []row{{"facet", 52.5, 22.5}, {"tip", 52.5, 22.5}}},
		{"all in reach", 4, 80, 60, nil},
	} {
		got := Blocks(orderOf(t, c.n, 90, c.tip).Units[0].Segment, geom.Deg(c.saw))
		if len(got) != len(c.want) {
			t.Errorf("%s: %d blocks, want %d: %v", c.name, len(got), len(c.want), got)
			continue
		}
		for i, w := range c.want {
			g := got[i]
			if g.Cut != w.cut || math.Abs(g.Angle.Degrees()-w.angle) > 1e-9 || math.Abs(g.Setting.Degrees()-w.setting) > 1e-9 {
				t.Errorf("%s: %s block %g, saw %g; want %v", c.name, g.Cut, g.Angle.Degrees(), g.Setting.Degrees(), w)
			}
		}
	}
}

// Both tip cuts on one block, by plane geometry on directions: the board's
// resting edge runs at the block's angle from the fence, the first cut leaves
// it at half the tip angle; with that edge on the block, the second must leave
// the tip angle.
func TestSecondTipCut(t *testing.T) {
	for _, c := range []struct {
		name                  string
		n                     int
		tip, saw, first, then float64
	}{
		{"five, 54 block: the second cut is square", 5, 36, 50, 18, 0},
		{"eight, 22.5 block", 8, 45, 50, 45, 22.5},
		{"blunt: away from the block", 4, 80, 20, 5, -35},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := orderOf(t, c.n, 90, c.tip)
			for _, k := range Blocks(b.Units[0].Segment, geom.Deg(c.saw)) {
				if k.Cut != "tip" {
					continue
				}
				got := k.Second(b.Units[0].Segment.Tip)
				if math.Abs(k.Setting.Degrees()-c.first) > 1e-9 || math.Abs(got.Degrees()-c.then) > 1e-9 {
					t.Errorf("saw at %g, then %g; want %g, then %g", k.Setting.Degrees(), got.Degrees(), c.first, c.then)
				}
				for half, setting := range map[geom.Angle]geom.Angle{b.Units[0].Segment.Tip / 2: k.Setting, b.Units[0].Segment.Tip: got} {
					blade, face := geom.Curve{B: geom.Polar(1, 90*geom.Degree-setting)}, geom.Curve{B: geom.Polar(1, k.Angle)}
					sameAngle(t, "blade to work face", between(blade, face), half)
				}
			}
		})
	}
}

func TestBlocksReachEveryCut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, _ := drawOrder(t)
		most := geom.Deg(rapid.Float64Range(0, 75).Draw(t, "reach"))
		got := Blocks(b.Units[0].Segment, most)
		s := b.Units[0].Segment
		for cut, half := range map[string]geom.Angle{"facet": geom.Deg(180 / float64(b.Units[0].Points)), "tip": s.Tip / 2} {
			need := 90*geom.Degree - half
			i := slices.IndexFunc(got, func(k Block) bool { return k.Cut == cut })
			if beyond := need > most; beyond != (i >= 0) && math.Abs(float64(need-most)) > 1e-9 {
				t.Fatalf("%s needs %g of %g: block %v", cut, need.Degrees(), most.Degrees(), i >= 0)
			}
			if i < 0 {
				continue
			}
			k := got[i]
			if k.Setting < 0 || k.Setting > most+1e-9 {
				t.Errorf("%s: setting %g, the saw reaches %g", cut, k.Setting.Degrees(), most.Degrees())
			}
			sameAngle(t, cut+": block and setting", k.Angle+k.Setting, need)
		}
	})
}

func TestWedges(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, p := drawOrder(t)
		jigs, ps := makeBlocks(b.Units, p)
		if (len(ps) > 0) == needBlocks(b.Units[0], p) {
			t.Fatalf("need %v, problems %v", needBlocks(b.Units[0], p), ps)
		}
		blocks := Blocks(b.Units[0].Segment, p.MaxMiter)
		if len(blocks) == 2 && blocks[0].Angle == blocks[1].Angle {
			blocks = blocks[:1] // drawn with the facet's cut
		}
		served := 0
		for _, j := range jigs {
			sound(t, j, p.Cutter)
			if float64(j.Quantity)*p.Thickness < b.Units[0].Thickness()-0.1*p.Thickness {
				t.Errorf("%d layers of %g for a board of %g", j.Quantity, p.Thickness, b.Units[0].Thickness())
			}
			fence := on(t, j, j.Seats[len(j.Seats)-1].Edges[0])
			for _, s := range j.Seats[:len(j.Seats)-1] {
				face := on(t, j, s.Edges[0])
				sameAngle(t, "work face to fence", 180*geom.Degree-between(fence, face), blocks[served].Angle)
				sawn(t, s.Work, blocks[served])
				served++
			}
		}
		if served != len(blocks) {
			t.Errorf("%d of %d cuts have a block", served, len(blocks))
		}
	})
}

// sawn checks that the work as drawn on a block has an edge where the saw, set
// as the block says, cuts.
func sawn(t tb, work geom.Contour, k Block) {
	t.Helper()
	blade := geom.Polar(1, 90*geom.Degree-k.Setting) // swung towards the block, fence along X
	for _, e := range work.Curves() {
		d := e.B.Sub(e.A)
		if math.Abs(d.Cross(blade)) < 1e-9*d.Len() {
			return
		}
	}
	t.Errorf("no edge of the work lies along the blade at %g degrees", k.Setting.Degrees())
}
