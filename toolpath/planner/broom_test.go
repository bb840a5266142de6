package planner

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
)

// The plain way to sweep: each line for itself.
func plainSweep(g *waste, a, b geom.Point, r float64) {
	side := b.Sub(a).Unit().Left().Mul(r)
	for row := range g.h {
		y := (float64(row) + 0.5) * g.cell
		one := nowhere
		for _, o := range []geom.Point{a, b} {
			if d := r*r - (y-o.Y)*(y-o.Y); d > 0 {
				one.add(o.X-math.Sqrt(d), o.X+math.Sqrt(d))
			}
		}
		for _, e := range []geom.Point{side, side.Mul(-1)} {
			if t := (y - a.Y - e.Y) / (b.Y - a.Y); t >= 0 && t <= 1 {
				x := a.X + e.X + t*(b.X-a.X)
				one.add(x, x)
			}
		}
		for x := range g.w {
			if middle := (float64(x) + 0.5) * g.cell; one.left <= middle && middle <= one.right {
				g.squares.take(row, x, x+1)
			}
		}
	}
}

// A broom against sweeping line by line, over ways that rise, fall, run level, turn
// back and leave the sheet.
func TestBroom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var fast, plain waste
		fast.cell = rapid.Float64Range(0.4, 1.5).Draw(t, "cell")
		plain.cell = fast.cell
		fast.lay(70, 50)
		plain.lay(70, 50)
		r := rapid.Float64Range(0.5, 6).Draw(t, "radius")
		for range rapid.IntRange(1, 3).Draw(t, "ways") {
			at := geom.Pt(rapid.Float64Range(-9, 90).Draw(t, "x"), rapid.Float64Range(-9, 70).Draw(t, "y"))
			for range rapid.IntRange(1, 12).Draw(t, "lines") {
				far := rapid.SampledFrom([]float64{0.3, 2, 30}).Draw(t, "far")
				to := at.Add(geom.Pt(rapid.Float64Range(-far, far).Draw(t, "on x"), rapid.SampledFrom([]float64{0, 1, 1, 1, -1}).Draw(t, "on y")*rapid.Float64Range(0, far).Draw(t, "by")))
				fast.sweep(at, to, r)
				plainSweep(&plain, at, to, r)
				at = to
			}
			if rapid.Bool().Draw(t, "rests") {
				fast.rest()
			}
		}
		fast.rest()
		if !slices.Equal(fast.taken, plain.taken) {
			for y := range fast.h {
				if !slices.Equal(fast.row(y), plain.row(y)) {
					t.Fatalf("row %d: %064b, line by line %064b", y, fast.row(y), plain.row(y))
				}
			}
		}
	})
}
