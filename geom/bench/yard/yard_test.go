package yard

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// sound holds a plan against the wood by itself: nothing overlaps, kerfs between,
// nothing in bad places, counts as stated.
func sound(t *testing.T, a Ask, p Plan) {
	t.Helper()
	const eps = 1e-6
	given, bought := make([]int, len(a.Pieces)), make([]int, len(a.Pieces))
	taken := 0.0
	type copyOf struct {
		board, copy int
		bought      bool
	}
	seen := map[copyOf]bool{}
	for _, s := range p.Boards {
		list := a.Rack
		if s.Bought {
			list = a.Buy
		}
		b := list[s.Board]
		taken += b.Length * b.Width * b.Thickness
		if k := (copyOf{s.Board, s.Copy, s.Bought}); seen[k] || !s.Bought && s.Copy > max(b.Count, 1) {
			t.Fatalf("board %+v is cut twice or is not there", k)
		} else {
			seen[k] = true
		}
		edge := -a.RipKerf
		for _, strip := range s.Strips {
			if strip.Across.Start < edge+a.RipKerf-eps || strip.Across.End > b.Width+eps {
				t.Fatalf("strip %+v of a board %g wide after one that ends at %g", strip.Across, b.Width, edge)
			}
			edge = strip.Across.End
			end := math.Inf(-1)
			for _, c := range strip.Cuts {
				one := a.Pieces[c.Piece]
				switch {
				case one.Thickness != b.Thickness || one.Wood != b.Wood || one.Width > strip.Across.End-strip.Across.Start+eps:
					t.Fatalf("piece %+v from a strip %+v of %+v", one, strip.Across, b)
				case math.Abs(c.End-c.Start-one.Length) > eps:
					t.Fatalf("cut %+v for a piece %g long", c, one.Length)
				case c.Start < a.EndTrim-eps || c.End > b.Length-a.EndTrim+eps || c.Start < end+a.Kerf-eps:
					t.Fatalf("cut %+v after %g of a board %g long", c, end, b.Length)
				}
				for _, bad := range b.Bad {
					if c.Start < bad.End-eps && c.End > bad.Start+eps {
						t.Fatalf("cut %+v in the bad place %+v", c, bad)
					}
				}
				end = c.End
				if s.Bought {
					bought[c.Piece]++
				} else {
					given[c.Piece]++
				}
			}
		}
	}
	for i, one := range a.Pieces {
		if given[i] != p.Given[i] || bought[i] != p.Bought[i] || given[i]+bought[i]+p.Short[i] != one.Count {
			t.Fatalf("piece %d: %d given, %d bought, %d short of %d; the plan says %d, %d", i, given[i], bought[i], p.Short[i], one.Count, p.Given[i], p.Bought[i])
		}
	}
	if math.Abs(taken-p.Taken) > 1e-6*taken+1 {
		t.Fatalf("taken %g, the boards are %g", p.Taken, taken)
	}
	if p.Bound > p.Volume*(1+1e-9)+1 {
		t.Fatalf("the bound %g is above what is taken, %g", p.Bound, p.Volume)
	}
}

// TestWideBoardsAreRipped: two strips of 60 side by side in a board of 124 leave
// nothing of it but the kerf, and a narrow board alone would not do.
func TestWideBoardsAreRipped(t *testing.T) {
	a := Ask{Rack: []Board{{Length: 1000, Width: 124, Thickness: 19, Count: 2}, {Length: 1000, Width: 100, Thickness: 19, Count: 2}},
		Pieces: []Piece{{Length: 190, Width: 60, Thickness: 19, Count: 10}, {Length: 240, Width: 100, Thickness: 19, Count: 4}}, Kerf: 3, RipKerf: 3}
	p, err := Make(a)
	if err != nil {
		t.Fatal(err)
	}
	sound(t, a, p)
	if want := 1000.0 * (124 + 100) * 19; !p.Exact || math.Abs(p.Volume-want) > 1 {
		t.Errorf("takes %g exact %v, one board of each width is %g", p.Volume, p.Exact, want)
	}
}

// TestBoughtBoards: what the rack lacks is bought, of the length that wastes least.
func TestBoughtBoards(t *testing.T) {
	a := Ask{Rack: []Board{{Length: 1000, Width: 100, Thickness: 19}},
		Buy:    []Board{{Length: 1000, Width: 100, Thickness: 19}, {Length: 640, Width: 100, Thickness: 19}},
		Pieces: []Piece{{Length: 300, Width: 100, Thickness: 19, Count: 5}, {Length: 100, Width: 50, Thickness: 12, Count: 2}}, Kerf: 3}
	p, err := Make(a)
	if err != nil {
		t.Fatal(err)
	}
	sound(t, a, p)
	if p.Given[0] != 3 || p.Bought[0] != 2 || p.Short[1] != 2 || p.Boards[1].Board != 1 {
		t.Errorf("%+v", p)
	}
}

