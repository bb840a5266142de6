package planner

import (
	"math/bits"
	"slices"

	"starwright/geom"
)

// run is a row's stretch of squares that stand, and the number of its piece.
type run struct{ from, to, number int32 }

// hung is what hangs together: how many squares, one of them, and from where to
// where they reach.
type hung struct{ squares, x, y, from, to, top int32 }

// with is two pieces as one, of which the first has the square that is named.
func (a hung) with(b hung) hung {
	return hung{a.squares + b.squares, a.x, a.y, min(a.from, b.from), max(a.to, b.to), max(a.top, b.top)}
}

// found is the memory in which pieces are gathered, kept from one look to the next.
type found struct {
	all       []hung  // pieces in the order of their first squares
	parent    []int32 // the piece that each became part of, itself where it is one
	row, last []run
}

// middle is the middle of a square.
func (g *waste) middle(x, y int) geom.Point {
	return geom.Pt((float64(x)+0.5)*g.cell, (float64(y)+0.5)*g.cell)
}

// somewhere is a place in a piece.
func (g *waste) somewhere(h hung) geom.Point { return g.middle(int(h.x), int(h.y)) }

// pieces finds what hangs together, row by row. It is good until the next call.
func (g *waste) pieces() []hung {
	f := &g.found
	f.all, f.parent, f.row = f.all[:0], f.parent[:0], f.row[:0]
	for y := range g.h {
		if y > 0 && slices.Equal(g.row(y), g.row(y-1)) {
			f.again(int32(y))
			continue
		}
		f.row, f.last = f.last[:0], f.row
		f.runs(g.row(y), int32(y))
	}
	out := f.all[:0]
	for i, one := range f.all {
		if int(f.parent[i]) == i {
			out = append(out, one)
		}
	}
	return out
}

// again finds the stretches of the last row in the next, each below itself alone.
func (f *found) again(y int32) {
	for i := range f.row {
		r := &f.row[i]
		r.number = f.find(r.number)
		h := &f.all[r.number]
		h.squares, h.top = h.squares+r.to-r.from, y
	}
}

// runs finds the stretches of a row and joins them to those of the last.
func (f *found) runs(row []uint64, y int32) {
	above := 0           // the first stretch of the last row that does not end before this one
	from := int32(-1)    // where the stretch begins, below 0 between two
	before := ^uint64(0) // before a row nothing stands
	end := func(to int32) {
		one := hung{to - from, from, y, from, to, y}
		for above < len(f.last) && f.last[above].to <= from {
			above++
		}
		f.row = append(f.row, run{from, to, f.join(one, f.last[above:])})
		from = -1
	}
	for i, word := range row {
		// A stretch begins or ends where a square is unlike the one before it.
		for unlike := word ^ (word<<1 | before>>(wordBits-1)); unlike != 0; unlike &= unlike - 1 {
			if x := int32(i*wordBits + bits.TrailingZeros64(unlike)); from < 0 {
				from = x
			} else {
				end(x)
			}
		}
		before = word
	}
	if from >= 0 {
		end(int32(len(row) * wordBits))
	}
}

// join adds a stretch to the pieces that it touches, of which it makes one, and
// returns that one's number. last is the last row from the first that may touch it.
func (f *found) join(one hung, last []run) int32 {
	number := int32(-1)
	for i := range last {
		if last[i].from >= one.to {
			break
		}
		other := f.find(last[i].number)
		switch {
		case number < 0:
			number = other
		case other != number: // the lower number has the first square
			low, high := min(number, other), max(number, other)
			f.all[low], f.parent[high] = f.all[low].with(f.all[high]), low
			number = low
		}
	}
	if number < 0 {
		number = int32(len(f.all))
		f.all, f.parent = append(f.all, one), append(f.parent, number)
		return number
	}
	h := &f.all[number]
	h.squares, h.from, h.to, h.top = h.squares+one.squares, min(h.from, one.from), max(h.to, one.to), one.top
	return number
}

// find returns the number of the piece that another has become part of.
func (f *found) find(i int32) int32 {
	for f.parent[i] != i {
		f.parent[i] = f.parent[f.parent[i]]
		i = f.parent[i]
	}
	return i
}
