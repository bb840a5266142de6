package star

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"starwright/geom"

	"pgregory.net/rapid"
)

const in = geom.MMPerInch

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.Abs(got-want) > tol || math.IsNaN(got) {
		t.Errorf("%s = %.9f, want %.9f within %g", what, got, want, tol)
	}
}

// A regular five-pointed star with circumradius one has, by H. S. M. Coxeter,
// Regular Polytopes, and arithmetic on the golden ratio (Euclid, Elements
// XIII.8): inner radius 1/φ², edge 0.726542528005361, tip to tip across
// 1.902113032590307 and area 1.122569941448963.
func TestPentagramIdentities(t *testing.T) {
	tip, ok := DefaultTip(5)
	if !ok {
		t.Fatal("no default tip for five points")
	}
	near(t, "tip of {5/2}", tip.Degrees(), 36, 1e-12)
	s := Star{5, newSegment(1, 72*geom.Degree, tip)}
	r := s.Segment.Length
	phi := (1 + math.Sqrt(5)) / 2
	near(t, "valley radius / circumradius", s.ValleyRadius()/r, 1/(phi*phi), 1e-14)
	near(t, "edge / circumradius", s.Segment.Edge/r, 0.726542528005361, 1e-14)
	near(t, "width / circumradius", s.Width()/r, 1.902113032590307, 1e-14)
	near(t, "area / circumradius²", s.Outline().Area()/(r*r), 1.122569941448963, 1e-14)
	near(t, "five kites / star", 5*s.Segment.Outline().Area()/s.Outline().Area(), 1, 1e-14)
}

// Tip angles of the star polygons {n/k}, 180(1-2k/n), Coxeter as above.
func TestDefaultTips(t *testing.T) {
	for n, want := range map[int]float64{5: 36, 6: 60, 7: 180.0 / 7, 8: 45, 9: 20, 10: 36, 11: 180.0 / 11, 12: 30} {
		tip, ok := DefaultTip(n)
		if !ok {
			t.Errorf("%d points: no default", n)
		}
		near(t, fmt.Sprintf("tip of %d points", n), tip.Degrees(), want, 1e-12)
	}
	if _, ok := DefaultTip(4); ok {
		t.Error("4 points have no star polygon, yet there is a default tip")
	}
}

// spec is a job with nothing but a board and a batch.
func spec(n int, width float64) Spec {
	return Spec{
		Unit: geom.Millimetre, Points: n, BoardWidth: width, Thickness: 19, Count: 6,
		EndTrim: 8, RoundTo: 1, Kerf: 2.4, MaxTravelX: 400, SplineFit: 0.15, GlueGap: 1,
	}
}

func mustNew(t *testing.T, s Spec) *Order {
	t.Helper()
	b, ps := NewOrder([]Spec{s})
	if len(ps) > 0 {
		t.Fatalf("problems: %+v", ps)
	}
	return b
}

// Common practice, no source: what woodworkers cut for five points.
func TestCommonPracticeSizes(t *testing.T) {
	for _, row := range []struct{ board, blank float64 }{{3.5, 8.125}, {4, 9.25}, {5.5, 12.5}} {
		s := spec(5, row.board*in)
		s.Unit, s.EndTrim, s.RoundTo = geom.Inch, 5.0/16*in, in/8
		b := mustNew(t, s)
		got := b.Units[0].Blank.Length / in
		if got < row.blank-0.125-1e-9 || got > row.blank+0.5 {
			t.Errorf("board %g in: blank %g in, common practice %g", row.board, got, row.blank)
		}
	}
	near(t, "star from 4 in boards", mustNew(t, spec(5, 4*in)).Units[0].Width()/in, 16.75, 0.02*16.75)
	if w := mustNew(t, spec(5, 5.5*in)).Units[0].Width() / in; w < 23*0.98 || w > 24*1.02 {
		t.Errorf("star from 5 1/2 in boards is %g in wide, common practice 23 to 24", w)
	}
	for _, kerf := range []float64{3.0 / 32, 0.125} {
		main := newSegment(4*in, 72*geom.Degree, 36*geom.Degree)
		small := Star{5, newSegment(1, 72*geom.Degree, 36*geom.Degree)}
		l := offcutLength(main, 9.25*in, kerf*in, 0)
		near(t, "off-cut star", small.Width()*l/small.Segment.Length/in, 11.75, 0.02*11.75)
	}
}

