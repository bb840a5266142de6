package planner_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/planner"
)

// drawOutline draws a closed outline round the origin that does not cross
// itself: corners at rising directions, every side a line or a shallow arc.
func drawOutline(t *rapid.T) geom.Contour {
	n := rapid.IntRange(3, 9).Draw(t, "corners")
	c := make(geom.Contour, n)
	for i := range c {
		a := geom.Deg(360 * (float64(i) + rapid.Float64Range(-0.3, 0.3).Draw(t, "turn")) / float64(n))
		c[i].Point = geom.Polar(rapid.Float64Range(20, 60).Draw(t, "reach"), a)
	}
	for i := range c {
		if rapid.IntRange(0, 2).Draw(t, "arc") == 0 {
			c[i].Bulge = rapid.SampledFrom([]float64{-1, 1}).Draw(t, "side") * rapid.Float64Range(0.001, 0.15).Draw(t, "bulge")
		}
	}
	if !simple(c) {
		t.Skip("crosses itself")
	}
	return c
}

// simple reports whether no two sides meet but neighbours at their corner.
func simple(c geom.Contour) bool {
	cs := c.Curves()
	for i := range cs {
		for j := i + 1; j < len(cs); j++ {
			most := 0
			if j == i+1 || i == 0 && j == len(cs)-1 {
				most = 1
			}
			if len(geom.Intersections(cs[i], cs[j])) > most {
				return false
			}
		}
	}
	return true
}

// inWay reports whether p lies in the band that the way goes round: within the
// loop round the whole and in no loop that lies in a bay.
func inWay(w planner.Way, p geom.Point) bool {
	in := false
	for _, l := range w.Loops {
		if l.Contains(p) {
			in = !in
		}
	}
	return in
}

// The way is right where it is exactly the edge of what the disc sweeps. The
// slow twin asks every point of a grid by its distance alone.
func checkWay(t *rapid.T, c geom.Contour, w planner.Way, r float64, out bool) {
	const tol = 1e-6 // mm, as promised
	for _, l := range w.Loops {
		if len(l) == 0 {
			t.Fatal("empty loop")
		}
		for _, e := range l.Curves() {
			for k := 0; k <= 8; k++ {
				p := e.At(float64(k) / 8)
				if d := c.DistTo(p); math.Abs(d-r) > 2*tol {
					t.Fatalf("way at %v is %.9f from the outline, want %g", p, d, r)
				}
			}
		}
	}
	b := c.Bounds().Grow(r + 3)
	for x := b.Min.X; x < b.Max.X; x += 3.1 {
		for y := b.Min.Y; y < b.Max.Y; y += 3.3 {
			p := geom.Pt(x, y)
			d, in := c.DistTo(p), c.Contains(p)
			if math.Abs(d-r) < 1e-3 || d < 1e-3 {
				continue
			}
			want := in && d > r // inside: what the centre may enter
			if out {
				want = in || d < r // outside: what it may not
			}
			if got := inWay(w, p); got != want {
				t.Fatalf("point %v, %.6f from the outline (inside %v): within the way %v, want %v", p, d, in, got, want)
			}
		}
	}
}

func TestOffsetOutProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawOutline(t)
		r := rapid.Float64Range(0.05, 15).Draw(t, "r")
		w, err := planner.OffsetOut(c, r)
		if err != nil {
			t.Fatal(err)
		}
		if w.Loops[0].Area() <= 0 {
			t.Fatal("the way round the outside does not run counter-clockwise")
		}
		checkWay(t, c, w, r, true)
		checkMissed(t, c, w, r)
	})
}

func TestOffsetInProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawOutline(t)
		r := rapid.Float64Range(0.05, 25).Draw(t, "r")
		w, err := planner.OffsetIn(c, r)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range w.Loops {
			if l.Area() >= 0 {
				t.Fatal("the way inside does not run clockwise")
			}
		}
		checkWay(t, c, w, r, false)
		checkMissed(t, c, w, r)
	})
}

