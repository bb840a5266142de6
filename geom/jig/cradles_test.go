package jig

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/geom/problem"
	"starwright/geom/star"
)

func TestTipCradles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, p := drawOrder(t)
		jigs, ps := makeTipCradles(b.Units[0], p)
		if larger(t, ps, p, func(q Params) problem.List { _, more := makeTipCradles(b.Units[0], q); return more }) {
			return
		}
		if len(ps) > 0 {
			t.Fatalf("no cradle: %v", ps)
		}
		n := float64(b.Units[0].Points)
		checkCradles(t, jigs, p, geom.Deg(360/n), b.Units[0].Segment.Tip, b.Units[0].Segment.Outline())
	})
}

// A slender fence edge of a blunt star once leant in and left one screw room;
// found by a random job.
func TestOffcutCradleOfABluntStarHasItsScrews(t *testing.T) {
	tip, no := geom.Deg(143), false
	b, ps := star.NewOrder([]star.Spec{{Points: 10, Tip: &tip, Count: 1, OffcutStar: true, BoardWidth: 64, Thickness: 6,
		EndTrim: 8, RoundTo: 5, Kerf: 1, Slot: star.SlotSpec{Make: &no}}})
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	jigs, ps := makeOffcutCradles(b.Units[1], Params{MaxMiter: geom.Deg(30), MaxW: 300, MaxH: 300, Thickness: 3})
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	for _, j := range jigs {
		sound(t, j, 0)
		if n := holesOf(j, "screw"); n < 2 {
			t.Errorf("%s: %d screws", j.File, n)
		}
	}
}

func TestOffcutCradles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, p := drawOrder(t)
		jigs, ps := offcutCradles(b.Units, p)
		switch {
		case larger(t, ps, p, func(q Params) problem.List { _, more := offcutCradles(b.Units, q); return more }):
			return
		case len(b.Units) == 1 && len(ps) == 1 && ps[0].Key == "jigs.make":
			return
		case len(b.Units) == 2 && len(ps) == 1 && ps[0].Key == "cutter.diameter":
			// Half the notch is wider than the cutter only 1/0.8 of its radius
			// from the axis.
			if b.Units[1].Segment.Width*0.8 > p.Cutter+0.1 && b.Units[1].Segment.Tip < 90*geom.Degree {
				t.Fatalf("a cutter of %g does enter: %v", p.Cutter, ps)
			}
			return
		case len(ps) > 0:
			t.Fatalf("no cradle: %v", ps)
		}
		s := b.Units[1].Segment
		// The segment with its tip at the origin, as the off-cuts lie.
		kite := geom.Place{Turn: 180 * geom.Degree, Move: geom.Pt(s.Length, 0)}.Contour(s.Outline())
		checkCradles(t, jigs, p, s.Tip, geom.Deg(360/float64(b.Units[0].Points)), append(kite[2:], kite[:2]...))
	})
}

// checkCradles checks left, right and base. The kite is the finished segment
// from the notch's corner, which lies at the origin, axis on +x.
func checkCradles(t *rapid.T, jigs []Jig, p Params, notch, other geom.Angle, kite geom.Contour) {
	if len(jigs) != 4 && len(jigs) != 2 {
		t.Fatalf("%d jigs", len(jigs))
	}
	for _, j := range jigs {
		sound(t, j, p.Cutter)
	}
	left, right := jigs[0], jigs[1]
	if len(left.Seats[0].Edges) != 2 {
		t.Fatalf("%d edges hold the work", len(left.Seats[0].Edges))
	}
	far, near := on(t, left, left.Seats[0].Edges[0]), on(t, left, left.Seats[0].Edges[1])
	sameAngle(t, "notch", 180*geom.Degree-between(far, near), notch)
	// The line of cut is the Y axis; the fence's edge is square to it.
	var cut geom.Curve
	for _, e := range left.Outline.Curves() {
		if e.A.X == 0 && e.B.X == 0 {
			cut = e
		}
	}
	sameAngle(t, "line of cut to the seat", 180*geom.Degree-between(near, cut), notch/2+other/2)
	sameAngle(t, "line of cut to the fence", between(cut, on(t, left, left.Seats[1].Edges[0])), 90*geom.Degree)
	if near.B.Dist(cut.A) > touch {
		t.Errorf("the line of cut starts %g mm from the seat", near.B.Dist(cut.A))
	}
	lands(t, left, kite, notch, other)
	if math.Abs(left.Outline.Area()-right.Outline.Area()) > 1e-6 {
		t.Errorf("left has %g mm², right %g", left.Outline.Area(), right.Outline.Area())
	}
	if len(jigs) == 4 {
		checkBase(t, left, jigs[2], jigs[3])
	} else if left.Build.Offcut != sawTable || left.Build.Bed != 0 {
		t.Errorf("without a base the work lies on %q, %g mm high", left.Build.Offcut, left.Build.Bed)
	}
	slots, screws := 0, 0
	for _, h := range left.Holes {
		if h.Kind == "clamp" {
			slots++
		} else {
			screws++
		}
	}
	if !left.Screwed || !right.Screwed || len(jigs) == 4 && !jigs[2].Screwed {
		t.Error("plates and base are screwed together")
	}
	if slots == 0 || screws < 2 {
		t.Errorf("%d slots for clamps, %d screws hold the plate on the base", slots, screws)
	}
}

