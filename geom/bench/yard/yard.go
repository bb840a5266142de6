// Package yard plans the boards of an order: pieces of several widths and lengths
// from boards of several widths and lengths.
//
// # The wood
//
// A board is ripped along its whole length into strips, and each strip is cut to
// pieces. Between two strips there is one kerf of the saw that rips, between two
// pieces one kerf of the saw that cuts off; a piece or strip that ends at the
// wood's end or edge needs no cut there. A piece may lie in a strip that is wider
// than it: it is ripped to its width when it is cut off. Bad places go across the
// whole board and stay clear, as in package stock: a piece may reach right up to
// one, and one narrower than the kerf counts as one kerf wide. A piece comes from
// a board of its own thickness, a board of one wood.
//
// # What is best
//
// In this order: every piece is cut, if the boards give them all; then the least
// wood is taken, counted in whole boards by their area times thickness. A plan
// says that it is exact where that is proven, by a bound or by a search of all
// ways; else it gives the bound. Where the rack does not suffice the plan cuts
// from it what it can, without claim, and takes the rest from boards that are to
// be bought, which is planned by itself in the same way.
//
// The package knows nothing of stars.
package yard

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"starwright/geom/bench"
	"starwright/geom/problem"
)

// Limits of what is planned.
const (
	MaxBoards = 500   // of the rack, counted singly; a job file takes as many
	MaxBad    = 64    // bad places in one board
	MaxPieces = 128   // kinds of piece
	MaxCount  = 60000 // of one kind
	MaxLength = 50000.0
)

// Span is a stretch of a board from its left end, mm.
type Span struct{ Start, End float64 }

// Board is one board, or several alike.
type Board struct {
	Length, Width, Thickness float64
	Wood                     string // "" where there is one
	Bad                      []Span // in any order, may overlap
	Count                    int    // 0 counts as 1; of boards to buy it says nothing
}

// Piece is one kind of piece that is cut.
type Piece struct {
	Length, Width, Thickness float64
	Wood                     string
	Count                    int
}

// Ask is what to cut from what.
type Ask struct {
	Rack    []Board
	Buy     []Board // that the yard sells, as many as are needed
	Pieces  []Piece
	Kerf    float64 // of the saw that cuts off
	RipKerf float64
	EndTrim float64 // off each end of each board
	Say     bench.Say
	Effort  int // steps of the search for all ways, 0 for [DefaultEffort]
}

// DefaultEffort is how many steps the search of all ways takes before it gives up:
// some tenths of a second.
const DefaultEffort = 60000

// Strip is one strip of a board and what is cut from it.
type Strip struct {
	Across Span // from the board's one edge
	Cuts   []Stretch
}

// Stretch is a piece in a strip, mm from the board's left end.
type Stretch struct {
	Span
	Piece int // place in Ask.Pieces
}

// Sawn is a board that is taken.
type Sawn struct {
	Board  int  // place in Ask.Rack, or in Ask.Buy
	Copy   int  // 1-based among boards alike
	Bought bool // of Ask.Buy
	Strips []Strip
}

// Plan is the answer.
type Plan struct {
	Boards []Sawn
	Given  []int // pieces of each kind from the rack
	Bought []int // pieces of each kind from boards that are bought
	Short  []int // pieces of each kind that nothing here gives

	// Exact is true where nothing cuts the same pieces from less wood: the boards
	// taken are Volume, and none can be less than Bound (mm³). Where wood is
	// bought both are those of what is bought, and the rack's are not claimed.
	Exact         bool
	Volume, Bound float64
	Taken         float64 // volume of all boards taken, mm³
	Used          float64 // volume of all pieces, mm³
	Steps         int
}

// Make plans the boards. The errors are [problem.List].
func Make(a Ask) (Plan, error) {
	if err := a.check().Err(); err != nil {
		return Plan{}, err
	}
	p := Plan{Given: make([]int, len(a.Pieces)), Bought: make([]int, len(a.Pieces)), Short: make([]int, len(a.Pieces)), Exact: true}
	left := make([]int, len(a.Pieces))
	for i, one := range a.Pieces {
		left[i] = one.Count
		p.Used += float64(one.Count) * one.Length * one.Width * one.Thickness
	}
	for _, kind := range a.kinds() { // no board serves two of them
		a.planKind(kind, left, &p)
	}
	for i, n := range p.Short {
		one := a.Pieces[i]
		p.Used -= float64(n) * one.Length * one.Width * one.Thickness
	}
	slices.SortStableFunc(p.Boards, func(x, y Sawn) int {
		switch {
		case x.Bought != y.Bought:
			return map[bool]int{true: 1, false: -1}[x.Bought]
		case x.Board != y.Board:
			return x.Board - y.Board
		}
		return x.Copy - y.Copy
	})
	return p, nil
}

