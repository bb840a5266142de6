package dxfread

import (
	"math"
	"strings"

	"starwright/geom"
	"starwright/post/dxf"
)

// statedUnit returns the millimetres of a drawing unit where a comment says
// so: "1 drawing unit = 1 mm", "1 drawing unit = 1 inch (25.4 mm)".
func statedUnit(comment string) (mm float64, ok bool) {
	s := strings.ToLower(comment)
	_, s, ok = strings.Cut(s, "drawing unit")
	if !ok {
		return 0, false
	}
	s, ok = strings.CutPrefix(strings.TrimSpace(s), "=")
	if !ok {
		return 0, false
	}
	return statedLength(s)
}

// statedLength reads a length of a number and a unit at the start of s: "100
// mm", "4 in", `1"`.
func statedLength(s string) (mm float64, ok bool) {
	s = strings.ToLower(strings.TrimSpace(s))
	n := 0
	for n < len(s) && (s[n]-'0' <= 9 || s[n] == '.') {
		n++
	}
	v, ok := parseReal([]byte(s[:n]))
	if !ok || v <= 0 || v > maxValue {
		return 0, false
	}
	word := strings.TrimLeft(s[n:], " ")
	end := strings.IndexFunc(word, func(r rune) bool { return r < 'a' || r > 'z' })
	if strings.HasPrefix(word, `"`) {
		end = 1
	}
	if end >= 0 {
		word = word[:end]
	}
	switch word {
	case "mm", "millimetre", "millimetres", "millimeter", "millimeters":
		return v, true
	case "cm":
		return v * 10, true
	case "in", "inch", "inches", `"`:
		return v * geom.MMPerInch, true
	}
	return 0, false
}

// findUnit takes the unit from $INSUNITS where no comment states one.
func (f *File) findUnit() {
	if f.UnitMM == 0 {
		f.UnitMM = insUnit(f.InsUnits)
	}
}

// insUnit returns the millimetres that a value of $INSUNITS means, 0 where it
// is neither inches nor millimetres ("INSUNITS (System Variable)": 1 and 4).
func insUnit(n int) float64 {
	switch n {
	case 1:
		return geom.MMPerInch
	case 4:
		return 1
	}
	return 0
}

const (
	// barSlack is how far a tick may stand off the end of the bar that it
	// marks, as part of the bar's length: wide enough to find a bar that was
	// tampered with, so that it can be measured and named.
	barSlack = 0.02
	// maxBarLines bounds the search for the bar among the lines of GUIDE.
	maxBarLines = 2000
)

// findBar looks for the check bar: on GUIDE, a text that is a length, and
// nearest to it a line that carries a tick across each of its ends.
func (f *File) findBar() {
	var lines []int
	for i, l := range f.Lines {
		if l.Layer == dxf.Guide && len(lines) < maxBarLines {
			lines = append(lines, i)
		}
	}
	bars := f.ticked(lines)
	if len(bars) == 0 {
		return
	}
	best := math.Inf(1)
	for _, t := range f.Texts {
		mm, ok := statedLength(t.Text)
		if t.Layer != dxf.Guide || !ok {
			continue
		}
		for _, b := range bars {
			l := f.Lines[b[0]]
			c := geom.Curve{A: l.A, B: l.B}
			if d := c.DistTo(t.At); d < best {
				best = d
				f.Bar = &Bar{StatedMM: mm, Units: c.Length() / f.Scale(), Line: l.Line, TextLine: t.Line, lines: b}
			}
		}
	}
}

// ticked returns the lines that have a tick across each end, with the ticks.
func (f *File) ticked(lines []int) [][3]int {
	middles := make([]geom.Box, len(lines))
	for i, k := range lines {
		m := f.Lines[k].A.Lerp(f.Lines[k].B, 0.5)
		middles[i] = geom.Box{Min: m, Max: m}
	}
	tree := geom.NewBoxTree(middles)
	var bars [][3]int
	for _, k := range lines {
		l := f.Lines[k]
		v := l.B.Sub(l.A)
		tick := func(end geom.Point) int {
			found := -1
			b := geom.Box{Min: end, Max: end}.Grow(barSlack * v.Len())
			tree.Each(b, func(i int) bool {
				w := f.Lines[lines[i]].B.Sub(f.Lines[lines[i]].A)
				across := math.Abs(v.Dot(w)) <= barSlack*v.Len()*w.Len()
				if across && w.Len() > 0 && w.Len() < v.Len()/2 && (found < 0 || lines[i] < found) {
					found = lines[i]
				}
				return true
			})
			return found
		}
		if a, b := tick(l.A), tick(l.B); a >= 0 && b >= 0 && a != b {
			bars = append(bars, [3]int{k, a, b})
		}
	}
	return bars
}