// The four slot numbers of one segment worked by hand with plane
// trigonometry: c/2 = 36°, d = 10, web 6: least start 10 cot 36° + 3/sin 36°, which
// is 18.8677, up to a whole thousandth; the web then is 6 + 2 (18.868 - 18.8677) sin 36°.
func TestSlotByHand(t *testing.T) {
	s := spec(5, 114)
	depth, web, margin, cutter := 10.0, 6.0, 12.0, 6.35
	s.Slot = SlotSpec{Depth: &depth, Web: &web, EndMargin: &margin}
	s.Cutter = &cutter
	b := mustNew(t, s)
	slot := b.Units[0].Slot
	near(t, "start", slot.Start, 18.868, 1e-9)
	if least := 13.7638192047 + 5.1039048500; slot.Start < least || slot.Start > least+0.001 {
		t.Errorf("the slot starts at %.6f, the least is %.6f", slot.Start, least)
	}
	near(t, "end", slot.End, 57/0.5877852522925-12, 1e-9)
	near(t, "web", slot.Web, 6+2*(18.868-13.7638192047-5.1039048500)*0.5877852522925, 1e-9)
	near(t, "spline length", b.Units[0].Spline.Length, slot.End-slot.Start-6.35, 1e-9)
	near(t, "spline width", b.Units[0].Spline.Width, 19, 1e-9)
	if b.Units[0].Spline.Count != 30 {
		t.Errorf("%d splines, want 5 joints x 6 stars", b.Units[0].Spline.Count)
	}
}

// Where the job leaves the cutter open, a slot that the wood does not hold is the
// wood's fault and not that of a smaller bit that nobody named. By hand, c/2 =
// 36°: 16 mm deep from 20 mm the slots' floors meet, as 20 tan 36° = 14.5 < 16;
// with a web of 6 the least start is 16 cot 36° + 3/sin 36° = 27.13 mm. With one of 35
// and 12.7 mm of slot, 12 mm from the valley, (85.07 - 12 - 12.7 - 17.5/sin 36°) tan 36°
// = 22.2 mm are left for the depth.
func TestProblemIsTheWoods(t *testing.T) {
	for _, row := range []struct {
		name              string
		depth, web, start float64
		key, why, would   string
	}{
		{"web", 16, 6, 20, "slot.start", "leaves no wood", `start = "27.2 mm"`},
		{"web and length", 25, 35, 0, "slot.depth", "it takes at least 12.7 mm", "depth = "},
		{"deeper than any bit and than the facet", 30, 35, 0, "slot.depth", "reaches 25.4 mm", `depth = "22.2 mm"`},
		{"deeper than any bit", 30, 6, 0, "slot.depth", "6.35 mm in diameter, reaches 25.4 mm", `depth = "25.4 mm"`},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := spec(5, 100)
			s.Slot = SlotSpec{Depth: &row.depth, Web: &row.web}
			if row.start > 0 {
				s.Slot.Start = &row.start
			}
			_, ps := NewOrder([]Spec{s})
			if len(ps) != 1 || ps[0].Key != row.key || !strings.Contains(ps[0].Why, row.why) || !strings.Contains(ps[0].Would, row.would) {
				t.Errorf("%+v", ps)
			}
		})
	}
}

// Whatever the star, its parts close: n facets fill the turn, the kite's
// angles sum to 360 degrees, the two sizings agree, and the wood allows what
// was chosen.
func TestStarProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(MinPoints, MaxPoints).Draw(rt, "points")
		tip := geom.Deg(rapid.Float64Range(MinTip.Degrees()+0.001, (MaxTip(n)-tipSlack).Degrees()-0.001).Draw(rt, "tip"))
		s := spec(n, rapid.Float64Range(30, 600).Draw(rt, "board"))
		s.Tip, s.OffcutStar = &tip, false
		b, ps := NewOrder([]Spec{s})
		if len(ps) > 0 {
			rt.Fatalf("a plain job was refused: %+v", ps)
		}
		seg := b.Units[0].Segment
		o := seg.Outline()
		if a := o.Area(); math.Abs(a-seg.Length*seg.Width/2) > 1e-9*a {
			rt.Errorf("kite area %g, half the product of its diagonals %g", a, seg.Length*seg.Width/2)
		}
		edge := o[2].Dist(o[3].Point)
		if math.Abs(edge-seg.Edge) > 1e-9*edge || math.Abs(o[3].Len()-seg.Facet) > 1e-9*edge {
			rt.Errorf("outline and numbers disagree: %+v", seg)
		}
		t2 := s
		t2.BoardWidth, t2.StarWidth = 0, b.Units[0].Width()
		again, ps := NewOrder([]Spec{t2})
		if len(ps) > 0 || math.Abs(again.Units[0].Segment.Width-seg.Width) > 1e-9*seg.Width {
			rt.Errorf("sized by its own star width the board changes from %g", seg.Width)
		}
		if slot := b.Units[0].Slot; slot != nil {
			if slot.Web < 6-1e-9 && b.Units[0].Spec.Slot.Web == nil || slot.End > seg.Facet || slot.Wall < 0.25*19-1e-9 {
				rt.Errorf("slot %+v breaks a rule in %+v", slot, seg)
			}
			// No corner of the slot's section may leave the segment.
			in := seg.Center / 2
			for _, x := range []float64{slot.Start, slot.End} {
				p := geom.Polar(x, in).Add(geom.Polar(slot.Depth, in-90*geom.Degree))
				if !o.Contains(p) {
					rt.Errorf("the slot's floor at %g lies outside the segment", x)
				}
			}
		}
	})
}

