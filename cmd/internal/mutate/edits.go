package mutate

import (
	"fmt"
	"math"
	"strings"
)

// Edits returns changes to a program that change nothing in the wood: how a
// careful person or another program may write the same. every is how many
// lines lie between two that are changed singly, so that long programs do not
// swamp the rest.
func Edits(text []byte, unitMM float64, every int) []Change {
	f := newFile(text)
	out := f.wholeEdits()
	for i := range f.lines {
		if i%every == 0 {
			out = append(out, f.lineEdits(i, unitMM)...)
		}
	}
	return append(out, f.moveEdits(unitMM, every)...)
}

// each returns what makes the text with every line changed.
func (f *file) each(change func(i int, l string) string) func() []byte {
	return func() []byte {
		out := make([]string, len(f.lines))
		for i, l := range f.lines {
			out[i] = change(i, l)
		}
		return []byte(strings.Join(out, "\n") + "\n")
	}
}

// rewrite changes the words of a line and leaves comments alone.
func rewrite(l, between string, word func(t token) string) string {
	ts := tokens(l)
	if len(ts) == 0 {
		return l
	}
	var ws []string
	for _, t := range ts {
		ws = append(ws, word(t))
	}
	return strings.Join(ws, between) + l[ts[len(ts)-1].to:]
}

func same(t token) string { return string(t.letter) + t.text }

// padded writes a number with needless zeros.
func padded(t token) string {
	sign, n := "", t.text
	if strings.HasPrefix(n, "-") {
		sign, n = "-", n[1:]
	}
	if t.letter == 'G' || t.letter == 'M' {
		return string(t.letter) + "0" + n
	}
	if strings.Contains(n, ".") {
		n += "00"
	}
	return string(t.letter) + sign + "00" + n
}

// bare writes a number with as few signs as the standard allows.
func bare(t token) string {
	if t.letter == 'P' || !strings.Contains(t.text, ".") {
		return same(t)
	}
	n := strings.TrimRight(t.text, "0")
	n = strings.TrimSuffix(n, ".")
	sign := ""
	if strings.HasPrefix(n, "-") {
		sign, n = "-", n[1:]
	}
	if strings.HasPrefix(n, "0.") {
		n = n[1:]
	}
	return string(t.letter) + sign + n
}

func plus(t token) string {
	if t.letter == 'X' || t.letter == 'Y' || t.letter == 'Z' {
		if !strings.HasPrefix(t.text, "-") {
			return string(t.letter) + "+" + t.text
		}
	}
	return same(t)
}

// backwards turns the order of a block's words round.
func backwards(l string) string {
	ts := tokens(l)
	var ws []string
	for i := len(ts) - 1; i >= 0; i-- {
		ws = append(ws, same(ts[i]))
	}
	if len(ws) == 0 {
		return l
	}
	return strings.Join(ws, " ")
}

// wholeEdits write the whole file in another hand.
func (f *file) wholeEdits() []Change {
	in := func(class string, change func(i int, l string) string) Change {
		return Change{class, "the whole file", 0, f.each(change)}
	}
	words := func(between string, word func(token) string) func(int, string) string {
		return func(_ int, l string) string { return rewrite(l, between, word) }
	}
	return []Change{
		in("comments dropped", func(_ int, l string) string {
			if strings.HasPrefix(l, "(") {
				return ""
			}
			return l
		}),
		in("comments added", func(i int, l string) string {
			if len(tokens(l)) == 0 {
				return l
			}
			return l + " (block)"
		}),
		in("spacing", words("", same)), in("spacing", words(" \t ", same)),
		in("spacing", words(" ", func(t token) string { return string(t.letter) + " " + t.text })),
		in("case", func(_ int, l string) string { return strings.ToLower(l) }),
		in("line numbers", func(i int, l string) string {
			if strings.HasPrefix(l, "(") {
				return l
			}
			return fmt.Sprintf("N%d %s", (i+1)*10%100000, l)
		}),
		in("zeros", words(" ", padded)), in("zeros", words(" ", bare)), in("plus signs", words(" ", plus)),
		in("order of words", func(_ int, l string) string { return backwards(l) }),
		in("line ends", func(_ int, l string) string { return l + "\r" }),
		in("blank lines", func(_ int, l string) string { return l + "\n" }),
	}
}

