package flat

import (
	"math"
	"slices"

	"starwright/geom"
)

// Up to so many parts on a panel all orders and turnings in rows along its two
// edges are tried, within a budget of places looked at.
const (
	fewParts   = 6
	fewBudget  = 40_000
	moreBudget = 6_000 // where one more part is looked for, item after item
)

// fewParts makes a panel of few parts better: one more of an item, where another
// order makes room for it, and as short as any order makes it.
func (s *search) fewParts(best panel, t *task) panel {
	r := s.rows(t.width, edgeRows)
	if len(best.parts) > fewParts {
		return best
	}
	for more := len(best.parts) < fewParts; more; {
		more = false
		for _, i := range t.order {
			counts := make([]int, len(s.items))
			copy(counts, best.counts)
			if counts[i]++; counts[i] > t.left[i] || len(best.parts) >= fewParts {
				continue
			}
			if parts := s.shortest(r, t, counts, math.Inf(1), moreBudget); parts != nil {
				best, more = s.fuller(best, parts, t), true
				break
			}
		}
	}
	if parts := s.shortest(r, t, best.counts, best.length, fewBudget); parts != nil {
		best = s.fuller(best, parts, t)
	}
	return best
}

// trial is a search of all orders and turnings.
type trial struct {
	*fill
	left []int
	n    int // parts left
	// lead is the least by which a part of each item moves the row on; minus
	// infinity where it may lie beside another.
	lead   []float64
	best   float64 // length of the panel
	found  []laid
	budget int
}

// shortest returns the parts on the shortest panel that is shorter than best, nil
// where there is none.
func (s *search) shortest(r *rows, t *task, counts []int, best float64, budget int) []laid {
	o := &trial{fill: s.newFill(r, t), left: slices.Clone(counts), best: min(best, t.most+2*geom.Rounding), budget: budget}
	for _, c := range counts {
		o.n += c
	}
	o.lead = make([]float64, len(counts))
	for i := range counts {
		o.lead[i] = math.Inf(1)
		for _, b := range r.of[i] {
			for j, c := range counts {
				for _, a := range r.of[j] {
					if c > 0 {
						o.lead[i] = min(o.lead[i], s.gap(r, a, b))
					}
				}
			}
		}
	}
	o.next(math.Inf(-1))
	return o.found
}

// next tries every part as the next one; from is where the part laid last lies.
func (o *trial) next(from float64) {
	if o.budget <= 0 || o.end+o.s.o.Margin >= o.best-geom.Rounding {
		return
	}
	if o.n == 0 {
		o.budget -= len(o.t.zones)
		if l := o.s.needs(o.parts, o.t); l < o.best-geom.Rounding {
			o.best, o.found = l, slices.Clone(o.parts)
		}
		return
	}
	if o.least(from)+o.s.o.Margin >= o.best-geom.Rounding {
		return
	}
	for _, i := range o.t.order {
		if o.left[i] == 0 {
			continue
		}
		for _, p := range o.r.of[i] {
			o.budget--
			x, ok := o.place(p, o.after(p))
			if !ok {
				continue
			}
			o.with(p, x, i)
		}
	}
}

// with goes on with a part laid, and takes it up again.
func (o *trial) with(p int, x float64, item int) {
	was, end, used := o.last[p], o.end, len(o.used)
	o.put(p, x)
	o.left[item]--
	o.n--
	o.next(x)
	o.n++
	o.left[item]++
	o.parts = o.parts[:len(o.parts)-1]
	o.last[p], o.end, o.used = was, end, o.used[:used]
}

// least returns where the last part ends at least, whatever the order.
func (o *trial) least(from float64) float64 {
	narrow := math.Inf(1)
	for i, n := range o.left {
		if n > 0 {
			from += float64(n) * o.lead[i]
			narrow = min(narrow, o.s.shapes[i][0].w)
		}
	}
	return from + narrow
}