// kindOf is what board and piece must share.
type kindOf struct {
	thickness int64
	wood      string
}

func (a Ask) kinds() []kindOf {
	var out []kindOf
	for _, p := range a.Pieces {
		if k := (kindOf{units(p.Thickness), p.Wood}); !slices.Contains(out, k) {
			out = append(out, k)
		}
	}
	return out
}

// planKind plans the pieces of one thickness and wood.
func (a Ask) planKind(kind kindOf, left []int, p *Plan) {
	rack := a.newWood(kind, a.Rack, left, false)
	if rack.pieces() == 0 {
		return
	}
	best := rack.solve(a.effort())
	p.Steps += best.steps
	if best.complete() {
		a.take(rack, best, false, p)
		p.Exact = p.Exact && best.exact
		p.Volume, p.Bound = p.Volume+best.volume(rack), p.Bound+best.bound*rack.thick()
		return
	}
	a.take(rack, best, false, p)
	for i, n := range best.left {
		left[rack.of[i]] = n
	}
	shop := a.newWood(kind, a.Buy, left, true)
	if shop.pieces() == 0 {
		return
	}
	more := shop.solve(a.effort())
	p.Steps += more.steps
	a.take(shop, more, true, p)
	for i, n := range more.left {
		p.Short[shop.of[i]] += n
	}
	p.Exact = p.Exact && more.exact
	p.Volume, p.Bound = p.Volume+more.volume(shop), p.Bound+more.bound*shop.thick()
}

func (a Ask) effort() int {
	if a.Effort > 0 {
		return a.Effort
	}
	return DefaultEffort
}

// unit is the length in which the package counts, mm: a micrometre.
const unit = 1e-3

func units(mm float64) int64 { return int64(math.Round(mm / unit)) }

// check returns what cannot be computed with.
func (a Ask) check() problem.List {
	var ps problem.List
	bad := func(field string, item int, got, why, would string) {
		ps = append(ps, problem.Problem{Key: field, Item: item, Got: got, Why: why, Would: would})
	}
	length := func(field string, item int, mm, least, would float64) bool {
		if bench.Finite(mm) && mm >= least && mm <= MaxLength {
			return true
		}
		bad(field, item, a.Say.Of(mm), "not a length for this", a.Say.Of(would))
		return false
	}
	length("kerf", 0, a.Kerf, 0, 2.4)
	length("rip kerf", 0, a.RipKerf, 0, 2.4)
	length("end trim", 0, a.EndTrim, 0, 10)
	if len(a.Pieces) > MaxPieces {
		bad("pieces", 0, strconv.Itoa(len(a.Pieces)), "too many kinds of piece", "at most "+strconv.Itoa(MaxPieces))
	}
	for i, p := range a.Pieces {
		const leastPiece = 5.0 // mm; nothing shorter is held at a saw
		length("pieces", i+1, p.Length, leastPiece, 100)
		length("pieces", i+1, p.Width, leastPiece/2, 100)
		length("pieces", i+1, p.Thickness, 0.5, 19)
		if p.Count < 0 || p.Count > MaxCount {
			bad("pieces", i+1, strconv.Itoa(p.Count), "no such number of pieces", "0 to "+strconv.Itoa(MaxCount))
		}
	}
	total := 0
	for k, list := range [][]Board{a.Rack, a.Buy} {
		field := []string{"boards", "buy"}[k]
		for i, b := range list {
			if k == 0 {
				total += min(max(b.Count, 1), MaxBoards+1)
			}
			if !length(field, i+1, b.Length, 1, 1800) || !length(field, i+1, b.Width, 1, 100) || !length(field, i+1, b.Thickness, 0.5, 19) {
				continue
			}
			if len(b.Bad) > MaxBad {
				bad(field, i+1, strconv.Itoa(len(b.Bad))+" bad places", "too many to count", "at most "+strconv.Itoa(MaxBad))
			}
			for _, s := range b.Bad {
				if !(s.Start >= 0 && s.Start <= s.End && s.End <= b.Length) {
					bad(field, i+1, a.Say.Of(s.Start)+" to "+a.Say.Of(s.End), "a bad place lies within the board of "+a.Say.Of(b.Length), "within 0 to "+a.Say.Of(b.Length))
				}
			}
		}
	}
	if total > MaxBoards {
		bad("boards", 0, strconv.Itoa(total), "more boards than are planned at once", fmt.Sprintf("%d at most", MaxBoards))
	}
	return ps
}