// lineEdits write one line in another hand.
func (f *file) lineEdits(i int, unitMM float64) []Change {
	l := f.lines[i]
	if len(tokens(l)) == 0 {
		return []Change{{"comments dropped", l, i + 1, f.with(i, i+1)}, {"comments changed", l, i + 1, f.with(i, i+1, "(another word)")}}
	}
	one := func(class, n string) Change {
		return Change{class, fmt.Sprintf("%q to %q", l, n), i + 1, f.with(i, i+1, n)}
	}
	return []Change{
		one("comments added", "(a word between) "+l), {"comments added", "a line before " + l, i + 1, f.with(i, i, "(a line between)")},
		one("spacing", rewrite(l, "", same)), one("case", strings.ToLower(l)), one("line numbers", "N"+fmt.Sprint(i+1)+" "+l),
		one("zeros", rewrite(l, " ", padded)), one("zeros", rewrite(l, " ", bare)), one("plus signs", rewrite(l, " ", plus)),
		one("order of words", backwards(l)),
	}
}

// moveEdits make the same moves of other blocks: moves split, arcs as lines,
// words repeated that are in force.
func (f *file) moveEdits(unitMM float64, every int) []Change {
	run := replay([]byte(strings.Join(f.lines, "\n")))
	var out []Change
	for k := range run.moves {
		m := &run.moves[k]
		if m.first || k%every != 0 {
			continue
		}
		i := m.line - 1
		xyz := func(p [3]float64) string {
			return fmt.Sprintf("X%s Y%s Z%s", number(p[0]/unitMM, unitMM), number(p[1]/unitMM, unitMM), number(p[2]/unitMM, unitMM))
		}
		feed := ""
		for _, t := range tokens(f.lines[i]) {
			if t.letter == 'F' {
				feed = " " + same(t)
			}
		}
		if m.g < 2 {
			full := fmt.Sprintf("G%d %s%s", m.g, xyz(m.to), feed)
			out = append(out, Change{"words repeated", full, i + 1, f.with(i, i+1, full)})
			mid := [3]float64{(m.from[0] + m.to[0]) / 2, (m.from[1] + m.to[1]) / 2, (m.from[2] + m.to[2]) / 2}
			out = append(out, Change{"moves split", f.lines[i], i + 1, f.with(i, i+1, fmt.Sprintf("G%d %s%s", m.g, xyz(mid), feed), full)})
			continue
		}
		out = append(out, Change{"arcs as lines", f.lines[i], i + 1, f.with(i, i+1, arcLines(m, xyz, feed)...)})
	}
	return out
}

// arcLines writes an arc as chords that leave it by a few thousandths.
func arcLines(m *move, xyz func([3]float64) string, feed string) []string {
	const chord = 0.004 // mm
	rad := math.Hypot(m.from[0]-m.o[0], m.from[1]-m.o[1])
	n := int(math.Ceil(math.Abs(m.sweep)/(2*math.Acos(1-min(1, chord/rad))))) + 1
	start := math.Atan2(m.from[1]-m.o[1], m.from[0]-m.o[0])
	var out []string
	for i := 1; i <= n; i++ {
		t := float64(i) / float64(n)
		p := [3]float64{m.o[0] + rad*math.Cos(start+t*m.sweep), m.o[1] + rad*math.Sin(start+t*m.sweep), m.from[2] + t*(m.to[2]-m.from[2])}
		if i == n {
			p = m.to
		}
		out = append(out, "G1 "+xyz(p)+feed)
	}
	return out
}
