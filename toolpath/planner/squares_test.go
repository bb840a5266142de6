package planner

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
)

// Squares in bits against squares in a plain table: what is taken of them, and what
// then hangs together, found by filling from each square.
func TestSquares(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := &waste{}
		g.squares.lay(200, 5) // what an earlier sheet has left
		g.squares.take(2, 3, 190)
		w, h := rapid.IntRange(1, 150).Draw(t, "wide"), rapid.IntRange(1, 12).Draw(t, "high")
		g.squares.lay(w, h)
		table := make([][]bool, h)
		for y := range table {
			table[y] = make([]bool, w)
		}
		for range rapid.IntRange(0, 40).Draw(t, "cuts") {
			y, from := rapid.IntRange(0, h-1).Draw(t, "y"), rapid.IntRange(0, w-1).Draw(t, "from")
			to := rapid.IntRange(from+1, w).Draw(t, "to")
			g.squares.take(y, from, to)
			for x := from; x < to; x++ {
				table[y][x] = true
			}
		}
		for range 2 { // the memory of the first look serves the second
			if got, want := g.pieces(), filled(table, w, h); !slices.Equal(got, want) {
				t.Fatalf("pieces %v, want %v", got, want)
			}
		}
	})
}

// filled finds the pieces of squares that stand, in the order of their first squares.
func filled(taken [][]bool, w, h int) []hung {
	var out []hung
	seen := make([][]bool, h)
	for y := range seen {
		seen[y] = slices.Clone(taken[y])
	}
	for y := range h {
		for x := range w {
			if seen[y][x] {
				continue
			}
			one := hung{0, int32(x), int32(y), int32(x), int32(x), int32(y)}
			for left := [][2]int{{x, y}}; len(left) > 0; {
				at := left[0]
				left = left[1:]
				if at[0] < 0 || at[1] < 0 || at[0] >= w || at[1] >= h || seen[at[1]][at[0]] {
					continue
				}
				seen[at[1]][at[0]] = true
				px, py := int32(at[0]), int32(at[1])
				one = hung{one.squares + 1, one.x, one.y, min(one.from, px), max(one.to, px+1), max(one.top, py)}
				left = append(left, [2]int{at[0] + 1, at[1]}, [2]int{at[0] - 1, at[1]}, [2]int{at[0], at[1] + 1}, [2]int{at[0], at[1] - 1})
			}
			out = append(out, one)
		}
	}
	return out
}

// A waste goes back to what it was when it was marked.
func TestWasteBack(t *testing.T) {
	g := &waste{cell: 1}
	g.lay(40, 30)
	g.cut(geom.Curve{A: geom.Pt(5, 5), B: geom.Pt(30, 20)}, 2, nil, 0)
	g.rest()
	g.done[0] = 1
	was, joins := slices.Clone(g.taken), slices.Clone(g.joins.taken)
	g.mark()
	g.cut(geom.Curve{A: geom.Pt(5, 25), B: geom.Pt(30, 3), Bulge: 0.5}, 3, nil, 0)
	g.rest()
	g.done[0] = 2
	if slices.Equal(was, g.taken) {
		t.Fatal("the second cut took nothing")
	}
	if g.back(); !slices.Equal(was, g.taken) || !slices.Equal(joins, g.joins.taken) || g.done[0] != 1 {
		t.Error("not as it was marked")
	}
}

// An arc that lies beside all free places casts no shadow on them.
func TestBeside(t *testing.T) {
	const keep, low, high = 3.0, -6.0, 9.0
	halves := func(c geom.Curve) []span { return []span{{0, c.Length() / 4}, {c.Length() / 2, c.Length()}} }
	straight := geom.Curve{B: geom.Pt(60, 0)}
	for at, want := range map[float64]bool{-20: true, 22.5: true, 80: true, 5: false, 50: false} {
		q := geom.Curve{A: geom.Pt(at-1, 5), B: geom.Pt(at+1, 5), Bulge: 1}
		if beside(straight, q, halves(straight), keep) != want {
			t.Errorf("an arc of 1 mm about %g mm along it lies beside its free places: %v", at, !want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		near := func(o geom.Point, most float64, name string) geom.Point {
			return o.Add(geom.Pt(rapid.Float64Range(-most, most).Draw(t, name+" x"), rapid.Float64Range(-most, most).Draw(t, name+" y")))
		}
		c := geom.Curve{B: near(geom.Pt(0, 0), 60, "end")}
		q := geom.Curve{A: near(geom.Pt(0, 0), 60, "a"), Bulge: rapid.Float64Range(-1.2, 1.2).Draw(t, "bulge")}
		q.B = near(q.A, rapid.SampledFrom([]float64{4, 120}).Draw(t, "size"), "b")
		if c.Length() < 1 || q.A == q.B || math.Abs(q.Bulge) < 1e-3 {
			t.Skip("no straight piece or no arc")
		}
		free := halves(c)
		if !beside(c, q, free, keep) {
			return
		}
		if s, ok := shadow(c, q, 1, low, high); ok && !slices.Equal(free, without(free, span{s.from - keep, s.to + keep})) {
			t.Fatalf("%v lies beside %v, yet its shadow from %g to %g leaves %v of %v", q, c, s.from, s.to, without(free, span{s.from - keep, s.to + keep}), free)
		}
	})
}

// To lay a few rings of a slug is to lay the first of all.
func TestFewRings(t *testing.T) {
	p := &sheetPlan{SheetJob: SheetJob{Arcs: true, Cutting: Cutting{CutterDiameter: 6, Feed: 1200}}, r: 3, slope: geom.Deg(5).Tan(), depth: 9}
	way, err := OffsetIn(geom.RoundedRect(geom.Box{Max: geom.Pt(70, 55)}, 8), p.r)
	if err != nil {
		t.Fatal(err)
	}
	whole := p.rings(way.Loops[0], math.MaxInt)
	if len(whole) <= clearRings+1 {
		t.Fatalf("%d rings clear it", len(whole))
	}
	if few := p.rings(way.Loops[0], clearRings+1); !reflect.DeepEqual(few, whole[:clearRings+1]) {
		t.Errorf("%v, want %v", few, whole[:clearRings+1])
	}
}
