package yard

import (
	"cmp"
	"slices"
)

// pattern is how one board is cut: its strips with the pieces in each clear run.
type pattern struct {
	board  int
	mix    []int     // width of each strip: its place in wood.widths
	fills  [][][]int // of each strip, of each run: pieces by their place in wood
	counts []int     // pieces of each kind
}

// knapsack fills a length with pieces: the value of a piece, how many of it there
// are at most.
type knapsack struct {
	w      *wood
	worth  []float64
	cap    []int // how many of each at most; nil for any number
	strip  int64 // width of the strip
	order  []int // pieces that fit, the best for their length first
	best   float64
	taken  []int
	now    []int
	steps  int
	most   int // steps before it gives up
	within bool
}

// How many steps the filling of one run takes: where a bound hangs on it, and
// where a good one will do.
const (
	maxSteps  = 5000
	goodSteps = 400
)

// fill returns the most valuable filling of a room, its value, and a bound that
// no filling exceeds: the same where the search came to its end.
func (w *wood) fill(room, strip int64, worth []float64, most []int, steps int) (taken []int, value, bound float64) {
	k := &knapsack{w: w, worth: worth, cap: most, strip: strip, taken: make([]int, len(w.len)), now: make([]int, len(w.len)), most: steps, within: true}
	for i := range w.len {
		if worth[i] > 0 && w.wide[i] <= strip && w.len[i] <= room && (most == nil || most[i] > 0) {
			k.order = append(k.order, i)
		}
	}
	dense := func(i int) float64 { return worth[i] / float64(w.len[i]+w.kerf) }
	slices.SortStableFunc(k.order, func(a, b int) int {
		switch x, y := dense(a), dense(b); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return cmp.Compare(w.len[b], w.len[a])
	})
	k.visit(0, room+w.kerf, 0)
	if !k.within && len(k.order) > 0 {
		return k.taken, k.best, max(k.best, float64(room+w.kerf)*dense(k.order[0]))
	}
	return k.taken, k.best, k.best
}

func (k *knapsack) visit(at int, room int64, value float64) {
	if value > k.best {
		k.best = value
		copy(k.taken, k.now)
	}
	if at == len(k.order) {
		return
	}
	if k.steps++; k.steps > k.most {
		k.within = false
		return
	}
	i := k.order[at]
	size := k.w.len[i] + k.w.kerf
	const slack = 1e-12
	if value+float64(room)*k.worth[i]/float64(size) <= k.best*(1+slack) {
		return
	}
	n := int(room / size)
	if k.cap != nil {
		n = min(n, k.cap[i])
	}
	for ; n >= 0; n-- {
		k.now[i] = n
		k.visit(at+1, room-int64(n)*size, value+float64(n)*k.worth[i])
		if !k.within {
			break
		}
	}
	k.now[i] = 0
}

// mostValue returns a bound of what any pattern of a board is worth, and a
// pattern that comes near.
func (w *wood) mostValue(b int, worth []float64) (pattern, float64) {
	t := &w.boards[b]
	strips := make([]float64, len(w.widths))
	fills := make([][][]int, len(w.widths))
	for k, wide := range w.widths {
		if wide > t.width {
			continue
		}
		for _, r := range t.runs {
			taken, _, bound := w.fill(r.end-r.start, wide, worth, nil, maxSteps)
			strips[k] += bound
			fills[k] = append(fills[k], taken)
		}
	}
	best, at := -1.0, -1
	for i, mix := range t.mixes {
		v := 0.0
		for k, n := range mix {
			v += float64(n) * strips[k]
		}
		if v > best {
			best, at = v, i
		}
	}
	p := pattern{board: b, counts: make([]int, len(w.len))}
	if at < 0 {
		return p, 0
	}
	if len(t.mixes) >= maxMixes { // not all were looked at: a strip's worth by its width bounds them
		dense := 0.0
		for k, wide := range w.widths {
			dense = max(dense, strips[k]/float64(wide+w.rip))
		}
		best = max(best, dense*float64(t.width+w.rip))
	}
	for k, n := range t.mixes[at] {
		for range n {
			p.mix, p.fills = append(p.mix, k), append(p.fills, fills[k])
			for _, taken := range fills[k] {
				for i, c := range taken {
					p.counts[i] += c
				}
			}
		}
	}
	return p, best
}

// bestWithin returns a good pattern of a board with no more pieces than are
// left, and its value.
func (w *wood) bestWithin(b int, worth []float64, left []int) (pattern, float64) {
	t := &w.boards[b]
	var best pattern
	most := -1.0
	for _, i := range w.promising(t, worth, left) {
		rest := slices.Clone(left)
		p := pattern{board: b, counts: make([]int, len(w.len))}
		value := 0.0
		for k, n := range t.mixes[i] {
			for range n {
				strip := make([][]int, 0, len(t.runs))
				for _, r := range t.runs {
					taken, v, _ := w.fill(r.end-r.start, w.widths[k], worth, rest, goodSteps)
					strip = append(strip, taken)
					value += v
					for j, c := range taken {
						rest[j] -= c
						p.counts[j] += c
					}
				}
				p.mix, p.fills = append(p.mix, k), append(p.fills, strip)
			}
		}
		if value > most {
			best, most = p, value
		}
	}
	return best, most
}

// promising returns the mixes of a board that are worth most by their strips,
// each filled as if the others took nothing.
func (w *wood) promising(t *boardType, worth []float64, left []int) []int {
	const few = 6
	strips := make([]float64, len(w.widths))
	for k, wide := range w.widths {
		if wide > t.width {
			continue
		}
		for _, r := range t.runs {
			_, v, _ := w.fill(r.end-r.start, wide, worth, left, goodSteps)
			strips[k] += v
		}
	}
	values := make([]float64, len(t.mixes))
	order := make([]int, len(t.mixes))
	for i, mix := range t.mixes {
		order[i] = i
		for k, n := range mix {
			values[i] += float64(n) * strips[k]
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case values[a] > values[b]:
			return -1
		case values[a] < values[b]:
			return 1
		}
		return 0
	})
	return order[:min(few, len(order))]
}
