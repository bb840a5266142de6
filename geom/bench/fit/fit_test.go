package fit

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/geom/problem"
)

// buildSlack is what the construction by halving and the trigonometry may
// differ by, mm: the halving stops at 1e-7, and the triangles that touch are as
// blunt as 1:100. Nobody measures a gap finer than 0.01.
const buildSlack = 1e-5

func starOf(n int) Ring {
	tip := 36.0
	if n == 4 {
		tip = 50
	}
	return Ring{Points: n, BoardWidth: 114, Tip: geom.Deg(tip)}
}

func TestGapIsWhatLaidOutSegmentsShow(t *testing.T) {
	for n := MinPoints; n <= MaxPoints; n++ {
		s := starOf(n)
		for _, test := range Tests(n) {
			for _, e := range []geom.Angle{geom.Deg(0.05), geom.Deg(0.5), s.MaxError()} {
				for _, sign := range []geom.Angle{-1, 1} {
					t.Run(fmt.Sprintf("%d points %s %+.2f deg", n, test, (sign*e).Degrees()), func(t *testing.T) {
						o, err := s.Gap(sign*e, test)
						if err != nil {
							t.Fatal(err)
						}
						want := built(t, s, sign*e, test)
						if math.Abs(o.MM-want) > buildSlack {
							t.Errorf("gap %.6f mm, simplefeatures measures %.6f mm on the polygons", o.MM, want)
						}
						if at := map[bool]End{true: Centre, false: Valley}[sign > 0]; o.At != at {
							t.Errorf("gap at the %s, the segments open at the %s", o.At, at)
						}
					})
				}
			}
		}
	}
}

func TestReadFindsTheErrorThatMadeTheGap(t *testing.T) {
	for n := MinPoints; n <= MaxPoints; n++ {
		s := starOf(n)
		for _, test := range Tests(n) {
			for _, e := range []geom.Angle{geom.Deg(-0.7), geom.Deg(-0.1), geom.Deg(0.1), geom.Deg(0.7)} {
				t.Run(fmt.Sprintf("%d points %s %+.1f deg", n, test, e.Degrees()), func(t *testing.T) {
					at := Valley
					if e > 0 {
						at = Centre
					}
					r, err := s.Read(built(t, s, e, test), at, test, nil)
					if err != nil {
						t.Fatal(err)
					}
					// The gap that the found error makes, built again, is the
					// measured one.
					if d := math.Abs(built(t, s, r.Error, test) - built(t, s, e, test)); d > 0.01 {
						t.Errorf("the error read makes a gap that is %.4f mm off", d)
					}
					if d := math.Abs((r.Error - e).Degrees()); d > 1e-4 {
						t.Errorf("read %.6f deg, cut with %.6f deg", r.Error.Degrees(), e.Degrees())
					}
				})
			}
		}
	}
}

func TestHandValues(t *testing.T) {
	// Five points from 114 mm boards. Facet 57/sin 36 = 96.974 mm. The design's
	// error budget: 5 kites at 0.1 deg a face leave 2*5*0.1 = 1 deg, which is
	// 1 deg of 97 mm = 1.69 mm (pocket calculator).
	s := starOf(5)
	o, err := s.Gap(geom.Deg(-0.1), LastJoint)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(o.Angle.Degrees()-1) > 1e-9 || o.Facets != 10 || o.Joints != 1 {
		t.Errorf("last joint: %v deg over %d facets in %d joints", o.Angle.Degrees(), o.Facets, o.Joints)
	}
	if math.Abs(o.MM-1.69) > 0.01 {
		t.Errorf("gap %.3f mm, want 1.69", o.MM)
	}
}

func TestMoveGoesTheRightWay(t *testing.T) {
	// Angles too small, the gap is at the valley: the facet must stand steeper
	// to the axis, so the scale from square (90 - c/2) must go down, and
	// so must the block, which is a part of it. At 500 mm from the pivot 0.1 deg is 0.873 mm
	// (500 * pi/1800, pocket calculator).
	s := starOf(5)
	gap := func(e float64) float64 { o, _ := s.Gap(geom.Deg(e), LastJoint); return o.MM }
	small, err := s.Read(gap(-0.1), Valley, LastJoint, nil)
	if err != nil {
		t.Fatal(err)
	}
	large, err := s.Read(gap(0.1), Centre, LastJoint, nil)
	if err != nil {
		t.Fatal(err)
	}
	if small.Error >= 0 || !small.Move.TowardsSquare || small.Move.OpenBlock {
		t.Errorf("valley gap: %+v", small)
	}
	if large.Error <= 0 || large.Move.TowardsSquare || !large.Move.OpenBlock {
		t.Errorf("centre gap: %+v", large)
	}
	for _, m := range []Move{small.Move, large.Move} {
		if math.Abs(m.At(500)-0.873) > 0.001 {
			t.Errorf("at 500 mm: %.4f mm, want 0.873", m.At(500))
		}
	}
}

