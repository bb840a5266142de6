package geom_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
)

// TestBoundsAgainstSampling holds the box of a curve, flat and round ones
// alike, against many points along it.
func TestBoundsAgainstSampling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(lo, hi float64, name string) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		c := geom.Curve{A: geom.Pt(f(-100, 100, "ax"), f(-100, 100, "ay")), B: geom.Pt(f(-100, 100, "bx"), f(-100, 100, "by"))}
		c.Bulge = f(-3, 3, "bulge") * rapid.SampledFrom([]float64{1, 0.01, 1e-4, 1e-8}).Draw(t, "scale")
		const n = 2000
		got, want := c.Bounds(), geom.EmptyBox()
		for i := range n + 1 {
			want = want.With(c.At(float64(i) / n))
		}
		// Between two samples an arc rises by its step's sagitta at most.
		const rounding = 1e-9
		slack := rounding + c.Length()*math.Abs(float64(c.Sweep()))/(8*n*n)*float64(2)
		if !got.Grow(rounding).Holds(want) || !want.Grow(slack).Holds(got) {
			t.Fatalf("box %v, sampled %v (slack %g)", got, want, slack)
		}
	})
}

// Places by a path are those by the curve, and sine and cosine at once those one by
// one, to the last bit.
func TestPathIsItsCurve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.Float64Range(-500, 500)
		c := geom.Curve{A: geom.Pt(at.Draw(t, "x"), at.Draw(t, "y")), B: geom.Pt(at.Draw(t, "to x"), at.Draw(t, "to y")),
			Bulge: rapid.SampledFrom([]float64{0, 0.01, -0.01, 0.4, -1, 2}).Draw(t, "bulge")}
		path := c.Path()
		for _, part := range []float64{0, 1, rapid.Float64Range(0, 1).Draw(t, "part")} {
			if got, want := path.At(part), c.At(part); got != want {
				t.Fatalf("%v at %g: %v, want %v", c, part, got, want)
			}
		}
		a := geom.Angle(rapid.Float64Range(-20, 20).Draw(t, "angle"))
		if sin, cos := a.SinCos(); sin != a.Sin() || cos != a.Cos() {
			t.Fatalf("%g: %g and %g, want %g and %g", a, sin, cos, a.Sin(), a.Cos())
		}
	})
}
