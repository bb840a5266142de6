package stock

import (
	"cmp"
	"slices"
)

// manyLengths plans several lengths: the most stars, then the most of each
// extra part, then the least wood, each by the same three means - a greedy
// packing, a bound from prices, and branch and bound where those two differ.
func (d *demand) manyLengths(rack []board, kerf int64, effort int) answer {
	w := newWood(rack, d.lengths, kerf)
	w.spare = effortTimes * effort
	a := answer{extra: make([]int, len(d.extra)), extraBound: make([]int, len(d.extra)), exact: true}
	a.stars, a.starsBound = w.most(d.stars, effort, &a.steps, func(n int) []int { return d.counts(n, a.extra) })
	a.exact = a.stars == a.starsBound
	for i, want := range d.extra {
		if d.kind[i] < 0 || want == 0 {
			continue
		}
		try := slices.Clone(a.extra)
		n, proven := w.most(want, effort, &a.steps, func(n int) []int { try[i] = n; return d.counts(a.stars, try) })
		a.extra[i], a.extraBound[i] = n, proven
		a.exact = a.exact && n == proven
	}
	counts := d.counts(a.stars, a.extra)
	a.cuts = make(packed, len(rack))
	if pieces(counts) == 0 {
		return a
	}
	best, proven, steps := w.leastWood(counts, effort)
	a.steps += steps
	a.takenBound = proven
	a.exact = a.exact && best.taken == proven
	for i, c := range best.cuts {
		a.cuts[w.board[i].rack] = c
	}
	return a
}

// newWood puts the boards that hold a piece into order for the search: longest
// first, boards alike together.
func newWood(rack []board, lengths []int64, kerf int64) *wood {
	w := &wood{}
	for _, l := range lengths {
		w.size = append(w.size, l+kerf)
	}
	for i, b := range rack {
		if len(b.runs) == 0 {
			continue
		}
		s := searchBoard{length: b.length, rack: i}
		for _, r := range b.runs {
			s.room = append(s.room, r.length()+kerf)
		}
		w.board = append(w.board, s)
		w.total += b.length
	}
	order := func(a, b searchBoard) int {
		if a.length != b.length {
			return cmp.Compare(b.length, a.length)
		}
		return slices.Compare(b.room, a.room)
	}
	slices.SortStableFunc(w.board, order)
	for i := 1; i < len(w.board); i++ {
		w.board[i].again = order(w.board[i-1], w.board[i]) == 0
	}
	return w
}

// most returns the largest n up to a limit whose counts can be packed, as far
// as was found, and the largest that was not proven impossible. Fewer pieces
// can always be packed where more can, so the interval is halved. The packing
// of the counts for n stays in w.last.
func (w *wood) most(limit, effort int, steps *int, counts func(n int) []int) (n, proven int) {
	proven = limit
	low, high := 0, limit
	for low < high {
		mid := (low + high + 1) / 2
		if high == limit && low == 0 {
			mid = high // there is wood enough more often than not
		}
		got, verdict := w.packs(counts(mid), effort, steps)
		switch verdict {
		case yes:
			low, w.last = mid, got
		case no:
			high, proven = mid-1, min(proven, mid-1)
		default:
			high = mid - 1
		}
	}
	return low, max(proven, low)
}

// verdict on whether counts can be packed.
type verdict uint8

const (
	unknown verdict = iota
	yes
	no
)

func (w *wood) packs(counts []int, effort int, steps *int) (found, verdict) {
	if got, ok := w.greedy(counts, w.total); ok {
		return got, yes
	}
	b := w.lowerBound(counts, w.total+1)
	if b.least > w.total {
		return found{}, no
	}
	s := newSearch(w, counts, b, min(effort, w.spare))
	s.anyBoard = true
	s.run(counts)
	w.spare -= s.steps
	*steps += s.steps
	switch {
	case s.ok:
		return s.best, yes
	case s.complete:
		return found{}, no
	}
	return found{}, unknown
}

// leastWood packs the counts of w.last with as little wood as is found, and
// returns the proven bound.
func (w *wood) leastWood(counts []int, effort int) (best found, proven int64, steps int) {
	best = w.last
	b := w.lowerBound(counts, best.taken)
	proven = w.reachable(b.least)
	if got, ok := w.greedy(counts, proven); ok && got.taken < best.taken {
		best = got
	}
	if best.taken <= proven {
		return best, best.taken, 0
	}
	s := newSearch(w, counts, b, effort)
	s.best, s.ok, s.stop = best, true, proven
	s.run(counts)
	if s.complete {
		proven = s.best.taken
	}
	return s.best, proven, s.steps
}