// checkMissed asks sampled places of the outline by distance: what the disc
// does not touch must be said, and only that.
func checkMissed(t *rapid.T, c geom.Contour, w planner.Way, r float64) {
	worst := 0.0
	for _, e := range c.Curves() {
		for k := 0; k < 40; k++ {
			p := e.At(float64(k) / 40)
			d := math.Inf(1)
			for _, l := range w.Loops {
				d = math.Min(d, l.DistTo(p))
			}
			worst = math.Max(worst, d-r)
		}
	}
	said := 0.0
	for _, m := range w.Missed {
		said = math.Max(said, m.By)
	}
	const reach = 0.005 // mm, what a corner may keep before it counts
	if said > 0 && len(w.Loops) > 0 && worst > said+0.5 || said == 0 && worst > reach*1.01 {
		t.Fatalf("out of reach by %.4f, said %.4f", worst, said)
	}
}

func TestOffsetKnown(t *testing.T) {
	square := geom.Rect(geom.Box{Max: geom.Pt(40, 40)})
	tests := []struct {
		name   string
		c      geom.Contour
		r      float64
		out    bool
		loops  int
		area   float64 // of the first loop, signed, mm²
		missed int
	}{
		// Steiner's formula for convex outlines: A + P r + pi r².
		{"square, outside", square, 3, true, 1, 1600 + 160*3 + math.Pi*9, 0},
		{"circle, outside", geom.Circle(geom.Pt(3, 4), 10), 3, true, 1, math.Pi * 169, 0},
		{"circle, inside", geom.Circle(geom.Pt(3, 4), 10), 3, false, 1, -math.Pi * 49, 0},
		{"circle too small", geom.Circle(geom.Pt(3, 4), 2), 3, false, 0, 0, 1},
		// A sharp inside corner keeps r(√2-1) of wood; four corners.
		{"square, inside", square, 3, false, 1, -34 * 34, 4},
		{"rounded as the cutter, inside", geom.RoundedRect(geom.Box{Max: geom.Pt(40, 30)}, 3), 3, false, 1, -34 * 24, 0},
		{"slot as wide as the cutter", geom.RoundedRect(geom.Box{Max: geom.Pt(40, 6)}, 3), 3, false, 1, 0, 0},
		{"slot a little wider", geom.RoundedRect(geom.Box{Max: geom.Pt(40, 6.2)}, 3.1), 3, false, 1, -(33.8*0.2 + math.Pi*0.01), 0},
		// Two rooms joined by a neck of 4 mm that a 6 mm cutter cannot pass:
		// the neck's two sides and the rooms' eight sharp corners. Into the
		// neck's mouth it pokes by 2·∫(3-√(9-u²))du, u from 0 to 2:
		// 2(6 - √5 - 9/2·asin(2/3)) = 0.960315 mm².
		{"neck, inside", geom.Polygon(geom.Pt(0, 0), geom.Pt(20, 0), geom.Pt(20, 8), geom.Pt(30, 8), geom.Pt(30, 0), geom.Pt(50, 0),
			geom.Pt(50, 20), geom.Pt(30, 20), geom.Pt(30, 12), geom.Pt(20, 12), geom.Pt(20, 20), geom.Pt(0, 20)), 3, false, 2, -14*14 - 0.960315, 10},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := planner.OffsetIn
			if tt.out {
				f = planner.OffsetOut
			}
			w, err := f(tt.c, tt.r)
			if err != nil {
				t.Fatal(err)
			}
			if len(w.Loops) != tt.loops || len(w.Missed) != tt.missed {
				t.Fatalf("%d loops, %d missed %v; want %d, %d", len(w.Loops), len(w.Missed), w.Missed, tt.loops, tt.missed)
			}
			if tt.loops > 0 && math.Abs(w.Loops[0].Area()-tt.area) > 1e-3 {
				t.Errorf("area %.6f, want %.6f", w.Loops[0].Area(), tt.area)
			}
		})
	}
}

