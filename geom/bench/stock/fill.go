package stock

import (
	"cmp"
	"slices"
)

// fillSteps limits one filling of a run for the best price; beyond it the
// result is good and its bound is still proven.
const fillSteps = 3000

// maxPatterns limits how many ways of filling one run are tried at a step of
// the search, and maxWalk how many counts are looked at to find them; where
// there are more, the search proves nothing.
const (
	maxPatterns = 2000
	maxWalk     = 20 * maxPatterns
)

// filler fills runs for the best price. size and room are in nm with one kerf
// for each piece, so that pieces fit when their sizes add up to the room or
// less.
type filler struct {
	size  []int64
	price []int64
	limit []int // pieces that may be used of each length
	order []int // lengths by price for their size, best first

	counts, best []int
	bestPrice    int64
	steps        int
}

func newFiller(size, price []int64, limit []int) *filler {
	f := &filler{size: size, price: price, limit: limit,
		counts: make([]int, len(size)), best: make([]int, len(size))}
	for k := range size {
		if limit[k] > 0 && price[k] > 0 {
			f.order = append(f.order, k)
		}
	}
	slices.SortStableFunc(f.order, func(a, b int) int {
		x, y := float64(price[a])*float64(size[b]), float64(price[b])*float64(size[a])
		switch {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return cmp.Compare(size[b], size[a])
	})
	return f
}

// fill returns the best counts found for a room, their price, and a proven
// bound on the price of any. The counts are good until the next call.
func (f *filler) fill(room int64) (counts []int, price, bound int64) {
	clear(f.counts)
	clear(f.best)
	f.bestPrice, f.steps = 0, 0
	f.try(0, room, 0)
	bound = f.bestPrice
	if f.steps > fillSteps {
		bound = f.atMost(0, room)
	}
	return f.best, f.bestPrice, bound
}

// atMost bounds the price of the lengths from order[i] on in a room: all of it
// at the best price for its size. The float's error is far below the 1 added.
func (f *filler) atMost(i int, room int64) int64 {
	if i == len(f.order) {
		return 0
	}
	k := f.order[i]
	return int64(float64(room)*float64(f.price[k])/float64(f.size[k])) + 1
}

func (f *filler) try(i int, room, price int64) {
	f.steps++
	if price > f.bestPrice {
		f.bestPrice = price
		copy(f.best, f.counts)
	}
	if i == len(f.order) || f.steps > fillSteps || price+f.atMost(i, room) <= f.bestPrice {
		return
	}
	k := f.order[i]
	for n := min(f.limit[k], int(room/f.size[k])); n >= 0; n-- {
		f.counts[k] = n
		f.try(i+1, room-int64(n)*f.size[k], price+int64(n)*f.price[k])
	}
	f.counts[k] = 0
}

// patterns returns every way to fill a room that no further piece fits into,
// and how many counts it looked at: more than maxWalk where it gave up before
// it had them all. The best by price come first.
func patterns(size, price []int64, left []int, room int64) (all [][]int, looked int) {
	counts := make([]int, len(size))
	var walk func(k int, room int64)
	walk = func(k int, room int64) {
		if looked++; looked > maxWalk || len(all) >= maxPatterns {
			looked = maxWalk + 1
			return
		}
		if k == len(size) {
			for i, n := range counts {
				if n < left[i] && size[i] <= room {
					return // a piece still fits
				}
			}
			all = append(all, slices.Clone(counts))
			return
		}
		for n := min(left[k], int(room/size[k])); n >= 0; n-- {
			counts[k] = n
			walk(k+1, room-int64(n)*size[k])
		}
		counts[k] = 0
	}
	walk(0, room)
	worth := func(p []int) int64 {
		var sum int64
		for k, n := range p {
			sum += int64(n) * price[k]
		}
		return sum
	}
	slices.SortStableFunc(all, func(a, b []int) int { return cmp.Compare(worth(b), worth(a)) })
	return all, looked
}
