package outline

import (
	"math"

	"starwright/geom"
	"starwright/post/cut"
)

// Bar is the check bar: a line on GUIDE with ticks on its ends and a text that
// says how long it is.
type Bar struct {
	A, B     geom.Point // its ends
	StatedMM float64    // as the text says
	Units    float64    // as drawn, in units of the file
	Line     int        // line of the bar
	TextLine int        // line of its text
	lines    [3]int     // bar and ticks among the lines of the file
}

const (
	// barSlack is how far a tick may stand off the end of the bar that it
	// marks, as part of the bar's length: wide enough to find a bar that was
	// tampered with, so that it can be measured and named.
	barSlack = 0.02
	// maxBarLines bounds the search for the bar among the lines of GUIDE.
	maxBarLines = 2000
)

// FindBar looks for the check bar: on GUIDE, a text that is a length, and
// nearest to it a line that carries a tick across each of its ends. It is nil
// where there is none.
func FindBar(f *cut.File) *Bar {
	var lines []int
	for i, l := range f.Lines {
		if l.Layer == cut.Guide && len(lines) < maxBarLines {
			lines = append(lines, i)
		}
	}
	bars := ticked(f, lines)
	if len(bars) == 0 {
		return nil
	}
	var found *Bar
	best := math.Inf(1)
	for _, t := range f.Texts {
		mm, ok := cut.StatedLength(t.Text)
		if t.Layer != cut.Guide || !ok {
			continue
		}
		for _, b := range bars {
			l := f.Lines[b[0]]
			c := geom.Curve{A: l.A, B: l.B}
			if d := c.DistTo(t.At); d < best {
				best = d
				found = &Bar{A: l.A, B: l.B, StatedMM: mm, Units: c.Length() / f.Scale(), Line: l.Line, TextLine: t.Line, lines: b}
			}
		}
	}
	return found
}

// ticked returns the lines that have a tick across each end, with the ticks.
func ticked(f *cut.File, lines []int) [][3]int {
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