// The off-cut star's segment, laid over the two off-cuts as they leave the
// saw, lies wholly in wood: the proof by outlines, not by the formula.
func TestOffcutLiesInWood(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(MinPoints, MaxPoints).Draw(rt, "points")
		tip := geom.Deg(rapid.Float64Range(8, (MaxTip(n)-tipSlack).Degrees()-0.001).Draw(rt, "tip"))
		c := geom.Deg(360 / float64(n))
		seg := newSegment(rapid.Float64Range(40, 300).Draw(rt, "board"), c, tip)
		blank := seg.Length + rapid.Float64Range(0, 60).Draw(rt, "trim")
		kerf := rapid.Float64Range(0.5, 4).Draw(rt, "kerf")
		l := offcutLength(seg, blank, kerf, rapid.SampledFrom([]float64{0, 1.5}).Draw(rt, "spare"))
		if l <= 0 {
			rt.Skip("no off-cut")
		}
		unit := newSegment(1, c, tip)
		small := newSegment(l/unit.Length, c, tip)
		first, second := Offcuts(seg, blank, kerf)
		half := halfInOffcut(seg, small, kerf)
		const tol = 1e-6
		within := func(name string, wood geom.Contour, h geom.Contour) {
			for _, v := range h {
				if !wood.Contains(v.Point) && wood.DistTo(v.Point) > tol {
					rt.Errorf("corner %v of the half segment lies %g outside the %s off-cut %v", v.Point, wood.DistTo(v.Point), name, wood)
				}
			}
		}
		within("second", second.Wood, half)
		within("first", first.Wood, geom.Place{Mirror: true}.Contour(half))
		// Both off-cuts lie on the blank, off the segment by the kerf.
		for _, o := range []Offcut{first, second} {
			if o.Wood.Area() <= 0 {
				rt.Errorf("off-cut without area: %v", o.Wood)
			}
			for _, v := range o.Wood {
				if d := seg.Outline().DistTo(v.Point); seg.Outline().Contains(v.Point) && d > tol {
					rt.Errorf("off-cut corner %v lies in the segment", v.Point)
				}
			}
		}
	})
}

// halfInOffcut returns the half of the off-cut segment that comes from the
// lower off-cut, laid in the blank's coordinates.
func halfInOffcut(main, small Segment, kerf float64) geom.Contour {
	h := main.Tip / 2
	apex := geom.Pt(main.Valley().X+kerf/h.Sin(), -main.Width/2)
	v := small.Valley()
	return geom.Polygon(apex, apex.Add(geom.Pt(small.Length, 0)), apex.Add(geom.Pt(small.Length-v.X, v.Y)))
}

// What is to spare lies behind the off-cut star's centre: it comes off the length,
// but where the corner that the first cut took has left it already.
func TestOffcutSpare(t *testing.T) {
	for n := MinPoints; n <= MaxPoints; n++ {
		s := spec(n, 100)
		tip := MaxTip(n) * 4 / 10
		s.Tip, s.OffcutStar = &tip, true
		plain := mustNew(t, s).Units[1]
		s.OffcutSpare = 1.5
		spared := mustNew(t, s).Units[1]
		_, low := spared.From.Offcuts()
		behind := low.End.X - low.Apex.X - spared.Segment.Length
		if behind < 1.5-1e-9 {
			t.Errorf("%d points: %.3f mm behind the centre, want 1.5", n, behind)
		}
		if lost := plain.Segment.Length - spared.Segment.Length; lost < -1e-9 || lost > 1.5+1e-9 {
			t.Errorf("%d points: the small segment lost %.3f mm to 1.5 to spare", n, lost)
		}
	}
}
