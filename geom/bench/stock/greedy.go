package stock

import "slices"

// greedyRounds is how often the wood is filled with changed values for each
// turn, and greedyWork limits it in steps of filling.
const (
	greedyRounds = 60
	greedyWork   = 20000000
)

// found is a packing: counts for each board of the wood, nil where a board is
// not taken.
type found struct {
	cuts  packed
	taken int64
}

// turn is an order in which boards are offered.
type turn uint8

const (
	longFirst turn = iota
	shortFirst
	bestFirst // the board that is filled with the most value for its length
)

// greedy looks for a packing of the counts that takes little wood: sequential
// value correction. Boards are filled one after the other for the best value;
// a length that was cut from a badly filled run grows in value and is served
// earlier in the next round. It returns the best of all rounds, ok false where
// no round cuts everything. enough ends it early: no packing takes less.
func (w *wood) greedy(counts []int, enough int64) (best found, ok bool) {
	until := min(w.work+greedyWork, allWork)
	turns := []turn{longFirst, shortFirst, bestFirst}
	if w.alike() {
		turns = turns[:1]
	}
	for _, t := range turns {
		value := make([]float64, len(w.size))
		for k, s := range w.size {
			value[k] = float64(s)
		}
		rounds := greedyRounds * 3 / len(turns)
		if t == bestFirst && len(w.board) > 40 {
			rounds = 6 // it looks at every board for every board
		}
		for round := range rounds {
			got, all := w.oneRound(counts, value, t, 1+float64(round%4)/4)
			if all && (!ok || got.taken < best.taken) {
				best, ok = got, true
			}
			if ok && best.taken <= enough || w.work > until {
				return best, ok
			}
		}
	}
	return best, ok
}

func (w *wood) alike() bool {
	for i, b := range w.board {
		if i > 0 && !b.again {
			return false
		}
	}
	return true
}

// oneRound fills boards until everything is cut or no board is left, and
// corrects the values.
func (w *wood) oneRound(counts []int, value []float64, t turn, weight float64) (found, bool) {
	out := found{cuts: make(packed, len(w.board))}
	left := slices.Clone(counts)
	price := make([]int64, len(value))
	for pieces(left) > 0 {
		for k, v := range value {
			price[k] = int64(v)
		}
		i := w.next(out.cuts, left, price, t)
		if i < 0 {
			return found{}, false
		}
		out.cuts[i] = w.fillBoard(i, left, price)
		out.taken += w.board[i].length
		for r, c := range out.cuts[i] {
			correct(value, w.size, w.board[i].room[r], c, counts, left, weight)
			for k, n := range c {
				left[k] -= n
			}
		}
	}
	return out, true
}

// correct moves the value of each length that a run holds towards what the run
// cost for it: its size, more where the run is badly filled, and a little more
// for long pieces, which are harder to place.
func correct(value []float64, size []int64, room int64, held, counts, left []int, weight float64) {
	const favourLong = 0.04 // of the size, for a piece as long as the run
	var used int64
	for k, n := range held {
		used += int64(n) * size[k]
	}
	if used == 0 {
		return
	}
	for k, n := range held {
		if n == 0 {
			continue
		}
		cost := float64(size[k]) * (1 + favourLong*float64(size[k])/float64(room)) * float64(room) / float64(used)
		keep := weight * float64(counts[k]+left[k]) / float64(n)
		value[k] = (keep*value[k] + cost) / (keep + 1)
	}
}

// next returns the board to fill, -1 where none holds a piece. Where one board
// can take all that is left, it is the shortest of those.
func (w *wood) next(cuts packed, left []int, price []int64, t turn) int {
	free := w.free(cuts)
	for _, i := range slices.Backward(free) {
		if w.mayHold(w.board[i], left) && held(w.fillBoard(i, left, price)) == pieces(left) {
			return i
		}
	}
	if t == shortFirst {
		slices.Reverse(free)
	}
	pick, bestRatio := -1, 0.0
	for _, i := range free {
		var got int64
		for _, c := range w.fillBoard(i, left, price) {
			got += worth(c, price)
		}
		if got > 0 && t != bestFirst {
			return i
		}
		if ratio := float64(got) / float64(w.board[i].length); ratio > bestRatio {
			pick, bestRatio = i, ratio
		}
	}
	return pick
}

// free returns the boards not taken yet, longest first; of boards alike one
// stands for all.
func (w *wood) free(cuts packed) []int {
	var out []int
	for i, b := range w.board {
		if cuts[i] == nil && (!b.again || cuts[i-1] != nil) {
			out = append(out, i)
		}
	}
	return out
}

// mayHold reports whether a board's room is enough for all that is left.
func (w *wood) mayHold(b searchBoard, left []int) bool {
	var room, need int64
	for _, r := range b.room {
		room += r
	}
	for k, n := range left {
		need += int64(n) * w.size[k]
	}
	return need <= room
}

// fillBoard returns the best counts for each run of a board, one after the
// other.
func (w *wood) fillBoard(i int, left []int, price []int64) [][]int {
	rest := slices.Clone(left)
	out := make([][]int, len(w.board[i].room))
	for r, room := range w.board[i].room {
		f := newFiller(w.size, price, rest)
		c, _, _ := f.fill(room)
		w.work += f.steps
		out[r] = slices.Clone(c)
		for k, n := range c {
			rest[k] -= n
		}
	}
	return out
}

func worth(counts []int, price []int64) int64 {
	var sum int64
	for k, n := range counts {
		sum += int64(n) * price[k]
	}
	return sum
}

func pieces(counts []int) int {
	sum := 0
	for _, n := range counts {
		sum += n
	}
	return sum
}

func held(runs [][]int) int {
	sum := 0
	for _, c := range runs {
		sum += pieces(c)
	}
	return sum
}
