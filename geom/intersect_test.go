package geom_test

import (
	"math"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"starwright/geom"
)

// seg makes a straight curve, arc one with a bulge.
func seg(ax, ay, bx, by float64) geom.Curve {
	return geom.Curve{A: geom.Pt(ax, ay), B: geom.Pt(bx, by)}
}

func arc(ax, ay, bx, by, bulge float64) geom.Curve {
	return geom.Curve{A: geom.Pt(ax, ay), B: geom.Pt(bx, by), Bulge: bulge}
}

// What the library calls meeting, stated again on purpose: 1e-7 mm.
const meet = 1e-7

func TestIntersections(t *testing.T) {
	s3 := math.Sqrt(3)
	tests := []struct {
		name string
		a, b geom.Curve
		want []geom.Point
		lap  float64 // length run together, mm
	}{
		// Expected points by elementary geometry: diagonals, 3-4-5 triangle,
		// equal circles a radius apart meet at half the radius times root 3.
		{"diagonals", seg(0, 0, 2, 2), seg(0, 2, 2, 0), []geom.Point{{X: 1, Y: 1}}, 0},
		{"apart", seg(0, 0, 1, 0), seg(2, -1, 2, 1), nil, 0},
		{"parallel", seg(0, 0, 5, 0), seg(0, 1, 5, 1), nil, 0},
		{"T joint", seg(0, 0, 4, 0), seg(3, 0, 3, 5), []geom.Point{{X: 3}}, 0},
		{"end to end", seg(0, 0, 4, 0), seg(4, 0, 9, 0), []geom.Point{{X: 4}}, 0},
		{"corner", seg(0, 0, 4, 0), seg(4, 0, 4, 3), []geom.Point{{X: 4}}, 0},
		{"collinear gap", seg(0, 0, 4, 0), seg(4.001, 0, 9, 0), nil, 0},
		{"partly on it", seg(0, 0, 4, 0), seg(3, 0, 9, 0), []geom.Point{{X: 3}, {X: 4}}, 1},
		{"on it backwards", seg(0, 0, 10, 0), seg(7, 0, 2, 0), []geom.Point{{X: 2}, {X: 7}}, 5},
		{"same line", seg(0, 0, 10, 0), seg(0, 0, 10, 0), []geom.Point{{}, {X: 10}}, 10},
		{"line through circle 3-4-5", seg(-9, 3, 9, 3), arc(5, 0, -5, 0, 1), []geom.Point{{X: -4, Y: 3}, {X: 4, Y: 3}}, 0},
		{"line through one half only", seg(-9, -3, 9, -3), arc(5, 0, -5, 0, 1), nil, 0},
		{"tangent above", seg(-9, 5, 9, 5), arc(5, 0, -5, 0, 1), []geom.Point{{Y: 5}}, 0},
		{"just misses", seg(-9, 5.001, 9, 5.001), arc(5, 0, -5, 0, 1), nil, 0},
		{"rounded corner joins its side", seg(0, 0, 10, 0), arc(10, 0, 13, 3, math.Tan(math.Pi/8)), []geom.Point{{X: 10}}, 0},
		{"equal circles", arc(1, 0, -1, 0, 1), arc(2, 0, 0, 0, 1), []geom.Point{{X: .5, Y: s3 / 2}}, 0},
		{"circles tangent outside", arc(0, -1, 0, 1, 1), arc(2, 1, 2, -1, 1), []geom.Point{{X: 1}}, 0},
		{"circles tangent inside", arc(0, -2, 0, 2, 1), arc(1, -1, 1, 1, 1), []geom.Point{{X: 2}}, 0},
		{"concentric", arc(0, -2, 0, 2, 1), arc(0, -1, 0, 1, 1), nil, 0},
		{"same arc reversed", arc(5, 0, -5, 0, 1), arc(-5, 0, 5, 0, -1), []geom.Point{{X: 5}, {X: -5}}, 5 * math.Pi},
		{"two halves of a circle", arc(5, 0, -5, 0, 1), arc(-5, 0, 5, 0, 1), []geom.Point{{X: 5}, {X: -5}}, 0},
		{"arc and its chord", arc(5, 0, -5, 0, 1), seg(-5, 0, 5, 0), []geom.Point{{X: 5}, {X: -5}}, 0},
		{"no length on the line", seg(1, 0, 1, 0), seg(0, 0, 2, 0), []geom.Point{{X: 1}}, 0},
		{"no length off the line", seg(1, 1, 1, 1), seg(0, 0, 2, 0), nil, 0},
		// An arc of 500 km radius rises 100²/(8·5e8) = 2.5e-6 mm over its chord.
		{"very flat arc and chord", arc(0, 0, 100, 0, -5e-8), seg(0, 0, 100, 0), []geom.Point{{}, {X: 100}}, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := geom.Intersections(tt.a, tt.b)
			if len(got) != len(tt.want) {
				t.Fatalf("Intersections = %v, want %v", got, tt.want)
			}
			for i := range got {
				if got[i].Dist(tt.want[i]) > meet {
					t.Errorf("point %d = %v, want %v", i, got[i], tt.want[i])
				}
			}
			if lap := geom.Overlap(tt.a, tt.b); math.Abs(lap-tt.lap) > meet {
				t.Errorf("Overlap = %v, want %v", lap, tt.lap)
			}
		})
	}
}

