package planner

import (
	"math"
	"slices"

	"starwright/geom"
)

// broom is a disc on its way over the squares. While it does not turn back in Y, what
// it sweeps of a row hangs together, so that of each row is kept from where to where
// that reaches, and the squares are taken when the disc turns or rests. The chords of
// an arc are so short that to take the squares of each took twice as long.
type broom struct {
	at         geom.Point
	r          float64
	moves      bool
	rose, fell bool
	rows       []reach // which it has met since it last rested
	low, high  int     // the first and the last of them
}

// reach is from where to where a row is swept.
type reach struct{ left, right float64 }

// nowhere is what a row is before it is swept.
var nowhere = reach{math.Inf(1), math.Inf(-1)}

// sweep takes away the squares whose middles lie within r of a line, once the disc
// rests: in each row from the leftmost to the rightmost place that the discs at its
// ends and the edges between them reach.
func (g *waste) sweep(a, b geom.Point, r float64) {
	s := &g.broom
	rises, falls := b.Y > a.Y, b.Y < a.Y
	if !s.moves || s.at != a || s.r != r || rises && s.fell || falls && s.rose {
		g.rest()
		for len(s.rows) < g.h {
			s.rows = append(slices.Grow(s.rows, g.h-len(s.rows)), nowhere)
		}
		s.moves, s.r, s.low, s.high = true, r, g.h, -1
		g.disc(a)
	}
	g.disc(b)
	if rises || falls {
		side := b.Sub(a).Unit().Left().Mul(r)
		g.edge(a, b, side)
		g.edge(a, b, side.Mul(-1))
	}
	s.at, s.rose, s.fell = b, s.rose || rises, s.fell || falls
}

// disc sweeps what the disc covers at a place.
func (g *waste) disc(o geom.Point) {
	s, r, cell := &g.broom, g.broom.r, g.cell
	low, high := max(0, int((o.Y-r)/cell)), min(g.h-1, int((o.Y+r)/cell))
	s.low, s.high = min(s.low, low), max(s.high, high)
	for row := low; row <= high; row++ {
		y := (float64(row) + 0.5) * cell
		if d := r*r - (y-o.Y)*(y-o.Y); d > 0 {
			half := math.Sqrt(d)
			s.rows[row].add(o.X-half, o.X+half)
		}
	}
}

// edge sweeps what the disc's side draws along a line.
func (g *waste) edge(a, b, side geom.Point) {
	s, cell := &g.broom, g.cell
	perY, along := 1/(b.Y-a.Y), b.X-a.X
	low, high := max(0, int((min(a.Y, b.Y)+side.Y)/cell-0.5)), min(g.h-1, int((max(a.Y, b.Y)+side.Y)/cell))
	for row := low; row <= high; row++ {
		y := (float64(row) + 0.5) * cell
		if t := (y - a.Y - side.Y) * perY; t >= 0 && t <= 1 {
			x := a.X + side.X + t*along
			s.rows[row].add(x, x)
			s.low, s.high = min(s.low, row), max(s.high, row)
		}
	}
}

func (r *reach) add(left, right float64) {
	if left < r.left {
		r.left = left
	}
	if right > r.right {
		r.right = right
	}
}

// rest takes the squares that were swept.
func (g *waste) rest() {
	s := &g.broom
	if !s.moves {
		return
	}
	for row := s.low; row <= s.high; row++ {
		if one := s.rows[row]; one.left <= one.right {
			g.take(row, one.left, one.right)
			s.rows[row] = nowhere
		}
	}
	s.moves, s.rose, s.fell = false, false, false
}

// take takes away the squares of a row whose middles lie from left to right.
func (g *waste) take(row int, left, right float64) {
	// The next whole numbers up and down.
	low, high := left/g.cell-0.5, right/g.cell+0.5
	from, to := int(low), int(high)
	if float64(from) < low {
		from++
	}
	if float64(to) > high {
		to--
	}
	if from, to = max(0, from), min(g.w, to); from < to {
		g.squares.take(row, from, to)
		if from+1 < to {
			g.joins.take(row, from+1, to)
		}
	}
}
