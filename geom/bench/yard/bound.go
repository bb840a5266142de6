package yard

import "math"

// prices returns a worth for each piece by which the pieces of any plan are worth
// at least bound, and no plan takes less wood than that; and whether the boards
// can give all pieces at all, as far as the prices can tell.
//
// It is the dual of the linear programme over all ways to cut a board. For any
// prices y the wood taken is at least
//
//	sum of need·y - sum over boards of count·max(0, value of the best way - area),
//
// so that what is rounded here makes the bound lower and never wrong.
func (w *wood) prices() (worth []float64, bound float64, enough bool) {
	n, m := len(w.len), len(w.boards)
	lp := newDual(w.need, w.boards)
	for b := range w.boards { // each piece alone
		for i := range w.len {
			one := make([]float64, n)
			one[i] = 1
			if p, v := w.mostValue(b, one); v > 0 {
				lp.add(p.counts, b, w.boards[b].area)
			}
		}
	}
	worth = make([]float64, n)
	best, bestWorth := 0.0, worth
	const rounds = 60
	for range rounds {
		y, ok := lp.solve()
		if !ok {
			return w.byArea(), 0, false
		}
		low, grew := 0.0, false
		for i := range n {
			low += float64(w.need[i]) * y[i]
		}
		for b := range m {
			p, v := w.mostValue(b, y[:n])
			over := v - w.boards[b].area
			low -= float64(w.boards[b].count) * math.Max(0, over)
			const news = 1e-7
			if over-y[n+b] > news*w.boards[b].area && lp.add(p.counts, b, w.boards[b].area) {
				grew = true
			}
		}
		if low > best {
			best, bestWorth = low, y[:n]
		}
		if !grew {
			break
		}
	}
	return bestWorth, best, true
}

// byArea prices the pieces by what they take.
func (w *wood) byArea() []float64 {
	out := make([]float64, len(w.len))
	for i := range out {
		out[i] = float64(w.len[i]+w.kerf) * float64(w.wide[i]+w.rip)
	}
	return out
}

// dual is the linear programme: most of need·y - count·v, so that for each way p
// of cutting board b: counts(p)·y - v(b) <= area(b), nothing below 0.
type dual struct {
	goal []float64 // need, then -count
	rows [][]float64
	caps []float64
	n    int
	seen map[string]bool
}

func newDual(need []int, boards []boardType) *dual {
	d := &dual{n: len(need), seen: map[string]bool{}}
	for _, k := range need {
		d.goal = append(d.goal, float64(k))
	}
	for _, b := range boards {
		d.goal = append(d.goal, -float64(b.count))
	}
	return d
}

// add adds a way to cut a board, once.
func (d *dual) add(counts []int, board int, area float64) bool {
	key := make([]byte, 0, 2*len(counts)+2)
	for _, c := range append(counts[:len(counts):len(counts)], board) {
		key = append(key, byte(c), byte(c>>8))
	}
	if d.seen[string(key)] {
		return false
	}
	d.seen[string(key)] = true
	row := make([]float64, len(d.goal))
	for i, c := range counts {
		row[i] = float64(c)
	}
	row[d.n+board] = -1
	d.rows, d.caps = append(d.rows, row), append(d.caps, area)
	return true
}

// solve returns the best prices for the ways that are known, by the simplex
// method from the prices nought; false where nothing bounds them: then the boards
// do not give all pieces.
func (d *dual) solve() ([]float64, bool) {
	n, m := len(d.goal), len(d.rows)
	const eps = 1e-9
	scale := 1.0
	for _, c := range d.caps {
		scale = math.Max(scale, c)
	}
	t := make([][]float64, m+1) // a tableau with a column for each price, each row's slack, and the right side
	basis := make([]int, m)
	for r := range m {
		t[r] = make([]float64, n+m+1)
		copy(t[r], d.rows[r])
		t[r][n+r], t[r][n+m] = 1, d.caps[r]/scale
		basis[r] = n + r
	}
	t[m] = make([]float64, n+m+1)
	for i, g := range d.goal {
		t[m][i] = -g
	}
	for step := 0; step < 50*(n+m); step++ {
		in := -1
		for i := range n + m { // Bland's rule once it drags on, else the steepest
			if t[m][i] < -eps && (in < 0 || step < 10*(n+m) && t[m][i] < t[m][in]) {
				in = i
				if step >= 10*(n+m) {
					break
				}
			}
		}
		if in < 0 {
			break
		}
		out := -1
		for r := range m {
			if t[r][in] > eps {
				if q := t[r][n+m] / t[r][in]; out < 0 || q < t[out][n+m]/t[out][in]-eps || q < t[out][n+m]/t[out][in]+eps && basis[r] < basis[out] {
					out = r
				}
			}
		}
		if out < 0 {
			return nil, false
		}
		pivot(t, out, in)
		basis[out] = in
	}
	y := make([]float64, n)
	for r, b := range basis {
		if b < n {
			y[b] = math.Max(0, t[r][n+m]) * scale
		}
	}
	return y, true
}

func pivot(t [][]float64, row, col int) {
	p := t[row][col]
	for i := range t[row] {
		t[row][i] /= p
	}
	for r := range t {
		f := t[r][col]
		if r == row || f == 0 {
			continue
		}
		for i, v := range t[row] {
			t[r][i] -= f * v
		}
	}
}
