package planner

import (
	"bytes"

	"starwright/geom"
)

// run is a row's stretch of squares that stand, and the number of its piece.
type run struct{ from, to, number int32 }

// hung is what hangs together: how many squares, one of them, and from where to
// where they reach.
type hung struct{ squares, x, y, from, to, top int32 }

// found is the memory in which pieces are gathered, kept from one look to the next:
// it was a third of all that a plan takes.
type found struct {
	parent    []int32
	all       []hung
	row, last []run
}

// middle is the middle of a square of a piece.
func (g *waste) middle(h hung) geom.Point {
	return geom.Pt((float64(h.x)+0.5)*g.cell, (float64(h.y)+0.5)*g.cell)
}

// pieces finds what hangs together, row by row. It is good until the next call.
func (g *waste) pieces() []hung {
	f := &g.found
	f.parent, f.all, f.row = f.parent[:0], f.all[:0], f.row[:0]
	for y := range g.h {
		f.row, f.last = f.last[:0], f.row
		f.runs(g.gone[y*g.w:(y+1)*g.w], int32(y))
		f.meet()
	}
	return f.sum()
}

// runs finds the stretches of a row.
func (f *found) runs(gone []byte, y int32) {
	for x := 0; x < len(gone); {
		skip := bytes.IndexByte(gone[x:], stands)
		if skip < 0 {
			return
		}
		x += skip
		from := int32(x)
		if n := bytes.IndexByte(gone[x:], taken); n >= 0 {
			x += n
		} else {
			x = len(gone)
		}
		to, number := int32(x), int32(len(f.parent))
		f.row = append(f.row, run{from, to, number})
		f.parent, f.all = append(f.parent, number), append(f.all, hung{to - from, from, y, from, to, y})
	}
}

// meet joins the stretches of a row to those of the last.
func (f *found) meet() {
	row, last := f.row, f.last
	for i, k := 0, 0; i < len(row) && k < len(last); {
		if a, b := f.find(row[i].number), f.find(last[k].number); a != b && row[i].from < last[k].to && last[k].from < row[i].to {
			f.parent[max(a, b)] = min(a, b)
		}
		if row[i].to < last[k].to {
			i++
		} else {
			k++
		}
	}
}

// find returns the number that stands for a stretch's piece.
func (f *found) find(i int32) int32 {
	for f.parent[i] != i {
		f.parent[i] = f.parent[f.parent[i]]
		i = f.parent[i]
	}
	return i
}

// sum adds up the stretches of each piece.
func (f *found) sum() []hung {
	for i := len(f.all) - 1; i >= 0; i-- { // a parent's number is the lower one
		if p := f.parent[i]; int(p) != i {
			a, b := &f.all[p], f.all[i]
			a.squares, a.from, a.to, a.top = a.squares+b.squares, min(a.from, b.from), max(a.to, b.to), max(a.top, b.top)
		}
	}
	out := f.all[:0]
	for i, one := range f.all {
		if int(f.parent[i]) == i {
			out = append(out, one)
		}
	}
	return out
}
