package mutate

import "math"

// turnedTol is by how much a coordinate may differ from the released
// program's, in mm, by the terms of the proof.
const turnedTol = 0.02

// JudgeTurned says whether a changed program keeps to the released one move for
// move but for coordinates that were turned: Harmful where it does and any
// block's own X, Y, Z, I or J differs, Harmless where none does or the file is
// another program. The wood is not asked. line is the first that differs.
func JudgeTurned(released, text []byte) (v Verdict, line int) {
	a, b := replay(released).moves, replay(text).moves
	if len(a) != len(b) {
		a, b = going(a), going(b)
	}
	if len(a) != len(b) {
		return Harmless, 0
	}
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
			most = math.Max(most, math.Abs(m.to[k]-o.to[k]))
		}
	}
	if m.g > 1 {
		for k := range m.o {
			most = math.Max(most, math.Abs((m.o[k]-m.from[k])-(o.o[k]-o.from[k])))
		}
	}
	return most
}
