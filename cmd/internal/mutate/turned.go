package mutate

import (
	"math"
	"slices"
)

// turnedTol is by how much a coordinate may differ from the released
// program's, in mm, by the terms of the proof.
const turnedTol = 0.02

// JudgeTurned says whether a changed program keeps to the released one move for
// move but for coordinates that were turned: Harmful where it does and any
// block's own X, Y, Z, I or J differs, Harmless where none does or the file is
// another program. The wood is not asked. line is the first that differs.
// A file that breaks the standard has no moves that all interpreters agree on;
// what it does not keep to is left open.
func JudgeTurned(released, text []byte) (v Verdict, line int) {
	was, is := replay(released), replay(text)
	if v, line = turnedMoves(was.moves, is.moves); v == Harmless && len(is.faults) > 0 {
		v = Either
	}
	return v, line
}

func turnedMoves(a, b []move) (v Verdict, line int) {
	if len(a) != len(b) {
		a, b = going(a), going(b)
	}
	if len(a) != len(b) {
		return Harmless, 0
	}
	a = inOrderOf(a, b)
	turned := 0
	for i := range a {
		if a[i].g != b[i].g {
			return Harmless, 0
		}
		by := a[i].apart(&b[i])
		if by > turnedTol-Near {
			turned++
			if line == 0 {
				line = b[i].line
			}
		}
		switch {
		case by > turnedTol+Near:
			v = Harmful
		case by > turnedTol-Near && v == Harmless:
			v = Either
		}
	}
	if 2*turned > len(a) { // no slip any more
		return Either, line
	}
	return v, line
}

// inOrderOf puts the cuts of a program in the order in which another has the
// same ones: what is cut first of two like things is nobody's business.
func inOrderOf(a, b []move) []move {
	cuts := func(ms []move) (out [][]move) {
		from, feeds := 0, 0
		for i := range ms {
			if feeds > 0 && ms[i].g == 0 && ms[i-1].g == 0 {
				out, from, feeds = append(out, ms[from:i]), i, 0
			}
			if ms[i].g > 0 {
				feeds++
			}
		}
		return append(out, ms[from:])
	}
	same := func(p, q []move) bool {
		if len(p) != len(q) {
			return false
		}
		for i := range p {
			if p[i].g != q[i].g || far(&p[i], &q[i]) > turnedTol {
				return false
			}
		}
		return true
	}
	was, is := cuts(a), cuts(b)
	if len(was) != len(is) {
		return a
	}
	free := make([]bool, len(was)) // cuts of a that b has elsewhere
	for i := range was {
		free[i] = !same(was[i], is[i])
	}
	out := slices.Clone(was)
	taken := make([]bool, len(was))
	var open []int
	for i := range is {
		if !free[i] {
			continue
		}
		k := 0
		for k < len(was) && (!free[k] || taken[k] || !same(was[k], is[i])) {
			k++
		}
		if k == len(was) {
			open = append(open, i)
			continue
		}
		out[i], taken[k] = was[k], true
	}
	for k := range was {
		if free[k] && !taken[k] && len(open) > 0 {
			out[open[0]], open = was[k], open[1:]
		}
	}
	return slices.Concat(out...)
}

// far is the most by which ends and centres of two moves differ.
func far(p, q *move) float64 {
	most := 0.0
	for k := range p.to {
		most = max(most, math.Abs(p.to[k]-q.to[k]))
	}
	if p.g > 1 {
		for k := range p.o {
			most = max(most, math.Abs((p.o[k]-p.from[k])-(q.o[k]-q.from[k])))
		}
	}
	return most
}

// going leaves out moves that go nowhere.
func going(moves []move) (out []move) {
	for _, m := range moves {
		if m.from != m.to || m.g > 1 || m.first {
			out = append(out, m)
		}
	}
	return out
}

// apart is the most by which a number of one block differs from that of
// another; one that both leave as it was does not count.
func (m *move) apart(o *move) float64 {
	most := 0.0
	for k := range m.to {
		if m.first || m.to[k] != m.from[k] || o.to[k] != o.from[k] {
			most = max(most, math.Abs(m.to[k]-o.to[k]))
		}
	}
	if m.g > 1 {
		for k := range m.o {
			most = max(most, math.Abs((m.o[k]-m.from[k])-(o.o[k]-o.from[k])))
		}
	}
	return most
}