// A seat with a round relief in its corner: reached by the cutter it was made
// for, whether the relief is as wide as the cutter or wider; a larger cutter
// has a message, with the place and the largest that passes.
func TestOffsetRelief(t *testing.T) {
	// An L with its inside corner at (20, 20), relieved by a circle of radius
	// ρ about a centre ρ/√2 out from both sides, so that it passes the corner.
	seat := func(rho float64) geom.Contour {
		d := rho * math.Sqrt2 // chord of the circle along each side
		return geom.Contour{
			{Point: geom.Pt(0, 0)}, {Point: geom.Pt(60, 0)}, {Point: geom.Pt(60, 20)},
			{Point: geom.Pt(20+d, 20), Bulge: -math.Tan(math.Pi / 4)}, // half a turn, clockwise
			{Point: geom.Pt(20, 20+d)}, {Point: geom.Pt(20, 60)}, {Point: geom.Pt(0, 60)},
		}
	}
	for _, tt := range []struct {
		name   string
		rho, r float64
		missed bool
	}{
		{"exactly the cutter", 3.175, 3.175, false},
		{"exactly, with rounding", 3.175 + 1e-12, 3.175, false},
		{"exactly, with rounding the other way", 3.175 - 1e-12, 3.175, false},
		{"a hair wider", 3.18, 3.175, false},
		{"a micron wider", 3.176, 3.175, false},
		// Two points 2ρ apart hold the disc's centre √(r²-ρ²) = 0.08 mm off.
		{"a micron narrower", 3.174, 3.175, true},
		{"wider", 4, 3.175, false},
		{"too narrow", 2.5, 3.175, true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := seat(tt.rho)
			w, err := planner.OffsetOut(c, tt.r)
			if err != nil {
				t.Fatal(err)
			}
			if got := len(w.Missed) > 0; got != tt.missed {
				t.Fatalf("missed %v, want some: %v", w.Missed, tt.missed)
			}
			if len(w.Loops) != 1 {
				t.Fatalf("%d loops", len(w.Loops))
			}
			if tt.missed {
				if most := planner.LargestOut(c, tt.r); math.Abs(most-tt.rho) > 0.02 {
					t.Errorf("largest radius %g, want about %g", most, tt.rho)
				}
			}
		})
	}
}

func TestKerfOutline(t *testing.T) {
	p := toolpath.Part{Name: "plate", Outline: geom.Rect(geom.Box{Max: geom.Pt(50, 30)}),
		Holes: []geom.Contour{geom.Circle(geom.Pt(25, 15), 5), geom.Rect(geom.Box{Min: geom.Pt(5, 5), Max: geom.Pt(15, 25)})}}
	k, err := planner.KerfOutline(p, 0.3)
	if err != nil {
		t.Fatal(err)
	}
	// Half the kerf on every side: 0.15 mm.
	if b := k.Outline.Bounds(); math.Abs(b.W()-50.3) > 1e-6 || math.Abs(b.H()-30.3) > 1e-6 {
		t.Errorf("outline %g by %g, want 50.3 by 30.3", b.W(), b.H())
	}
	if b := k.Holes[0].Bounds(); math.Abs(b.W()-9.7) > 1e-6 {
		t.Errorf("hole %g wide, want 9.7", b.W())
	}
	if b := k.Holes[1].Bounds(); math.Abs(b.W()-9.7) > 1e-6 || math.Abs(b.H()-19.7) > 1e-6 {
		t.Errorf("window %g by %g, want 9.7 by 19.7", b.W(), b.H())
	}
	if _, err := planner.KerfOutline(p, 12); err == nil {
		t.Error("a hole narrower than the kerf was not refused")
	}
	if _, err := planner.KerfOutline(p, math.NaN()); err == nil {
		t.Error("a kerf that is no number was not refused")
	}
}