// severed is what lies left of the Y axis, by the reference library. That fails where
// a corner lies on the axis up to a rounding; it then cuts a hair beside it.
func severed(t *rapid.T, c geom.Contour) sf.Geometry {
	var failed error
	for _, x := range []float64{0, -1e-4, -2e-4} {
		half := sf.NewPolygon([]sf.LineString{ring(geom.Rect(geom.Box{Min: geom.Pt(-1e5, -1e5), Max: geom.Pt(x, 1e5)}))})
		piece, err := sf.Intersection(sf.NewPolygon([]sf.LineString{ring(c)}).AsGeometry(), half.AsGeometry())
		if err == nil {
			return piece
		}
		failed = err
	}
	t.Fatal(failed)
	return sf.Geometry{}
}

// checkBase checks that base and bed carry what the saw leaves on either side
// of the line of cut, right up to it and as far as it severs the off-cut.
func checkBase(t *rapid.T, left, base, bed Jig) {
	if ob := base.Outline.Bounds(); !ob.Grow(touch).Holds(left.Outline.Bounds()) {
		t.Errorf("plate %v on a base of %v", left.Outline.Bounds(), ob)
	}
	if len(base.Holes) != len(left.Holes) || len(left.Holes) == 0 {
		t.Errorf("%d holes in the base, %d in the plate", len(base.Holes), len(left.Holes))
	}
	if b := bed.Outline.Bounds(); math.Abs(b.Max.X) > touch || math.Abs(b.Min.Y) > touch || math.Abs(base.Outline.Bounds().Min.X) > touch {
		t.Errorf("base from %v and bed to %v do not meet at the line of cut", base.Outline.Bounds().Min, b.Max)
	}
	// The middle of the off-cut's area, by the reference library, is carried.
	work := left.Seats[0].Work
	piece := severed(t, work)
	if at, ok := piece.Centroid().XY(); ok && piece.Area() > 1 && !bed.Outline.Contains(geom.Pt(math.Min(at.X, -touch), at.Y)) {
		t.Errorf("the off-cut's middle %v lies beside a bed of %v", at, bed.Outline.Bounds())
	}
	// No wood of the work stands over the line of cut beyond where it is severed.
	for _, e := range work.Curves() {
		for i := 0; i <= 50; i++ {
			if q := e.At(float64(i) / 50); math.Abs(q.X) < 1e-6 && q.Y > left.Build.Reach()+1e-6 {
				t.Errorf("the work reaches %g along the line of cut, the saw %g", q.Y, left.Build.Reach())
			}
		}
	}
	if left.Build.Reach() < left.Build.Tip-touch {
		t.Errorf("the saw stops at %g, the tip lies at %g", left.Build.Reach(), left.Build.Tip)
	}
}