// least is the least wood by trying everything, in code of its own: boards one
// after the other, each with any pieces that a strip and its runs hold.
func least(a Ask) float64 {
	var boards []Board
	for _, b := range a.Rack {
		for range max(b.Count, 1) {
			boards = append(boards, b)
		}
	}
	best := math.Inf(1)
	left := make([]int, len(a.Pieces))
	for i, p := range a.Pieces {
		left[i] = p.Count
	}
	var board func(k int, area float64)
	// cut lays pieces one by one, in strips one by one, from the left.
	var cut func(k int, area, edge, wide, at float64)
	cut = func(k int, area, edge, wide, at float64) {
		b := boards[k]
		board(k+1, area)
		for i, p := range a.Pieces {
			if left[i] == 0 {
				continue
			}
			left[i]--
			if p.Width <= wide+1e-9 && at+p.Length <= b.Length-a.EndTrim+1e-9 {
				cut(k, area, edge, wide, at+p.Length+a.Kerf)
			}
			for _, q := range a.Pieces { // a new strip, as wide as any piece
				start := edge
				if start > 0 {
					start += a.RipKerf
				}
				if q.Width >= p.Width && start+q.Width <= b.Width+1e-9 && p.Length <= b.Length-2*a.EndTrim+1e-9 {
					cut(k, area, start+q.Width, q.Width, a.EndTrim+p.Length+a.Kerf)
				}
			}
			left[i]++
		}
	}
	board = func(k int, area float64) {
		n := 0
		for _, l := range left {
			n += l
		}
		if n == 0 {
			best = min(best, area)
			return
		}
		if k == len(boards) || area >= best {
			return
		}
		board(k+1, area)
		cut(k, area+boards[k].Length*boards[k].Width, 0, 0, 0)
	}
	board(0, 0)
	return best
}

// TestSmallOrdersAreExact holds plans that claim to be exact against all ways.
func TestSmallOrdersAreExact(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 7))
	exact := 0
	for n := range 60 {
		a := Ask{Kerf: 3, RipKerf: 4, EndTrim: float64(5 * r.IntN(3))}
		for range 2 + r.IntN(2) {
			a.Rack = append(a.Rack, Board{Length: float64(400 + 50*r.IntN(8)), Width: float64(60 + 10*r.IntN(9)), Thickness: 19})
		}
		for range 1 + r.IntN(3) {
			a.Pieces = append(a.Pieces, Piece{Length: float64(120 + 20*r.IntN(6)), Width: float64(40 + 10*r.IntN(5)), Thickness: 19, Count: 1 + r.IntN(2)})
		}
		p, err := Make(a)
		if err != nil {
			t.Fatal(err)
		}
		sound(t, a, p)
		want := least(a) * 19
		all := true
		for _, s := range p.Short {
			all = all && s == 0
		}
		switch {
		case p.Exact && all && math.Abs(p.Volume-want) > 1:
			t.Errorf("%d: takes %g and claims to be exact, the least is %g\n%+v", n, p.Volume, want, a)
		case all && p.Volume < want-1:
			t.Errorf("%d: takes %g, less than the least %g", n, p.Volume, want)
		case !all && !math.IsInf(want, 1):
			t.Errorf("%d: leaves pieces uncut that the boards give\n%+v", n, a)
		}
		if p.Exact && all {
			exact++
		}
	}
	if exact < 20 {
		t.Errorf("only %d plans claim to be exact", exact)
	}
}

// TestThousandStars plans an order of ten sizes in less than a second.
func TestThousandStars(t *testing.T) {
	a := Ask{Kerf: 2.4, RipKerf: 3, EndTrim: 10}
	for k := range 10 {
		w := 50 + 11*float64(k)
		a.Pieces = append(a.Pieces, Piece{Length: math.Ceil(2.25 * w), Width: w, Thickness: 19, Count: 505})
	}
	for _, b := range [][2]float64{{2400, 150}, {3000, 200}, {1800, 120}} {
		a.Buy = append(a.Buy, Board{Length: b[0], Width: b[1], Thickness: 19})
	}
	a.Rack = []Board{{Length: 2000, Width: 160, Thickness: 19, Count: 40, Bad: []Span{{700, 760}}}}
	start := time.Now()
	p, err := Make(a)
	if err != nil {
		t.Fatal(err)
	}
	sound(t, a, p)
	t.Logf("%v, %d boards, %.1f %% waste, bound %.1f %% below", time.Since(start), len(p.Boards), 100*(1-p.Used/p.Taken), 100*(1-p.Bound/p.Volume))
	if over := p.Volume/p.Bound - 1; over > 0.05 {
		t.Errorf("takes %.1f %% more than the bound", 100*over)
	}
}
