package backplot

import (
	"cmp"
	"math"
	"slices"

	"starwright/geom"
)

// cutSpan is a part of a row that is cut away, and by which line.
type cutSpan struct {
	span
	line int32
}

// rowCuts are the cuts of one row, by place: each lies in the bin in which it
// begins. Of a bin that the cuts before reach beyond only the farthest end
// counts, so that but few of the many cuts of short lines have to be sorted.
type rowCuts struct {
	w    float64
	bins []cutBin
	list []cutSpan
	next []int32 // of each cut, the one before it in its bin, -1 for none
	some []cutSpan
}

// cutBin holds the number of the last cut in it, -1 for none, and the cut of the
// bin that reaches farthest.
type cutBin struct {
	head int32
	far  cutSpan
}

// binWidth is how wide a bin is, mm.
const binWidth = 1.0

// clear empties the row, which is w wide.
func (c *rowCuts) clear(w float64) {
	if c.bins == nil {
		c.w, c.bins = w, make([]cutBin, int(w/binWidth)+1)
	}
	for i := range c.bins {
		c.bins[i].head = -1
	}
	c.list, c.next = c.list[:0], c.next[:0]
}

// add takes in a cut. What begins beyond the row's end cuts nothing of it.
func (c *rowCuts) add(s cutSpan) {
	if s.From >= c.w {
		return
	}
	b := &c.bins[max(0, int(s.From/binWidth))]
	if b.head < 0 || s.To > b.far.To || s.To == b.far.To && s.From < b.far.From {
		b.far = s
	}
	c.list, c.next = append(c.list, s), append(c.next, b.head)
	b.head = int32(len(c.list) - 1)
}

// gaps calls yield with each stretch that no cut takes away and that is wider than
// a sliver, and the later of the lines of the cuts beside it.
func (c *rowCuts) gaps(yield func(from, to float64, line int32)) {
	x, by := 0.0, int32(0)
	take := func(s cutSpan) {
		if to := min(s.From, c.w); to-x > sliver {
			yield(x, to, max(by, s.line))
		}
		if s.To > x {
			x, by = s.To, s.line
		}
	}
	for i := range c.bins {
		b := &c.bins[i]
		if b.head < 0 {
			continue
		}
		if x >= float64(i+1)*binWidth {
			take(b.far)
			continue
		}
		c.some = c.some[:0]
		for n := b.head; n >= 0; n = c.next[n] {
			c.some = append(c.some, c.list[n])
		}
		slices.SortFunc(c.some, func(p, q cutSpan) int { return cmp.Compare(p.From, q.From) })
		for _, s := range c.some {
			take(s)
		}
	}
	take(cutSpan{span: span{c.w, c.w}})
}

// sidesMeet reports whether a row may meet a side of the disc of radius r swept from a
// by v. The sides of short lines are short, and few rows do: the heights of the sides
// are compared as squares, which costs less than the sides do.
func sidesMeet(a, v geom.Point, r, y float64) bool {
	away, rise := math.Abs(y-a.Y), math.Abs(v.Y)+coverSlack
	least, most := max(0, away-rise), away+rise
	side := r * r * v.X * v.X // the square of how far a side is above a or below it, times that of v
	return side >= least*least*v.Dot(v) && side <= most*most*v.Dot(v)
}

// chord returns where a row lies within the disc of radius r swept straight from a
// to b.
func chord(a, b geom.Point, r, y float64) (at span, ok bool) {
	at = span{math.Inf(1), math.Inf(-1)}
	take := func(from, to float64) { at.From, at.To = min(at.From, from), max(at.To, to) }
	for _, p := range [2]geom.Point{a, b} {
		if d := r*r - (y-p.Y)*(y-p.Y); d >= 0 {
			take(p.X-math.Sqrt(d), p.X+math.Sqrt(d))
		}
	}
	v := b.Sub(a)
	if !sidesMeet(a, v, r, y) {
		return at, at.From < at.To
	}
	if l := v.Len(); l > 0 {
		n := v.Left().Mul(r / l)
		for _, side := range [2]geom.Point{n, n.Mul(-1)} {
			p, q := a.Add(side), b.Add(side)
			if p.Y != q.Y && (p.Y-y)*(q.Y-y) <= 0 {
				x := p.X + (y-p.Y)/(q.Y-p.Y)*(q.X-p.X)
				take(x, x)
			}
		}
	}
	return at, at.From < at.To
}
