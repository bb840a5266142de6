package outline

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"starwright/geom"
	"starwright/post/cut"
)

// Statement is a text taken apart: its words in small letters, and its figures.
// "Z0 170 mm above foot" has the words z0, above and foot, and the figure 170 mm.
type Statement struct {
	Words   []string
	Figures []Figure
}

// Figure is a number of a text. Lengths are in mm, angles in degrees.
type Figure struct {
	Value float64
	Unit  Unit
}

// Unit is what a figure counts.
type Unit uint8

// The units of figures.
const (
	Count   Unit = iota // a number without a unit
	Length              // mm
	Degrees             // of an angle
)

// How far figures may differ that mean the same: half of the last digit that is
// printed, so that they may be written in another unit.
const (
	sameMM  = 0.05
	sameDeg = 0.005
)

// binding are the words by which people set up: a text with one of them, or with a
// length or an angle, is one that the drawing was made with, or misleads.
var binding = []string{
	"left", "right", "top", "bottom", "front", "back", "above", "below", "over", "under", "inside", "outside", "up", "down", "side",
	"face", "fence", "foot", "centre", "center", "saw", "bit", "slot", "facet", "tip", "x", "y", "z", "x0", "y0", "z0",
}

// TakeApart returns what a text says.
func TakeApart(text string) Statement {
	var s Statement
	words := tokens(text)
	for i := 0; i < len(words); i++ {
		w := words[i]
		if w == "," { // between two figures: Y1, 1/4 in wide
			continue
		}
		v, ok := number(w)
		if !ok {
			s.Words = append(s.Words, w)
			continue
		}
		if i+1 < len(words) && strings.Contains(words[i+1], "/") { // 3 1/2
			if part, ok := number(words[i+1]); ok && v == math.Trunc(v) {
				v += part
				i++
			}
		}
		f := Figure{Value: v}
		if i+1 < len(words) {
			if k, unit := unitOf(words[i+1]); k > 0 {
				f = Figure{v * k, unit}
				i++
			}
		}
		s.Figures = append(s.Figures, f)
	}
	return s
}

// tokens divides a text into numbers, fractions and words: letters with the
// digits that follow them.
func tokens(text string) []string {
	text = strings.NewReplacer("°", " deg ", "½", " 1/2", "¼", " 1/4", "¾", " 3/4", `"`, " in ", "″", " in ").Replace(strings.ToLower(text))
	var out []string
	word := ""
	end := func() {
		if word = strings.TrimRight(word, "./"); word != "" {
			out = append(out, word)
		}
		word = ""
	}
	for _, r := range text {
		numeric := word != "" && (word[0] == '-' || word[0] >= '0' && word[0] <= '9')
		digit := r >= '0' && r <= '9'
		switch {
		case digit, numeric && (r == '.' || r == '/'):
			word += string(r)
		case unicode.IsLetter(r):
			if numeric {
				end()
			}
			word += string(r)
		case r == '-':
			end()
			word = "-"
		case r == ',':
			end()
			out = append(out, ",")
		default:
			end()
		}
	}
	end()
	return slices.DeleteFunc(out, func(w string) bool { return w == "-" })
}

// number reads a number or a fraction.
func number(s string) (float64, bool) {
	a, b, fraction := strings.Cut(s, "/")
	v, err := strconv.ParseFloat(a, 64)
	if err == nil && fraction {
		var d float64
		d, err = strconv.ParseFloat(b, 64)
		return v / d, err == nil && d > 0
	}
	return v, err == nil && (a[0] == '-' || a[0] <= '9')
}

// unitOf returns how many millimetres or degrees a unit has, 0 for another word.
func unitOf(s string) (float64, Unit) {
	switch s {
	case "mm", "millimetre", "millimetres", "millimeter", "millimeters":
		return 1, Length
	case "cm":
		return 10, Length
	case "m":
		return 1000, Length
	case "in", "inch", "inches":
		return geom.MMPerInch, Length
	case "deg", "degree", "degrees":
		return 1, Degrees
	}
	return 0, Count
}

// binds reports whether people may set up by a text.
func (s Statement) binds() bool {
	return slices.ContainsFunc(s.Figures, func(f Figure) bool { return f.Unit != Count }) ||
		slices.ContainsFunc(s.Words, func(w string) bool { return slices.Contains(binding, w) })
}

// same reports whether two statements of the same words have the same figures.
func (s Statement) same(o Statement) bool {
	return slices.EqualFunc(s.Figures, o.Figures, func(a, b Figure) bool {
		off := math.Abs(a.Value - b.Value)
		return a.Unit == b.Unit && (a.Unit == Length && off <= sameMM || a.Unit == Degrees && off <= sameDeg || off == 0)
	})
}

// words compares what texts say. A text that was wanted and is missing misleads
// nobody, nor does a remark that says nothing to set up by.
func (c *comparison) words() {
	wanted := make([]Statement, len(c.want.Texts))
	for i, w := range c.want.Texts {
		wanted[i] = TakeApart(w.Text)
	}
	bar := FindBar(c.f)
	for _, t := range c.f.Texts {
		s := TakeApart(t.Text)
		if bar != nil && t.Line == bar.TextLine && len(s.Words) == 0 && len(s.Figures) == 1 {
			continue // judged with the bar
		}
		like, common := -1, 0
		found := false
		for i, w := range wanted {
			if s.same(w) && slices.Equal(s.Words, w.Words) || respelled(c.want.Texts[i], t) {
				found = true
				break
			}
			if n := shared(s.Words, w.Words); n > common {
				like, common = i, n
			}
		}
		switch {
		case found || !s.binds():
		case like >= 0:
			c.add(t.Line, "words", t.Text, misread, "says %q where the drawing has %q", t.Text, c.want.Texts[like].Text).At = at(t.At)
		default:
			c.add(t.Line, "words", t.Text, misread, "says %q, which the drawing does not", t.Text).At = at(t.At)
		}
	}
}

// respelled reports whether a text that was read stands where one was wanted
// with letters or signs that its format may have to spell in others, and has the
// same digits. Where a letter has no spelling, what its figures count can be
// told in one of the two only.
func respelled(want cut.Label, got cut.FileText) bool {
	return got.At.Dist(want.At) <= sameMM &&
		strings.ContainsFunc(want.Text, func(r rune) bool { return r > unicode.MaxASCII && !strings.ContainsRune("°½¼¾″", r) }) &&
		digits(want.Text) == digits(got.Text)
}

// plainFigures spells the signs of figures that ASCII does not have.
var plainFigures = strings.NewReplacer("−", "-", "–", "-", "—", "-", "‐", "-", "‑", "-", "‒", "-", "―", "-", "±", "+-",
	"½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8", "¹", "1", "²", "2", "³", "3")

// digits returns the digits of a text in order, with the minus signs before them.
func digits(text string) string {
	var b strings.Builder
	text = plainFigures.Replace(text)
	for i := range len(text) {
		digit := func(k int) bool { return k < len(text) && text[k] >= '0' && text[k] <= '9' }
		if digit(i) || text[i] == '-' && digit(i+1) {
			b.WriteByte(text[i])
		}
	}
	return b.String()
}

const misread = "what is set up by these words is set up wrong"

// shared counts the words of a that stand in b.
func shared(a, b []string) int {
	n := 0
	for _, w := range a {
		if slices.Contains(b, w) {
			n++
		}
	}
	return n
}