func TestFinestHoldsTheLimitAndNoMore(t *testing.T) {
	for n := MinPoints; n <= MaxPoints; n++ {
		s := starOf(n)
		for _, test := range Tests(n) {
			t.Run(fmt.Sprintf("%d points %s", n, test), func(t *testing.T) {
				const limit = 0.2
				e, err := s.Finest(limit, test, nil)
				if err != nil {
					t.Fatal(err)
				}
				worst := math.Max(s.gap(e, test).MM, s.gap(-e, test).MM)
				if math.Abs(worst-limit) > 1e-9 {
					t.Errorf("%.4f deg makes %.9f mm, the limit is %v", e.Degrees(), worst, limit)
				}
			})
		}
	}
}

func TestGapGrowsWithTheError(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(MinPoints, MaxPoints).Draw(t, "points")
		s := Ring{Points: n, BoardWidth: rapid.Float64Range(12, 600).Draw(t, "width"), Tip: geom.Deg(30)}
		test := rapid.SampledFrom(Tests(n)).Draw(t, "test")
		sign := rapid.SampledFrom([]geom.Angle{-1, 1}).Draw(t, "sign")
		a := geom.Angle(rapid.Float64Range(0, 1).Draw(t, "a")) * s.MaxError()
		b := geom.Angle(rapid.Float64Range(0, 1).Draw(t, "b")) * s.MaxError()
		if a > b {
			a, b = b, a
		}
		if ga, gb := s.gap(sign*a, test).MM, s.gap(sign*b, test).MM; b-a > 1e-9 && ga >= gb {
			t.Errorf("error %v makes %v mm, the larger %v makes %v mm", a, ga, b, gb)
		}
		at := Valley
		if sign > 0 {
			at = Centre
		}
		gap := s.gap(sign*b, test).MM
		r, err := s.Read(gap, at, test, nil)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(r.Error-sign*b)) > 1e-9 {
			t.Errorf("gap %v mm read as %v, made by %v", gap, r.Error, sign*b)
		}
	})
}

func TestNoErrorNoGap(t *testing.T) {
	for n := MinPoints; n <= MaxPoints; n++ {
		all, err := starOf(n).Expect(0)
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range all {
			if o.MM != 0 || o.Angle != 0 {
				t.Errorf("%d points, %s: %+v", n, o.Test, o)
			}
		}
		r, err := starOf(n).Read(0, Centre, Halves, nil)
		if err != nil || r.Error != 0 || r.At != Centre {
			t.Errorf("%d points, a gap of nothing: %+v, %v", n, r, err)
		}
	}
}

func TestRefuses(t *testing.T) {
	s := starOf(5)
	read := func(s Ring, gap float64, test Test) error { _, err := s.Read(gap, Valley, test, nil); return err }
	rows := []struct {
		name string
		err  error
		want string
	}{
		{"larger than a facet", read(s, 97, LastJoint), "larger than a whole facet of 96.974 mm. Try: 0 to "},
		{"half a facet", read(s, 60, LastJoint), "too large for an error of the setting"},
		{"negative gap", read(s, -1, LastJoint), "gap = -1 mm: not a gap"},
		{"no number", read(s, math.NaN(), LastJoint), "not a gap"},
		{"three points", read(starOf(3), 1, LastJoint), "points = 3: no star with so many points. Try: 4 to 12"},
		{"no width", read(Ring{Points: 5}, 1, LastJoint), "board width = 0 mm: not a width"},
		{"odd half on a straightedge", read(s, 1, Straightedge), "Try: two halves together"},
		{"unknown test", read(s, 1, 9), "unknown test"},
		{"huge error", func() error { _, err := s.Gap(geom.Deg(4), LastJoint); return err }(), "at most 3 deg"},
		{"no limit", func() error { _, err := s.Finest(0, LastJoint, nil); return err }(), "limit = 0 mm"},
		{"blunt tip", func() error { _, err := Ring{5, 114, geom.Deg(108)}.True(0); return err }(), "below 108 deg"},
		{"place", func() error { _, err := s.Read(1, 7, LastJoint, nil); return err }(), "valley or centre"},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			var ps problem.List
			if !errors.As(r.err, &ps) || !strings.Contains(r.err.Error(), r.want) {
				t.Errorf("got %v, want %q in it", r.err, r.want)
			}
		})
	}
}
