package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A slot with half-round ends: inside is within r of the middle line, by the
// definition of the shape. Asked on the lines where the chords of its arcs
// and the arcs' centres lie, too.
func TestRoundedRectContains(t *testing.T) {
	const r = 3.175
	for _, y := range []float64{9.5, 39.5, 0.1} {
		c := RoundedRect(Box{Pt(18.8677, y-r), Pt(84.974, y+r)}, r)
		mid := Curve{A: Pt(18.8677+r, y), B: Pt(84.974-r, y)}
		for _, x := range []float64{18.8, 18.9, mid.A.X, 50, mid.B.X, 84.9, 85} {
			for _, dy := range []float64{-3.2, -3.1, 0, 1e-12, 3.1, 3.2} {
				p := Pt(x, y+dy)
				d := mid.DistTo(p)
				if got, want := c.Contains(p), d < r; got != want {
					t.Errorf("y %g: Contains(%v) = %v, %g from the middle line", y, p, got, d)
				}
				if got := c.DistTo(p); math.Abs(got-math.Abs(r-d)) > 1e-9 {
					t.Errorf("y %g: DistTo(%v) = %g, want %g", y, p, got, math.Abs(r-d))
				}
			}
		}
	}
}

// Area of a slot: rectangle and circle, elementary.
func TestRoundedRectArea(t *testing.T) {
	c := RoundedRect(Box{Pt(0, 0), Pt(100, 10)}, 5)
	if want := 90.0*10 + math.Pi*25; math.Abs(c.Area()-want) > 1e-9 {
		t.Errorf("area %g, want %g", c.Area(), want)
	}
	if n := len(c); n != 6 {
		t.Errorf("%d vertices, want 6: two sides and four quarter circles", n)
	}
}

// Promises of the comments: reversal turns the sign of the area and keeps the
// rest; placing keeps lengths; flattening stays within its tolerance.
func TestContourProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		f := func(lo, hi float64, name string) float64 { return rapid.Float64Range(lo, hi).Draw(rt, name) }
		w, h := f(1, 300, "w"), f(1, 300, "h")
		o := Pt(f(-500, 500, "x"), f(-500, 500, "y"))
		c := RoundedRect(Box{o, o.Add(Pt(w, h))}, f(0.01, 0.5, "r")*math.Min(w, h))
		back := c.Reversed()
		if math.Abs(c.Area()+back.Area()) > 1e-9*math.Abs(c.Area()) {
			rt.Errorf("area %g, reversed %g", c.Area(), back.Area())
		}
		p := Place{rapid.Bool().Draw(rt, "mirror"), Angle(f(-7, 7, "turn")), Pt(f(-9, 9, "dx"), f(-9, 9, "dy"))}
		moved := p.Contour(c)
		if math.Abs(moved.Length()-c.Length()) > 1e-9*c.Length() {
			rt.Errorf("length %g, placed %g", c.Length(), moved.Length())
		}
		for _, q := range c.Flatten(0.01) {
			if d := c.DistTo(q); d > 1e-9 {
				rt.Errorf("flattened point %v lies %g off the contour", q, d)
			}
		}
		q := o.Add(Pt(f(-0.2, 1.2, "u")*w, f(-0.2, 1.2, "v")*h))
		if c.DistTo(q) > 1e-9 && c.Contains(q) != back.Contains(q) {
			rt.Errorf("%v is inside one way round and outside the other", q)
		}
	})
}
