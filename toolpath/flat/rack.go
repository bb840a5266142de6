package flat

import (
	"cmp"
	"math"
	"slices"

	"starwright/geom"
)

// board is one board of the rack, boards alike taken singly.
type board struct {
	kind, copy    int // place in the list of boards, 1-based copy
	width, length float64
	runs          []Span // clear wood from left to right
}

// rack returns the boards that lie on the machine, one by one in the order
// given.
func rack(boards []Board, o Options) []board {
	var out []board
	for i, b := range boards {
		if o.BedY > 0 && b.Width > o.BedY+geom.Rounding {
			continue
		}
		p := board{kind: i, width: b.Width, length: b.Length, runs: clear(b, o)}
		for c := range max(b.Count, 1) {
			p.copy = c + 1
			out = append(out, p)
		}
	}
	return out
}

// clear returns the stretches of a board between its trims and its bad places.
func clear(b Board, o Options) []Span {
	bad := []Span{{math.Inf(-1), o.EndTrim}, {b.Length - o.EndTrim, math.Inf(1)}}
	for _, s := range b.Bad {
		half := math.Max(s.End-s.Start, o.Kerf) / 2
		mid := (s.Start + s.End) / 2
		bad = append(bad, Span{mid - half, mid + half})
	}
	slices.SortStableFunc(bad, func(a, b Span) int { return cmp.Or(cmp.Compare(a.Start, b.Start), cmp.Compare(a.End, b.End)) })
	var out []Span
	at := bad[0].End
	for _, s := range bad[1:] {
		if s.Start > at+geom.Rounding {
			out = append(out, Span{at, s.Start})
		}
		at = math.Max(at, s.End)
	}
	return out
}