func TestCurveDist(t *testing.T) {
	tests := []struct {
		name string
		a, b geom.Curve
		want float64
	}{
		// By elementary geometry.
		{"crossing", seg(0, 0, 2, 2), seg(0, 2, 2, 0), 0},
		{"parallel", seg(0, 0, 5, 0), seg(1, 3, 9, 3), 3},
		{"end to end 3-4-5", seg(0, 0, 1, 0), seg(4, 4, 9, 4), 5},
		{"line over the top of an arc", seg(-9, 7, 9, 7), arc(5, 0, -5, 0, 1), 2},
		{"line inside an arc", seg(-1, 3, 1, 3), arc(5, 0, -5, 0, 1), 5 - math.Sqrt(10)},
		{"circles apart", arc(0, -1, 0, 1, 1), arc(5, 2, 5, -2, 1), 2},
		{"circle in a circle", arc(0, -5, 0, 5, 1), arc(1, -1, 1, 1, 1), 3},
		{"concentric", arc(0, -2, 0, 2, 1), arc(0, -1, 0, 1, 1), 1},
		{"backs of two arcs", arc(0, 1, 0, -1, 1), arc(5, -2, 5, 2, 1), math.Hypot(5, 1)},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := geom.CurveDist(tt.a, tt.b); math.Abs(got-tt.want) > 1e-12 {
				t.Errorf("CurveDist = %v, want %v", got, tt.want)
			}
		})
	}
}

// drawCurve makes a curve with ends on a coarse grid half of the time, so that
// touching ends, tangents and shared pieces are met and not only brushed past.
func drawCurve(t *rapid.T, label string) geom.Curve {
	coord := rapid.OneOf(
		rapid.Map(rapid.IntRange(-4, 4), func(i int) float64 { return float64(i) }),
		rapid.Float64Range(-4, 4),
	)
	bulge := rapid.OneOf(rapid.SampledFrom([]float64{0, 0, 1, -1, 0.4142135623730951, 1e-9, 3}), rapid.Float64Range(-2, 2))
	return geom.Curve{
		A:     geom.Pt(coord.Draw(t, label+".ax"), coord.Draw(t, label+".ay")),
		B:     geom.Pt(coord.Draw(t, label+".bx"), coord.Draw(t, label+".by")),
		Bulge: bulge.Draw(t, label+".bulge"),
	}
}

// Every point returned lies on both curves, the answer does not depend on the
// order or direction, and the distance is 0 exactly where there is a point.
func TestIntersectionsProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawCurve(t, "a"), drawCurve(t, "b")
		pts := geom.Intersections(a, b)
		for _, p := range pts {
			if d := math.Max(a.DistTo(p), b.DistTo(p)); d > 2*meet {
				t.Errorf("%v lies %g mm off", p, d)
			}
		}
		if n := len(geom.Intersections(b, a)); n != len(pts) {
			t.Errorf("a with b: %d points, b with a: %d", len(pts), n)
		}
		if n := len(geom.Intersections(a.Reversed(), b)); n != len(pts) {
			t.Errorf("a with b: %d points, reversed: %d", len(pts), n)
		}
		if d := geom.CurveDist(a, b); (d == 0) != (len(pts) > 0) && d > 2*meet {
			t.Errorf("%d points in common and %g mm apart", len(pts), d)
		}
	})
}

// The slow twin: the least distance over a fine row of points along a.
func TestCurveDistAgainstSampling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawCurve(t, "a"), drawCurve(t, "b")
		if a.Length() > 60 || b.Length() > 60 {
			t.Skip("an arc of a bulge near zero or over a long chord needs more samples than this")
		}
		const n = 4000
		least := math.Inf(1)
		for i := 0; i <= n; i++ {
			least = math.Min(least, b.DistTo(a.At(float64(i)/n)))
		}
		step := a.Length() / n / 2 // the true nearest point is this near to a sample
		got := geom.CurveDist(a, b)
		if got > least+meet || got < least-step-2*meet {
			t.Errorf("CurveDist(%v, %v) = %v, sampled %v (step %v)", a, b, got, least, step)
		}
	})
}

// Straight pieces against simplefeatures, an independent library.
func TestSegmentsAgainstSimplefeatures(t *testing.T) {
	line := func(c geom.Curve) sf.Geometry {
		return sf.NewLineString(sf.NewSequence([]float64{c.A.X, c.A.Y, c.B.X, c.B.Y}, sf.DimXY)).AsGeometry()
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawCurve(t, "a"), drawCurve(t, "b")
		a.Bulge, b.Bulge = 0, 0
		if a.A == a.B || b.A == b.B {
			t.Skip("a line of no length is no valid geometry to the library")
		}
		want, ok := sf.Distance(line(a), line(b))
		if !ok {
			t.Fatal("no distance")
		}
		// What lies within twice the accuracy counts as touching, 0 apart.
		if got := geom.CurveDist(a, b); math.Abs(got-want) > 2*meet {
			t.Errorf("CurveDist(%v, %v) = %v, simplefeatures %v", a, b, got, want)
		}
		if meets := len(geom.Intersections(a, b)) > 0; meets != (want == 0) && want > 2*meet {
			t.Errorf("Intersections meets: %v, simplefeatures distance %v", meets, want)
		}
	})
}

func TestParam(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCurve(t, "c")
		if c.A.Dist(c.B) < 1e-3 {
			t.Skip("no length")
		}
		want := rapid.Float64Range(0, 1).Draw(t, "t")
		if got := c.Param(c.At(want)); math.Abs(got-want) > 1e-9 {
			t.Errorf("Param(At(%v)) = %v on %v", want, got, c)
		}
	})
}