// larger checks that the sheet that a problem names takes the jig, and reports
// whether the problem is of that kind.
func larger(t tb, ps problem.List, p Params, make func(Params) problem.List) bool {
	t.Helper()
	if len(ps) == 0 || ps[0].Key != "sheet.width" {
		return false
	}
	if strings.HasPrefix(ps[0].Would, without("")) { // beyond any sheet that is sold
		return true
	}
	var w, h float64
	if n, _ := fmt.Sscanf(ps[0].Would, `width = "%f mm" and height = "%f mm"`, &w, &h); n == 0 {
		t.Fatalf("no sheet in %q", ps[0].Would)
	}
	p.MaxW, p.MaxH = math.Max(p.MaxW, w-2*p.Margin), math.Max(p.MaxH, h-2*p.Margin)
	if more := make(p); slices.ContainsFunc(more, func(q problem.Problem) bool { return q.Key == "sheet.width" && q.Why == ps[0].Why }) || len(more) > len(ps) {
		t.Errorf("with %s: %v", ps[0].Would, more)
	}
	return true
}

// lands checks that the finished segment, laid where the seat puts it, has the
// edge that gets cut on the line of cut and all the rest right of it.
func lands(t *rapid.T, j Jig, kite geom.Contour, notch, other geom.Angle) {
	far, near := on(t, j, j.Seats[0].Edges[0]), on(t, j, j.Seats[0].Edges[1])
	corner := meet(far, near)
	at := geom.Place{Turn: near.B.Sub(corner).Angle() - notch/2, Move: corner}
	out := at.Contour(kite)
	tip, side := out[2], out[3]
	if math.Abs(tip.X) > 1e-6 || math.Abs(side.X) > 1e-6 {
		t.Errorf("the edge to be cut lies from x %g to %g", side.X, tip.X)
	}
	for _, v := range out {
		if v.X < -1e-6 {
			t.Errorf("the saw would cut the finished segment at %v", v)
		}
	}
}

// meet returns where the lines of two straight pieces cross.
func meet(a, b geom.Curve) geom.Point {
	d, e := a.B.Sub(a.A), b.B.Sub(b.A)
	return a.A.Add(d.Mul(b.A.Sub(a.A).Cross(e) / d.Cross(e)))
}

func TestGluedOffcutsHoldTheSecondSegment(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, _ := drawOrder(t)
		if len(b.Units) == 1 {
			return
		}
		work := gluedOffcuts(b.Units[0])
		if work.Area() <= 0 {
			t.Fatal("clockwise")
		}
		first, second := b.Units[0].Offcuts()
		if sum := first.Wood.Area() + second.Wood.Area(); math.Abs(work.Area()-sum) > 1e-9*sum {
			t.Errorf("glued area %g, pieces %g", work.Area(), sum)
		}
		s := b.Units[1].Segment
		for i, v := range s.Outline() {
			q := geom.Pt(s.Length-v.X, v.Y)
			if !work.Contains(q) && work.DistTo(q) > 1e-6 {
				t.Errorf("corner %d of the segment lies %g mm outside of the wood", i, work.DistTo(q))
			}
		}
	})
}

func TestCutterThatCannotEnterIsRefused(t *testing.T) {
	b := orderOf(t, 5, 12, 36)
	for _, c := range []struct {
		name string
		unit *star.Unit
		make makeOne
	}{{"cradle", b.Units[1], makeOffcutCradles}, {"nest", b.Units[0], makeSegmentNest}} {
		_, ps := c.make(c.unit, Params{Cutter: 8})
		if len(ps) != 1 || ps[0].Key != "cutter.diameter" || ps[0].Got == "" || ps[0].Why == "" {
			t.Errorf("%s: got %v", c.name, ps)
			continue
		}
		// The cutter it names does.
		var would float64
		if _, err := fmt.Sscanf(ps[0].Would, `diameter = "%f mm"`, &would); err != nil {
			t.Errorf("%s: no cutter in %q: %v", c.name, ps[0].Would, err)
			continue
		}
		if _, ps = c.make(c.unit, Params{Cutter: would}); len(ps) > 0 {
			t.Errorf("%s: a cutter of %g does not do either: %v", c.name, would, ps)
		}
		if _, ps = c.make(c.unit, Params{Cutter: 0}); len(ps) > 0 {
			t.Errorf("%s: a laser does not do: %v", c.name, ps)
		}
	}
}
