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
