package print

import (
	"strings"

	"starwright/geom"
	"starwright/post/picture"
)

// Number is a value to be read from where the maker stands: what it is, and how
// much. What stands in brackets behind the value is a finer print of it.
type Number struct {
	Name, Value string
}

// Sizes of large numbers, points: three times the text of a page and a little.
const (
	numberSize = 3.1 * textSize
	finerSize  = 1.6 * textSize
	nameSize   = textSize
)

// numberGap is the free room between two large numbers, mm.
const numberGap = 9.0

// Numbers writes values so large that they are read at arm's length, beside each
// other as long as there is room, each with its name above.
func (f *Flow) Numbers(ns ...Number) {
	name := lettering(nameSize, false)
	high := lineOf(name) + numberSize*mmPerPt*(capEm+descentEm) + 2
	x := marginLeft
	for i, n := range ns {
		parts := split(n.Value)
		wide := max(name.Width(n.Name), widthOf(parts))
		if i > 0 && x+wide > f.right() {
			f.y -= high + 1.5
			x = marginLeft
		}
		if x == marginLeft {
			f.Need(high)
		}
		f.number(x, n.Name, parts)
		x += wide + numberGap
	}
	if len(ns) > 0 {
		f.y -= high + afterText
		f.rule(picture.Thin(picture.Ink))
		f.y -= afterText
	}
}

// part is a piece of a value in one size of letters.
type part struct {
	text string
	picture.Type
}

// split sets what stands in brackets in smaller letters.
func split(value string) []part {
	if i := strings.Index(value, " ("); i > 0 {
		return []part{{value[:i], lettering(numberSize, true)}, {value[i:], lettering(finerSize, true)}}
	}
	return []part{{value, lettering(numberSize, true)}}
}

func widthOf(parts []part) float64 {
	w := 0.0
	for _, p := range parts {
		w += p.Width(p.text)
	}
	return w
}

func (f *Flow) number(x float64, name string, parts []part) {
	t := lettering(nameSize, false)
	y := f.y - t.Size*mmPerPt*capEm - (lineOf(t)-t.Size*mmPerPt)/2
	f.page.base.Text(geom.Pt(x, y), name, t)
	y = f.y - lineOf(t) - numberSize*mmPerPt*capEm - 1
	for _, p := range parts {
		f.page.base.Text(geom.Pt(x, y), p.text, p.Type)
		x += p.Width(p.text)
	}
}
