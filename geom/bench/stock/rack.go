package stock

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"starwright/geom/bench"
	"starwright/geom/problem"
)

// nmPerMM: the plan counts in whole nanometres, so that sums of lengths and
// kerfs compare exactly: 3 1/2 in is 88 900 000 and 1/64 in is 396 875.
const nmPerMM = 1e6

func toNM(mm float64) int64 { return int64(math.Round(mm * nmPerMM)) }

func toMM(nm int64) float64 { return float64(nm) / nmPerMM }

// span is a stretch in nm.
type span struct{ a, b int64 }

func (s span) length() int64 { return s.b - s.a }

// board is one board of the rack, boards alike taken singly.
type board struct {
	index, copy int // place in CutList.Boards, 1-based copy
	length      int64
	trim        int64
	bad         []span // at least one kerf wide, in order, joined where they meet
	runs        []span // clear wood, left to right
}

// rack returns all boards, in the order given.
func (j CutList) rack() []board {
	var out []board
	for i, b := range j.Boards {
		one := newBoard(b, toNM(j.EndTrim), toNM(j.Kerf))
		one.index = i
		for c := range max(b.Count, 1) {
			one.copy = c + 1
			out = append(out, one)
		}
	}
	return out
}

// newBoard finds the clear runs between the trims and the bad places, each bad
// place at least one kerf wide.
func newBoard(b Board, trim, kerf int64) board {
	out := board{length: toNM(b.Length)}
	out.trim = min(trim, out.length/2)
	for _, s := range b.Bad {
		w := span{toNM(s.Start), toNM(s.End)}
		if short := kerf - w.length(); short > 0 {
			w.a -= short / 2
			w.b = w.a + kerf
		}
		out.bad = append(out.bad, span{max(0, w.a), min(w.b, out.length)})
	}
	out.bad = joined(out.bad)
	at := out.trim
	for _, s := range out.bad {
		if s.a > at {
			out.runs = append(out.runs, span{at, min(s.a, out.length-out.trim)})
		}
		at = max(at, s.b)
	}
	if end := out.length - out.trim; end > at {
		out.runs = append(out.runs, span{at, end})
	}
	out.runs = slices.DeleteFunc(out.runs, func(s span) bool { return s.length() <= 0 })
	return out
}

// joined returns the spans in order, those that meet or overlap as one.
func joined(spans []span) []span {
	sorted := slices.Clone(spans)
	slices.SortStableFunc(sorted, func(p, q span) int {
		switch {
		case p.a != q.a:
			return cmp.Compare(p.a, q.a)
		}
		return cmp.Compare(p.b, q.b)
	})
	var out []span
	for _, s := range sorted {
		if n := len(out); n > 0 && s.a <= out[n-1].b {
			out[n-1].b = max(out[n-1].b, s.b)
			continue
		}
		out = append(out, s)
	}
	return out
}

// longEnough refuses parts that no clear run holds.
func (j CutList) longEnough(rack []board) problem.List {
	var longest int64
	item := 0
	for _, b := range rack {
		for _, r := range b.runs {
			if r.length() > longest {
				longest, item = r.length(), b.index+1
			}
		}
	}
	const more = 1.0 // mm; what print rounds down is not too short then
	var ps problem.List
	for i, p := range j.Parts {
		if p.PerStar+p.Extra > 0 && toNM(p.Length) > longest {
			got := "longest clear run " + j.Say.Of(toMM(longest))
			if item > 0 {
				got += " in board " + bench.Num(float64(item), 0)
			}
			name := p.Name
			if name == "" {
				name = "part " + bench.Num(float64(i+1), 0)
			}
			ps = append(ps, problem.Problem{Key: "boards", Got: got,
				Why:   "no board is long enough for one " + name + " of " + j.Say.Of(p.Length),
				Would: fmt.Sprintf("boards = [%q], or longer ones", j.Say.Of(p.Length+2*j.EndTrim+more))})
		}
	}
	return ps
}
