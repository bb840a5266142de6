package picture

import (
	"strings"
	"unicode"

	"starwright/geom"
	"starwright/geom/words"
)

// Heights of letters in ems, measured on the fonts: capitals and digits, and
// what hangs below the line.
const (
	capEm     = 0.72
	descentEm = 0.21
	lineEm    = 1.3 // from one line to the next
)

// Sizes of letters in points.
const (
	SizeTitle = 13.0
	SizeText  = 9.0 // dimensions and labels
	SizeSmall = 8.0 // legend, lists
)

// Align says which part of a line of text its place is.
type Align uint8

// The alignments.
const (
	AlignLeft Align = iota
	AlignCenter
	AlignRight
)

// Type is how words are set.
type Type struct {
	Size  float64 // points
	Bold  bool
	Color Color
	Align Align
	Turn  geom.Angle
}

// Word is one line of text that stands on a picture.
type Word struct {
	Text string
	Type
	At    geom.Point // on the baseline, at the place the alignment says
	Plate bool       // on a white ground, so that hatching does not disturb it
	width float64    // mm
	lines int        // how many pieces of lines were drawn before it
}

// em returns the size in mm on the page.
func (t Type) em() float64 { return t.Size * mmPerPoint }

func (t Type) face() *face {
	f, err := loadFaces()
	if err != nil {
		return nil
	}
	if t.Bold {
		return f.bold
	}
	return f.regular
}

// Width returns how wide the text is, in mm on the page.
func (t Type) Width(s string) float64 {
	f := t.face()
	if f == nil {
		return 0
	}
	return f.width(clean(s)) * t.em()
}

// Line returns the height of a line, mm on the page.
func (t Type) Line() float64 { return lineEm * t.em() }

// Wrap breaks text at spaces into lines no wider than width (mm). A single
// word that is wider than that stays whole.
func (t Type) Wrap(s string, width float64) []string {
	return words.Fill(s, func(line string) bool { return t.Width(line) <= width })
}

// Fit returns the text, cut short with "..." where it is wider than width (mm).
func (t Type) Fit(s string, width float64) string {
	if t.Width(s) <= width {
		return s
	}
	r := []rune(s)
	for len(r) > 0 && t.Width(string(r)+"...") > width {
		r = r[:len(r)-1]
	}
	return strings.TrimRight(string(r), " ") + "..."
}

// clean returns text with everything that does not print as spaces: control
// characters, and signs that turn the direction of writing.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		if r == unicode.ReplacementChar || unicode.Is(unicode.Co, r) {
			return '?'
		}
		if !unicode.IsPrint(r) {
			return ' '
		}
		return r
	}, s)
}

// Start returns the left end of the word's baseline.
func (w Word) Start() geom.Point {
	back := 0.0
	switch w.Align {
	case AlignCenter:
		back = w.width / 2
	case AlignRight:
		back = w.width
	}
	return w.At.Sub(geom.Polar(back, w.Turn))
}

// Letters returns the text with a question mark for each letter that the fonts
// lack, as it is drawn.
func (w Word) Letters() string {
	f := w.face()
	return strings.Map(func(r rune) rune {
		if !f.has(r) {
			return '?'
		}
		return r
	}, w.Text)
}

// plate returns the rectangle that the word takes up.
func (w Word) plate() plate {
	em := w.em()
	u := geom.Polar(1, w.Turn)
	mid := w.Start().Add(u.Mul(w.width / 2)).Add(u.Left().Mul(em * (capEm - descentEm) / 2))
	return plate{mid, u, w.width / 2, em * (capEm + descentEm) / 2}
}

// Corners returns the corners of the rectangle that the word takes up, counter-
// clockwise from its lower left, mm on the page.
func (w Word) Corners() geom.Contour { return w.plate().contour() }
