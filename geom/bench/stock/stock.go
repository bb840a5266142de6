// Package stock plans which piece is cut from which board.
//
// # The wood
//
// A board is a length with bad places. From each board end the end trim comes
// off, the saw cut in it included. What lies between trims and bad places is
// clear wood, in runs. Pieces lie wholly in clear wood, and between two pieces
// there is at least one kerf. The blade runs on the waste side: a piece may
// reach right up to a bad place or a trim, and the kerf of that cut is lost in
// the waste. A piece that ends exactly at the board's end needs no cut there.
// A bad place narrower than the kerf counts as one kerf wide, because the
// blade that takes it out is; a trim counts as it is given.
//
//	| trim |  piece  |k|  piece  |k| rest |  bad  |k|  piece  |k| rest | trim |
//
// # What is best
//
// In this order:
//
//  1. the most stars, up to the number wanted: a star is complete when all its
//     pieces are cut;
//  2. the most extra pieces of the first part that asks for them, then of the
//     second, and so on;
//  3. the least length of boards taken from the rack, counted in whole boards:
//     with the pieces fixed that is the least waste, and it leaves the longest
//     boards whole;
//  4. the longest single clear rest in one of the boards taken.
//
// With one length of pieces all four are exact. With several lengths 1 to 3
// are searched by branch and bound; where the search stops early the plan says
// so and gives the bound that is proven; 4 is then left as it falls.
//
// The package knows nothing of stars but how many pieces one takes, and draws
// nothing.
package stock

import (
	"fmt"
	"math"
	"strconv"

	"starwright/geom/bench"
	"starwright/geom/problem"
)

// Limits of what is planned.
const (
	MaxBoards = 500  // boards, counted singly; a job file takes as many
	MaxBad    = 64   // bad places in one board
	MaxParts  = 16   // parts
	MaxPieces = 6000 // pieces that one plan cuts
	MaxLength = 50000.0
)

// Span is a stretch of a board, from its left end, mm.
type Span struct{ Start, End float64 }

// Board is one board of the rack, or several alike.
type Board struct {
	Length float64
	Bad    []Span // knots, splits, stains; in any order, may overlap
	Count  int    // boards alike; 0 counts as 1
}

// Part is a piece that is cut to length.
type Part struct {
	Name    string
	Length  float64
	PerStar int // pieces for one star
	Extra   int // pieces beside the stars': test pieces, strips, battens
}

// CutList is what to cut from what.
type CutList struct {
	Boards    []Board
	Parts     []Part
	Stars     int // wanted; 0 asks for as many as the wood gives
	Kerf      float64
	EndTrim   float64 // off each end of each board
	Width     float64 // of the boards, for board feet only; yards count nominal sizes
	Thickness float64
	Say       bench.Say // how lengths are written in problems
	Effort    int       // steps of the search for each question, 0 for [DefaultEffort]
}

// Kind is what a stretch of a board becomes.
type Kind uint8

// The kinds of stretch.
const (
	Piece Kind = iota
	Kerf
	Trim
	Bad
	Rest // clear wood that is left
)

// String returns the trade's word.
func (k Kind) String() string {
	switch k {
	case Kerf:
		return "kerf"
	case Trim:
		return "trim"
	case Bad:
		return "bad"
	case Rest:
		return "rest"
	}
	return "blank"
}

// Stretch is one length of a cut board. The stretches of a board follow each
// other without a gap from its left end to its right end.
type Stretch struct {
	Span
	Kind Kind
	Part int // of a piece: its place in CutList.Parts, else -1
}

// Sawn is one board with what becomes of it.
type Sawn struct {
	Board     int // place in CutList.Boards
	Copy      int // 1-based among boards alike
	Length    float64
	Taken     bool // false: the board stays whole in the rack, and Stretches is empty
	Stretches []Stretch
}

// Pieces returns how many pieces of one part, or of all with part -1, are cut
// from the board.
func (c Sawn) Pieces(part int) int {
	n := 0
	for _, s := range c.Stretches {
		if s.Kind == Piece && (part < 0 || s.Part == part) {
			n++
		}
	}
	return n
}

// Plan is the answer.
type Plan struct {
	Stars  int    // complete stars
	Extra  []int  // extra pieces of each part
	Pieces []int  // all pieces of each part, Stars*PerStar + Extra
	Boards []Sawn // every board of the rack in the order given

	// How good it is. Exact is true where no better plan exists by 1 to 3 of
	// the package comment. StarsBound and TakenBound are proven: no plan
	// makes more stars, and none that cuts the same pieces takes less length.
	Exact      bool
	StarsBound int
	ExtraBound []int // of each part, with these stars and the extra pieces of the parts before it
	TakenBound float64
	Steps      int // of the search, 0 where none was needed

	// Lengths of the boards taken, mm: TakenLength is the sum of the others.
	TakenLength, PiecesLength, KerfLength, TrimLength, BadLength, RestLength float64

	LongestRest  float64 // longest clear rest in a board taken
	WastePercent float64 // all of TakenLength that does not become a piece
	BoardFeet    float64 // of the boards taken
	Missing      []int   // pieces of each part that are wanted and not in the plan
}

