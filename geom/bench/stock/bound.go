package stock

import (
	"math"
	"math/big"
)

// priceRounds and priceWork, in steps of filling, limit [wood.lowerBound];
// allWork limits all fillings of a plan, after which each question still gets
// one round.
const (
	priceRounds = 60
	priceWork   = 20000000
	allWork     = 5 * priceWork
)

// wood is the rack as the search for several lengths sees it.
type wood struct {
	size  []int64 // of each length, its kerf included, longest first
	board []searchBoard
	total int64 // length of all boards
	last  found // the packing found last by [wood.most]
	work  int   // steps of filling so far
	spare int   // steps of searching that are left
}

// searchBoard is one board: its length and the room of its runs, one kerf added
// because the last piece of a run needs none.
type searchBoard struct {
	length int64
	room   []int64
	rack   int  // place in the rack
	again  bool // the same as the board before it
}

// bound is what prices prove.
type bound struct {
	least int64   // length of boards that any plan takes, at least
	price []int64 // the prices that prove it
}

// lowerBound bounds the length of boards that the counts take.
//
// Give each length a price, in mm of board. A plan that takes the boards T
// cuts pieces worth price*counts, and no board i holds pieces worth more than
// its best filling V(i). So its length is at least
//
//	price*counts + sum over all boards of min(0, length(i) - V(i))
//
// whatever the prices are (Lagrangian relaxation of the demand; with the best
// prices it is the bound of the linear programme over cutting patterns). Prices
// start at the lengths and follow the subgradient: up where pieces are short,
// down where the boards worth taking hold too many. A bound above the length
// of all boards proves that the wood does not give the counts.
//
// The bound is computed in whole numbers and so is proven exactly.
func (w *wood) lowerBound(counts []int, target int64) bound {
	best := bound{least: math.MinInt64}
	price := make([]float64, len(w.size))
	for k, s := range w.size {
		price[k] = float64(s)
	}
	whole := make([]int64, len(price))
	pace, stale, until := 1.0, 0, min(w.work+priceWork, allWork)
	for range priceRounds {
		for k, p := range price {
			whole[k] = int64(math.Round(p))
		}
		least, short := w.relaxed(counts, whole)
		if least > best.least {
			best = bound{least, append([]int64(nil), whole...)}
			stale = 0
		} else if stale++; stale >= 5 {
			pace, stale = pace/2, 0
		}
		norm := 0.0
		for _, s := range short {
			norm += float64(s) * float64(s)
		}
		if norm == 0 || best.least >= target || w.work > until {
			break
		}
		step := pace * math.Max(float64(target-least), 1) / norm
		for k := range price {
			price[k] = math.Max(0, price[k]+step*float64(short[k]))
		}
	}
	return best
}

// relaxed returns the bound for the prices, and how many pieces of each length
// the boards worth taking are short of.
func (w *wood) relaxed(counts []int, price []int64) (least int64, short []int) {
	short = append([]int(nil), counts...)
	for k, n := range counts {
		least += int64(n) * price[k]
	}
	f := newFiller(w.size, price, counts)
	var value int64
	held := make([]int, len(counts))
	for _, b := range w.board {
		if !b.again {
			value = 0
			clear(held)
			for _, room := range b.room {
				c, _, most := f.fill(room)
				w.work += f.steps
				value += most
				for k, n := range c {
					held[k] += n
				}
			}
		}
		if value <= b.length {
			continue
		}
		least += b.length - value
		for k, n := range held {
			short[k] -= n
		}
	}
	return least, short
}

// reachable returns the least length, at or above a bound, that a choice of
// whole boards can have, or the bound itself where it is not worth finding out.
func (w *wood) reachable(least int64) int64 {
	const maxBits = 4 << 20
	unit := int64(0)
	for _, b := range w.board {
		unit = gcd(unit, b.length)
	}
	if least <= 0 {
		return 0
	}
	if unit == 0 || w.total/unit > maxBits || least > w.total {
		return least
	}
	sums := big.NewInt(1)
	var moved big.Int
	for _, b := range w.board {
		moved.Lsh(sums, uint(b.length/unit))
		sums.Or(sums, &moved)
	}
	for n := (least + unit - 1) / unit; n <= w.total/unit; n++ {
		if sums.Bit(int(n)) == 1 {
			return n * unit
		}
	}
	return least
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
