package yard

import (
	"cmp"
	"math"
	"slices"
)

// used is a way of cutting, and how many boards are cut so.
type used struct {
	pattern
	times int
}

// answer is a plan of one thickness and wood.
type answer struct {
	boards []used
	left   []int   // pieces that are not cut
	area   float64 // of the boards taken, units²
	bound  float64 // no plan that cuts everything takes less, units²
	exact  bool
	steps  int
}

func (a *answer) complete() bool {
	return !slices.ContainsFunc(a.left, func(n int) bool { return n > 0 })
}

// volume returns the wood taken, mm³.
func (a *answer) volume(w *wood) float64 { return a.area * w.thick() }

// solve plans the boards: several greedy plans by different prices of the
// pieces, held against a bound; and where those differ, all ways, as far as the
// effort goes.
func (w *wood) solve(effort int) answer {
	best := answer{left: slices.Clone(w.need), exact: true}
	if len(w.boards) == 0 {
		best.exact = false
		return best
	}
	worth, bound, enough := w.prices()
	bound = ceilTo(bound, w.step())
	tries := 24
	if w.pieces() > 400 {
		tries = 8
	}
	best.area = math.Inf(1)
	better := func(a answer) {
		switch {
		case a.complete() != best.complete():
			if a.complete() {
				best = a
			}
		case a.complete() && a.area < best.area-0.5, !a.complete() && w.cut(a) > w.cut(best):
			best = a
		}
	}
	for k := range tries {
		better(w.greedy(w.shaken(worth, k)))
		if best.complete() && best.area <= bound+0.5 {
			break
		}
	}
	best.bound = bound
	if best.complete() && best.area <= bound+0.5 {
		best.exact = true
		return best
	}
	if !enough && !best.complete() {
		best.exact = false
		return best
	}
	const most = 300 // pieces; of more no search comes to its end
	if w.pieces() > most {
		best.exact = false
		return best
	}
	s := newSearch(w, worth, bound, effort)
	if best.complete() {
		s.best, s.found = best.area, true
	}
	s.run()
	best.steps = s.steps
	if s.way != nil {
		best = answer{boards: s.way, left: make([]int, len(w.need)), area: s.best, bound: bound, steps: s.steps}
	}
	if s.done && best.complete() {
		best.bound = best.area
	}
	best.exact = best.complete() && (s.done || best.area <= bound+0.5)
	return best
}

// cut is how much of the pieces a plan cuts, units².
func (w *wood) cut(a answer) float64 {
	v := 0.0
	for i, n := range a.left {
		v += float64(w.need[i]-n) * float64(w.len[i]) * float64(w.wide[i])
	}
	return v
}

// step is the greatest area of which every sum of boards is a multiple.
func (w *wood) step() float64 {
	g := int64(0)
	for _, b := range w.boards {
		a := b.length * b.width
		for a != 0 {
			g, a = a, g%a
		}
	}
	return float64(g)
}

// shaken returns the prices of the k-th try: those of the bound, those by area,
// and then these two shaken, by the same numbers in every run.
func (w *wood) shaken(worth []float64, k int) []float64 {
	const trifle = 1e-3 // of its area, for a piece that the prices give nothing: it is cut all the same, last
	base := worth
	if k%2 == 1 {
		base = w.byArea()
	}
	out := slices.Clone(base)
	area := w.byArea()
	for i := range out {
		if out[i] <= 0 {
			out[i] = area[i] * trifle
		}
		if k > 1 {
			x := math.Sin(float64(7919*(k+1)+104729*(i+1))) * 43758.5453
			out[i] *= 1 + 0.3*(x-math.Floor(x)-0.5)
		}
	}
	return out
}

// greedy takes one board after the other, each the one that gives most for its
// wood.
func (w *wood) greedy(worth []float64) answer {
	a := answer{left: slices.Clone(w.need)}
	stock := make([]int, len(w.boards))
	for b := range w.boards {
		stock[b] = w.boards[b].count
	}
	for {
		left := 0
		for _, n := range a.left {
			left += n
		}
		if left == 0 {
			return a
		}
		var best pattern
		most, last := 0.0, false
		for b := range w.boards {
			if stock[b] == 0 {
				continue
			}
			p, v := w.bestWithin(b, worth, a.left)
			if v <= 0 {
				continue
			}
			ends := sum(p.counts) == left
			rate := v / w.boards[b].area
			if ends && !last || ends == last && rate > most {
				best, most, last = p, rate, ends
			}
		}
		if most == 0 {
			return a
		}
		times := stock[best.board]
		for i, c := range best.counts {
			if c > 0 {
				times = min(times, a.left[i]/c)
			}
		}
		for i, c := range best.counts {
			a.left[i] -= c * times
		}
		stock[best.board] -= times
		a.area += float64(times) * w.boards[best.board].area
		a.boards = append(a.boards, used{best, times})
	}
}

func sum(ns []int) int {
	s := 0
	for _, n := range ns {
		s += n
	}
	return s
}

// take writes the boards of an answer into the plan.
func (a Ask) take(w *wood, ans answer, bought bool, p *Plan) {
	next := make([]int, len(w.boards))
	for _, u := range ans.boards {
		t := &w.boards[u.board]
		strips := w.lay(u.pattern)
		for i := range strips {
			for k := range strips[i].Cuts {
				strips[i].Cuts[k].Piece = w.of[strips[i].Cuts[k].Piece]
			}
		}
		for range u.times {
			s := Sawn{Bought: bought, Strips: strips}
			k := next[u.board]
			next[u.board]++
			if bought {
				s.Board, s.Copy = t.from[0], k+1
			} else {
				s.Board, s.Copy = t.from[k], t.copies[k]
			}
			p.Boards = append(p.Boards, s)
		}
		p.Taken += float64(u.times) * t.area * w.thick()
		for i, c := range u.counts {
			if bought {
				p.Bought[w.of[i]] += c * u.times
			} else {
				p.Given[w.of[i]] += c * u.times
			}
		}
	}
}

// lay puts the pieces of a pattern in their places.
func (w *wood) lay(p pattern) []Strip {
	t := &w.boards[p.board]
	var out []Strip
	across := int64(0)
	for s, k := range p.mix {
		strip := Strip{Across: Span{mm(across), mm(across + w.widths[k])}}
		across += w.widths[k] + w.rip
		for r, taken := range p.fills[s] {
			at := t.runs[r].start
			for _, i := range w.byLength(taken) {
				strip.Cuts = append(strip.Cuts, Stretch{Span{mm(at), mm(at + w.len[i])}, i})
				at += w.len[i] + w.kerf
			}
		}
		if len(strip.Cuts) > 0 {
			out = append(out, strip)
		}
	}
	return out
}

func mm(v int64) float64 { return float64(v) * unit }

// byLength lists the pieces of a filling one by one, the longest first.
func (w *wood) byLength(taken []int) []int {
	var out []int
	for i, n := range taken {
		for range n {
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int { return cmp.Compare(w.len[b], w.len[a]) })
	return out
}
