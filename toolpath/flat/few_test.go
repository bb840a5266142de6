package flat_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/flat"
)

// Four kites of 70 mm by 60 mm, O 30 mm and tip 40 mm from the valleys, on a board
// of 100 mm: 10 mm of margin leave 20 mm to shift them across. By pencil, spacing
// 5 mm:
//
// The tip's edges fall 3 in 4. One kite low with its tip right, the next high with
// its tip left: their edges are parallel, the first on 3x + 4y = 3*70 + 4*30 = 330,
// the second, moved right by X, on 3(x-X) + 4y = 4*50, so 5 mm apart at
// X = (330 - 200 + 5*5)/3 = 155/3 mm. The next, low again, lies with its O beside
// the second's: both facets rise 1 in 1, and are 5 mm apart at 70 - 20 + 5√2 mm. So
//
//	head to tail  20 + 70 + 155/3 + 50 + 5√2 + 155/3 = 250.40 mm
//	all one way, high and low in turns: each tip 5 mm from the next one's facet,
//	              20 + 70 + 3 (50 + 5√2) = 261.21 mm
//	all one way in line: 20 + 70 + 3 * 75 = 315 mm.
func TestHeadToTail(t *testing.T) {
	c := geom.Polygon(geom.Pt(0, 0), geom.Pt(30, -30), geom.Pt(70, 0), geom.Pt(30, 30))
	o := flat.Options{Margin: 10, Spacing: 5, Cutter: 3}
	r := lay(t, items(4, c), []flat.Board{{Width: 100, Length: 1000}}, o)
	if want := 90 + 310./3 + 50 + 5*math.Sqrt2; len(r.Panels) != 1 || math.Abs(r.Panels[0].Length-want) > tol {
		t.Fatalf("%+v, want one panel of %g", r.Panels, want)
	}
	// A board that just holds them has no room across: in line.
	r = lay(t, items(4, c), []flat.Board{{Width: 80, Length: 1000}}, o)
	if want := 315.; math.Abs(r.Panels[0].Length-want) > tol {
		t.Fatalf("%g long in line, want %g", r.Panels[0].Length, want)
	}
	// Of a star of five points, 60 mm wide and 134 mm long, nine lie on a board of
	// 200 mm in rows that reach into each other. In rows side by side, two of them
	// as 200 = 2*10 + 2*60 + 60, they take 5 times 133.6 mm, 4 times 5 mm and 20 mm.
	r = lay(t, items(9, kite(60, 72, 36)), []flat.Board{{Width: 200, Length: 1000}}, o)
	if rows := 5*133.6 + 4*5 + 20; len(r.Panels) != 1 || r.Panels[0].Length > 0.75*rows {
		t.Fatalf("%g long, side by side %g", r.Panels[0].Length, rows)
	}
}

// TestFewAreShortest holds panels of a few parts on a narrow board against all
// orders, turnings and sides of the board, tried one by one with distances of the
// true outlines.
func TestFewAreShortest(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	for n := range 40 {
		o := flat.Options{Margin: 8, Spacing: 4 + 4*r.Float64(), Cutter: 3}
		var list []flat.Item
		widest, left := 0.0, 2+r.IntN(3)
		for left > 0 {
			w := 40 + 40*r.Float64()
			count := 1 + r.IntN(left)
			left -= count
			widest = math.Max(widest, w)
			list = append(list, flat.Item{Part: toolpath.Part{Name: fmt.Sprint(w), Outline: kite(w, 60+30*r.Float64(), 30+30*r.Float64())}, Count: count})
		}
		board := flat.Board{Width: widest + 2*o.Margin + 30*r.Float64(), Length: 3000}
		got := lay(t, list, []flat.Board{board}, o)
		want := least(list, board.Width, o)
		if len(got.Panels) != 1 || math.Abs(got.Panels[0].Length-want) > 1e-4 {
			t.Errorf("%d: %d panels, the first %g long; the best order takes %g\n%+v", n, len(got.Panels), got.Panels[0].Length, want, list)
		}
	}
}

// lying is an outline where it lies across the board, its box's left side at 0.
type lying struct {
	item int
	c    geom.Contour
	w    float64
}

// least tries everything.
func least(list []flat.Item, width float64, o flat.Options) float64 {
	var ways []lying
	for i, it := range list {
		for _, turn := range []geom.Angle{0, 180 * geom.Degree} {
			c := geom.Place{Turn: turn}.Contour(it.Part.Outline)
			b := c.Bounds()
			for _, y := range []float64{o.Margin, width - o.Margin - b.H()} {
				c := geom.Place{Move: geom.Pt(-b.Min.X, y-b.Min.Y)}.Contour(c)
				ways = append(ways, lying{i, c, b.W()})
			}
		}
	}
	away := make([][]float64, len(ways))
	for a := range ways {
		away[a] = make([]float64, len(ways))
		for b := range ways {
			away[a][b] = beside(ways[a], ways[b], o.Spacing)
		}
	}
	left := make([]int, len(list))
	n := 0
	for i, it := range list {
		left[i] = it.Count
		n += it.Count
	}
	best := math.Inf(1)
	var way []int
	var at []float64
	var next func(end float64)
	next = func(end float64) {
		if len(way) == n {
			best = math.Min(best, end+o.Margin)
			return
		}
		for k, l := range ways {
			if left[l.item] == 0 {
				continue
			}
			x := o.Margin
			for i, a := range way {
				x = math.Max(x, at[i]+away[a][k])
			}
			left[l.item]--
			way, at = append(way, k), append(at, x)
			next(math.Max(end, x+l.w))
			way, at = way[:len(way)-1], at[:len(at)-1]
			left[l.item]++
		}
	}
	next(0)
	return best
}

// beside returns how far right of a b lies when the two are just far enough apart,
// found by halving.
func beside(a, b lying, apartBy float64) float64 {
	moved := func(x float64) float64 {
		return apart(a.c, geom.Place{Move: geom.Pt(x, 0)}.Contour(b.c))
	}
	lo, hi := -b.w-apartBy, a.w+apartBy+1
	// The places that are too near are one stretch, since kites are convex: look
	// for one of them from the right, then for the right end.
	near := math.NaN()
	for x := hi; x >= lo && math.IsNaN(near); x-- {
		if moved(x) < apartBy {
			near = x
		}
	}
	if math.IsNaN(near) {
		return math.Inf(-1)
	}
	for range 40 {
		if mid := (near + hi) / 2; moved(mid) < apartBy {
			near = mid
		} else {
			hi = mid
		}
	}
	return hi
}
