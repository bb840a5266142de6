package jig

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/geom/problem"
	"starwright/geom/star"
)

// drawSlotted draws a job with slots where the wood takes them.
func drawSlotted(t *rapid.T) (*star.Order, Params) {
	b, p := drawOrder(t)
	spec := b.Units[0].Spec
	spec.Slot.Make = nil
	spec.SplineFit, spec.GlueGap = 0.1, 0.5
	if slotted, ps := star.NewOrder([]star.Spec{spec}); len(ps) == 0 {
		b = slotted
	}
	return b, p
}

// leftAndRight checks that jigs come in pairs that are each other's image in
// the Y axis.
func leftAndRight(t tb, jigs []Jig) {
	t.Helper()
	if len(jigs) == 0 || len(jigs)%2 != 0 {
		t.Fatalf("%d jigs are no pairs", len(jigs))
	}
	for i := 0; i < len(jigs); i += 2 {
		l, r := jigs[i], jigs[i+1]
		if !strings.HasSuffix(l.File, "-left") || !strings.HasSuffix(r.File, "-right") {
			t.Errorf("pair is named %q and %q", l.File, r.File)
		}
		for _, v := range l.Outline {
			if d := r.Outline.DistTo(geom.Pt(-v.X, v.Y)); d > touch {
				t.Errorf("%s: %v has no image in %s, %g mm off", l.File, v.Point, r.File, d)
			}
		}
		if len(l.Holes) != len(r.Holes) || math.Abs(l.Outline.Area()-r.Outline.Area()) > touch {
			t.Errorf("%s and %s are no images of each other", l.File, r.File)
		}
	}
}

// holesOf counts holes of a kind.
func holesOf(j Jig, kind string) int {
	n := 0
	for _, h := range j.Holes {
		if h.Kind == kind {
			n++
		}
	}
	return n
}

func TestSlotStands(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, p, jigs := slotted(t, makeSlotStands)
		for i, j := range jigs {
			sound(t, j, p.Cutter)
			if top := j.Outline.Bounds().Max.Y; top >= 0 {
				t.Errorf("%s: wood at %g, not below the facet's plane", j.File, top)
			}
			if holesOf(j, "clamp") < 1 || holesOf(j, "screw") < 2 {
				t.Errorf("%s: %d clamp and %d screw holes", j.File, holesOf(j, "clamp"), holesOf(j, "screw"))
			}
			unit := b.Units[0]
			if i >= 2 {
				unit = b.Units[1]
			}
			standSeats(t, j, unit.Star)
		}
	})
}

// standSeats measures the seats of a stand on its outline against the star.
func standSeats(t tb, j Jig, s star.Star) {
	t.Helper()
	if len(j.Seats) != 1 || len(j.Seats[0].Edges) != 2 {
		t.Fatalf("%s: no two edges hold the work", j.File)
	}
	level := geom.Curve{A: geom.Pt(0, 0), B: geom.Pt(1, 0)}
	lean := func(e geom.Curve) geom.Angle { // to the level, 0 to 90 degrees
		a := between(on(t, j, e), level)
		return min(a, 180*geom.Degree-a)
	}
	half, c := s.Segment.Tip/2, geom.Deg(360/float64(s.Points))
	var facet, edge geom.Curve
	for _, e := range j.Seats[0].Edges {
		// The far facet runs through the star's centre, the origin.
		if o := on(t, j, e); math.Abs(o.B.Sub(o.A).Unit().Cross(o.A)) < touch {
			facet = e
		} else {
			edge = e
		}
	}
	sameAngle(t, "far facet to the facet", lean(facet), c)
	rise := half - c/2
	sameAngle(t, "far edge to the facet", lean(edge), geom.Angle(math.Abs(float64(rise))))
	// The facet lies level on top, from the origin.
	work := j.Seats[0].Work.Bounds()
	if math.Abs(work.Max.Y) > touch {
		t.Errorf("%s: the facet lies at %g", j.File, work.Max.Y)
	}
}

func TestStandOfFivePoints(t *testing.T) {
	b := orderOf(t, 5, 90, 36)
	jigs, _ := makeSlotStands(b.Units[0], kitParams())
	left := jigs[0]
	// 5 points of 36°: L sin 36° below the facet, from memory of the triangle:
	// half width 45, L = 45 (cot 36° + cot 18°) = 200.4.
	const room = 117.8
	if got := -left.Seats[0].Work.Bounds().Min.Y; math.Abs(got-room) > 0.05 {
		t.Errorf("the work reaches %.2f below the facet, want %.1f", got, room)
	}
	if !left.Build.Wedges {
		t.Error("a star of five points has a horn to wedge against")
	}
	words := ""
	for _, l := range left.Text {
		words += l.Text + "\n"
	}
	for _, want := range []string{"X0 ", "Z0 ", "room below Z0"} {
		if !strings.Contains(words, want) {
			t.Errorf("the stand does not say %q:\n%s", want, words)
		}
	}
}

// A thick cutter rounds both ends of the pocket's floor; where the floor of narrow
// boards was shorter than the two, the outline ran back into itself.
func TestPocketHasAFloor(t *testing.T) {
	for _, width := range []float64{17.5, 25, 40} {
		for _, cutter := range []float64{3, 6, 7.99} {
			b := orderOf(t, 7, width, 20)
			p := kitParams()
			p.Cutter = cutter
			jigs, ps := makeSlotStands(b.Units[0], p)
			if len(ps) > 0 && width < cutter*4 { // its reliefs may take the seats away
				problemsSay(t, ps, "cutter.diameter")
				continue
			}
			if len(jigs) == 0 {
				t.Errorf("boards of %g mm, cutter of %g: no stand: %v", width, cutter, ps)
			}
			for _, j := range jigs {
				sound(t, j, p.Cutter)
			}
		}
	}
}

func TestStack(t *testing.T) {
	for _, c := range []struct {
		name         string
		board, sheet float64
		want         int
	}{
		{"three of 6 mm under 19 mm", 19, 6, 3},
		{"one of 18 mm under 19 mm", 19, 18, 1},
		{"sheet thicker than the board", 12, 18, 1},
		{"two of just half the board", 18, 9, 2},
		{"thick board on spacers", 60, 3, 4},
		{"sheet unknown", 19, 0, 2},
	} {
		if got := stack(c.board, c.sheet); got != c.want {
			t.Errorf("%s: %d plates, want %d", c.name, got, c.want)
		}
	}
}

// problemsSay checks that problems name the key, the value and one that works.
func problemsSay(t tb, ps problem.List, key string) {
	t.Helper()
	for _, p := range ps {
		if p.Key != key || p.Got == "" || p.Why == "" || p.Would == "" {
			t.Errorf("problem %+v, want one about %s", p, key)
		}
	}
}

// slotted makes the jigs that hold the segments of a random order for their slots;
// none where the job has no room for them, which has to be said.
func slotted(t *rapid.T, one func(*star.Unit, Params) ([]Jig, problem.List)) (*star.Order, Params, []Jig) {
	b, p := drawSlotted(t)
	make := each(slottable, one)
	jigs, ps := make(b.Units, p)
	if larger(t, ps, p, func(q Params) problem.List { _, more := make(b.Units, q); return more }) {
		return b, p, nil
	}
	if len(ps) > 0 { // reliefs that take the seats away
		problemsSay(t, ps, "cutter.diameter")
		return b, p, nil
	}
	leftAndRight(t, jigs)
	return b, p, jigs
}
