package stock

import (
	"encoding/binary"
	"slices"
)

// search is one branch and bound over the boards: each board in turn is taken
// and its runs filled in every way that leaves no room for a further piece, or
// left in the rack.
//
// Fillings that leave room need not be tried: a piece cut later can move
// forward into that room, and no board more is taken. A state is the next board
// and the pieces still to be cut; one that was reached before for as little
// wood is not looked at again.
type search struct {
	w        *wood
	price    []int64
	least    []int64 // what the price bound still adds from board i on: see [wood.lowerBound]
	rooms    []int64 // room from board i on
	lengths  []int64 // length of the boards from i on
	anyBoard bool    // any packing will do, the first one found ends the search

	seen     map[string]int64
	steps    int
	effort   int
	complete bool

	cuts packed
	best found
	ok   bool
	stop int64 // no packing takes less
}

// looksPerStep is how many counts looked at weigh as much as a step.
const looksPerStep = 64

// newSearch prepares a search with the prices of a bound. Its best is not set
// yet; a caller that knows a packing to beat puts it there.
func newSearch(w *wood, counts []int, b bound, effort int) *search {
	s := &search{w: w, price: b.price, effort: effort, complete: true,
		seen: map[string]int64{}, cuts: make(packed, len(w.board)),
		least: make([]int64, len(w.board)+1), rooms: make([]int64, len(w.board)+1), lengths: make([]int64, len(w.board)+1)}
	f := newFiller(w.size, s.price, counts)
	for i := len(w.board) - 1; i >= 0; i-- {
		value := int64(0)
		s.rooms[i] = s.rooms[i+1]
		for _, room := range w.board[i].room {
			_, _, most := f.fill(room)
			value += most
			s.rooms[i] += room
		}
		s.lengths[i] = s.lengths[i+1] + w.board[i].length
		s.least[i] = s.least[i+1] + min(0, w.board[i].length-value)
	}
	return s
}

// run searches; the result is in best, ok and complete.
func (s *search) run(counts []int) {
	s.visit(0, slices.Clone(counts), 0)
}

// done reports whether going on can gain nothing.
func (s *search) done() bool {
	return s.ok && (s.anyBoard || s.best.taken <= s.stop) || s.steps > s.effort
}

// visit goes on with board i, with so much wood taken.
func (s *search) visit(i int, left []int, taken int64) {
	if pieces(left) == 0 {
		if !s.ok || taken < s.best.taken {
			s.best, s.ok = found{clone(s.cuts), taken}, true
		}
		return
	}
	if i == len(s.w.board) || s.hopeless(i, left, taken) {
		return
	}
	if s.steps++; s.steps > s.effort {
		s.complete = false
		return
	}
	key := stateKey(i, left)
	if before, was := s.seen[key]; was && (s.anyBoard || before <= taken) {
		return
	}
	s.seen[key] = taken
	if s.take(i, left, taken) && s.anyBoard || s.done() {
		return // where any packing will do, a board that holds a piece is better taken
	}
	next := i + 1
	for next < len(s.w.board) && s.w.board[next].again {
		next++ // boards alike: the first of them is left only with all of them
	}
	s.visit(next, left, taken)
}

// hopeless reports whether the rest cannot be packed, or not for less wood than
// the best.
func (s *search) hopeless(i int, left []int, taken int64) bool {
	var need int64
	for k, n := range left {
		need += int64(n) * s.w.size[k]
	}
	if need > s.rooms[i] {
		return true
	}
	atLeast := worth(left, s.price) + s.least[i]
	if atLeast > s.lengths[i] {
		return true
	}
	return s.ok && !s.anyBoard && taken+max(atLeast, 0) >= s.best.taken
}

// take tries board i cut up, and reports whether it holds a piece at all.
func (s *search) take(i int, left []int, taken int64) (holds bool) {
	b := s.w.board[i]
	before := pieces(left)
	var fillRun func(r int, left []int)
	fillRun = func(r int, left []int) {
		if r == len(b.room) {
			if pieces(left) < before {
				holds = true
				s.visit(i+1, left, taken+b.length)
			}
			return
		}
		ways, looked := patterns(s.w.size, s.price, left, b.room[r])
		s.complete = s.complete && looked <= maxWalk
		s.steps += looked / looksPerStep
		for _, way := range ways {
			s.cuts[i][r] = way
			rest := slices.Clone(left)
			for k, n := range way {
				rest[k] -= n
			}
			fillRun(r+1, rest)
			if s.done() {
				return
			}
		}
	}
	s.cuts[i] = make([][]int, len(b.room))
	fillRun(0, left)
	s.cuts[i] = nil
	return holds
}

// clone copies what the search goes on changing.
func clone(p packed) packed {
	out := make(packed, len(p))
	for i, board := range p {
		out[i] = slices.Clone(board)
	}
	return out
}

func stateKey(i int, left []int) string {
	key := make([]byte, 0, 2*len(left)+2)
	key = binary.LittleEndian.AppendUint16(key, uint16(i))
	for _, n := range left {
		key = binary.LittleEndian.AppendUint16(key, uint16(n))
	}
	return string(key)
}
