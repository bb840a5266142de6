package nest

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
)

func drawHull(t *rapid.T, name string) hull {
	var pts []geom.Point
	turn := geom.Place{Turn: geom.Deg(float64(rapid.SampledFrom([]int{0, 0, 18, 90, -18, 36}).Draw(t, name+" turn")))}
	for range rapid.IntRange(3, 8).Draw(t, name+" points") {
		p := geom.Pt(float64(rapid.IntRange(0, 40).Draw(t, name+" x")), float64(rapid.IntRange(0, 40).Draw(t, name+" y")))
		pts = append(pts, turn.Point(p))
	}
	h := hullOf(pts)
	if len(h) < 3 || math.Abs(geom.Polygon(h...).Area()) < 1 {
		t.Skip("flat")
	}
	return newHull(h)
}

// The sum by merging sides against the hull of all sums of two corners.
func TestMinkowskiSum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawHull(t, "a"), drawHull(t, "b")
		sum := a.grownBy(&b)
		var all []geom.Point
		for _, p := range a.pts {
			for _, q := range b.pts {
				all = append(all, p.Add(q))
			}
		}
		want := geom.Polygon(hullOf(all)...)
		if got := geom.Polygon(sum.pts...).Area(); math.Abs(got-want.Area()) > 1e-6 {
			t.Fatalf("area %g, want %g", got, want.Area())
		}
		for range 10 {
			y := rapid.Float64Range(sum.box.Min.Y+1e-3, sum.box.Max.Y-1e-3).Draw(t, "y")
			from, to := sum.across(y)
			for _, x := range []float64{from, to} {
				if d := want.DistTo(geom.Pt(x, y)); d > 1e-6 {
					t.Fatalf("at y %g the sum begins or ends at %g, %g from its edge", y, x, d)
				}
			}
			x := rapid.Float64Range(sum.box.Min.X+1e-3, sum.box.Max.X-1e-3).Draw(t, "x")
			low, high, ok := sum.upright(x)
			if !ok || want.DistTo(geom.Pt(x, low)) > 1e-6 || want.DistTo(geom.Pt(x, high)) > 1e-6 || high <= low {
				t.Fatalf("at x %g the sum runs from %g to %g", x, low, high)
			}
		}
	})
}

// The sides that rising rows of a bed cross, looked for from one row to the next,
// against those found in the whole sum.
func TestBanRows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawHull(t, "a"), drawHull(t, "b")
		at := geom.Pt(float64(rapid.IntRange(-50, 50).Draw(t, "x")), float64(rapid.IntRange(-50, 50).Draw(t, "y")))
		plain := a.grownBy(&b)
		m := &memory{}
		off := newBetween([]hull{a}, []hull{b}, m)
		on := newCluster(off, at, m)
		of, fast, ends := &off.sums[0], on.ban(0), on.boxOf(0)
		box := geom.EmptyBox()
		for _, p := range plain.pts {
			box = box.With(p)
		}
		if box != of.box || box != off.box {
			t.Fatalf("box %v, of the corners %v", of.box, box)
		}
		ys := rapid.SliceOfN(rapid.Float64Range(ends.Min.Y+2*fitTol, ends.Max.Y-2*fitTol), 1, 20).Draw(t, "rows")
		for _, p := range plain.pts { // rows as high as corners are the common ones
			if y := p.Y + at.Y; y > ends.Min.Y+fitTol && y < ends.Max.Y-fitTol {
				ys = append(ys, y)
			}
		}
		slices.Sort(ys)
		for i, y := range ys {
			from, to := plain.across(y - at.Y)
			if got := fast.ends(y, m); got != to+at.X {
				t.Fatalf("row %d at %g ends at %g, want %g", i, y, got, to+at.X)
			}
			if i%3 == 0 { // it is asked for less often
				if got := fast.begins(y, m); got != from+at.X {
					t.Fatalf("row %d at %g begins at %g, want %g", i, y, got, from+at.X)
				}
			}
		}
	})
}
