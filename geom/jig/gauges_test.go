package jig

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
)

func TestCentreGauge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, p := drawOrder(t)
		jigs, ps := makeCentreGauge(b.Units[0], p)
		if len(ps) > 0 {
			t.Fatalf("no gauge: %v", ps)
		}
		j := jigs[0]
		sound(t, j, p.Cutter)
		want := geom.Deg(360 / float64(b.Units[0].Points))
		sameAngle(t, "notch", notchOf(t, j), want)
		// The tongue's corner is the leftmost; it turns by what the angle lacks
		// to a half turn.
		left := 0
		for i, v := range j.Outline {
			if v.X < j.Outline[left].X {
				left = i
			}
		}
		a, straight := turnAt(j.Outline, left)
		if !straight {
			t.Fatal("the tongue has no sharp corner")
		}
		sameAngle(t, "tongue", 180*geom.Degree-a, want)
	})
}

func TestTipGauge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, p := drawOrder(t)
		jigs, ps := makeTipGauge(b.Units[0], p)
		if len(ps) > 0 {
			t.Fatalf("no gauge: %v", ps)
		}
		sound(t, jigs[0], p.Cutter)
		sameAngle(t, "notch", notchOf(t, jigs[0]), b.Units[0].Segment.Tip)
	})
}

// notchOf measures the angle between the two edges of a jig's first seat.
func notchOf(t tb, j Jig) geom.Angle {
	t.Helper()
	if len(j.Seats[0].Edges) != 2 {
		t.Fatalf("%s: %d edges hold the work", j.File, len(j.Seats[0].Edges))
	}
	return 180*geom.Degree - between(on(t, j, j.Seats[0].Edges[0]), on(t, j, j.Seats[0].Edges[1]))
}

func TestSegmentNest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, p := drawOrder(t)
		jigs, ps := makeSegmentNest(b.Units[0], p)
		// Both ends of an edge lose up to a cutter's diameter and a half.
		if least := math.Min(b.Units[0].Segment.Facet, b.Units[0].Segment.Edge); len(ps) == 1 && ps[0].Key == "cutter.diameter" && p.Cutter > least/4 {
			return
		}
		if len(ps) > 0 {
			t.Fatalf("no nest: %v", ps)
		}
		j := jigs[0]
		sound(t, j, p.Cutter)
		s := j.Seats[0]
		if len(s.Edges) != 4 {
			t.Fatalf("%d edges hold the segment", len(s.Edges))
		}
		// The play is there on every side, and it is no more than stated.
		for _, e := range s.Edges {
			for i := 0; i <= 4; i++ {
				if gap := 2 * s.Work.DistTo(e.At(float64(i)/4)); gap < 0.2-1e-9 || gap > 0.2+1e-6 {
					t.Errorf("play of %g mm at %v", gap, e.At(float64(i)/4))
				}
			}
		}
		// Between window edges: centre angle, tip angle, and the obtuse ones.
		sum := geom.Angle(0)
		for i := range s.Edges {
			sum += between(on(t, j, s.Edges[i]), on(t, j, s.Edges[(i+1)%4]))
		}
		sameAngle(t, "turn round the window", sum, 360*geom.Degree)
	})
}