// Make plans the job. The errors are [problem.List].
func Make(j CutList) (Plan, error) {
	if err := j.check().Err(); err != nil {
		return Plan{}, err
	}
	rack := j.rack()
	if err := j.longEnough(rack).Err(); err != nil {
		return Plan{}, err
	}
	ask, err := newDemand(j, rack)
	if err != nil {
		return Plan{}, err
	}
	var a answer
	if len(ask.lengths) == 1 {
		a = ask.oneLength(rack, toNM(j.Kerf))
	} else {
		a = ask.manyLengths(rack, toNM(j.Kerf), j.effort())
	}
	return j.plan(rack, ask, a), nil
}

// check returns what the job cannot be computed with, wood not yet looked at.
func (j CutList) check() problem.List {
	var ps problem.List
	bad := func(field string, item int, got, why, would string) {
		ps = append(ps, problem.Problem{Key: field, Item: item, Got: got, Why: why, Would: would})
	}
	for _, v := range []struct {
		field string
		mm    float64
		would float64
	}{{"kerf", j.Kerf, 2.4}, {"end trim", j.EndTrim, 10}, {"width", j.Width, 114}, {"thickness", j.Thickness, 19}} {
		if !bench.Finite(v.mm) || v.mm < 0 || v.mm > MaxLength {
			bad(v.field, 0, j.Say.Of(v.mm), "not a length for this", j.Say.Of(v.would))
		}
	}
	if j.Stars < 0 || j.Stars > MaxPieces {
		bad("stars", 0, strconv.Itoa(j.Stars), "no such batch", "0 (as many as the wood gives) to "+strconv.Itoa(MaxPieces))
	}
	if len(j.Parts) == 0 || len(j.Parts) > MaxParts {
		bad("parts", 0, strconv.Itoa(len(j.Parts)), "nothing to cut, or too many lengths", "1 to "+strconv.Itoa(MaxParts))
	}
	for i, p := range j.Parts {
		if !bench.Finite(p.Length) || p.Length < minPieceMM || p.Length > MaxLength {
			bad("parts", i+1, j.Say.Of(p.Length), "not a length of a piece", "more than "+j.Say.Of(minPieceMM))
		}
		if p.PerStar < 0 || p.Extra < 0 || p.PerStar > MaxPieces || p.Extra > MaxPieces {
			bad("parts", i+1, fmt.Sprintf("%d for a star and %d extra", p.PerStar, p.Extra), "no such number of pieces", "0 to "+strconv.Itoa(MaxPieces))
		}
	}
	return append(ps, j.checkBoards()...)
}

// minPieceMM is the shortest piece that is planned for; nothing shorter is held
// at a saw.
const minPieceMM = 5.0

func (j CutList) checkBoards() problem.List {
	var ps problem.List
	total := 0
	for i, b := range j.Boards {
		bad := func(got, why, would string) {
			ps = append(ps, problem.Problem{Key: "boards", Item: i + 1, Got: got, Why: why, Would: would})
		}
		total += min(max(b.Count, 1), MaxBoards+1)
		if b.Count < 0 {
			bad(strconv.Itoa(b.Count)+" boards", "no such number of boards", "1")
		}
		if !bench.Finite(b.Length) || b.Length <= 0 || b.Length > MaxLength {
			bad(j.Say.Of(b.Length), "not a board's length", j.Say.Of(1800))
			continue
		}
		if len(b.Bad) > MaxBad {
			bad(strconv.Itoa(len(b.Bad))+" bad places", "too many to count", "at most "+strconv.Itoa(MaxBad))
		}
		for _, s := range b.Bad {
			got := j.Say.Of(s.Start) + " to " + j.Say.Of(s.End)
			switch {
			case !bench.Finite(s.Start) || !bench.Finite(s.End) || s.Start > s.End:
				bad(got, "a bad place runs from its near to its far end", j.Say.Of(math.Min(s.Start, s.End))+" to "+j.Say.Of(math.Max(s.Start, s.End)))
			case s.Start < 0 || s.End > b.Length:
				bad(got, "the bad place lies outside the board of "+j.Say.Of(b.Length), "within 0 to "+j.Say.Of(b.Length))
			}
		}
	}
	if len(j.Boards) == 0 || total > MaxBoards {
		ps = append(ps, problem.Problem{Key: "boards", Got: strconv.Itoa(total),
			Why: "no boards, or more than are planned at once", Would: "1 to " + strconv.Itoa(MaxBoards)})
	}
	return ps
}
