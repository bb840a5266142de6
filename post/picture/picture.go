package picture

import (
	"math"

	"starwright/geom"
)

// Picture is a page that is being drawn on. Its coordinates are millimetres on
// the page, X to the right and Y up. A fixed page ([NewPage]) has its origin at
// the lower left; a picture ([NewPicture]) is drawn from its top downwards, so
// that Y is negative, and is cut off below what was drawn.
type Picture struct {
	Title string // also the title of the SVG

	page    geom.Box
	items   []item
	words   []Word
	plates  []plate // of the words
	ink     *ink
	grounds []ground // painted areas, for labels
	cursor  float64  // Y below which a picture is still empty
	crowded []string // labels that found no free place
}

// item is one thing drawn, in the order of drawing: an area, a line or a word.
type item struct {
	runs []Run
	fill bool
	pen  Pen // only its colour counts for an area
	word *Word
}

// Sizes of pictures in mm. At [DPI] a picture is 1200 pixels wide, and it
// prints on A4 and on Letter laid across without being made smaller.
const (
	PictureWidth = 254.0
	DPI          = 120.0
	pageMargin   = 8.0
	tallest      = 1200.0 // no picture is longer
)

// NewPage returns an empty page of a fixed size in mm.
func NewPage(w, h float64, title string) *Picture {
	return newPicture(geom.Box{Max: geom.Pt(w, h)}, title)
}

// NewPicture returns an empty picture as wide as [PictureWidth], to be drawn
// from the top down and closed with [Picture.Trim].
func NewPicture(title string) *Picture {
	return newPicture(geom.Box{Min: geom.Pt(0, -tallest), Max: geom.Pt(PictureWidth, 0)}, title)
}

func newPicture(page geom.Box, title string) *Picture {
	return &Picture{Title: title, page: page, ink: newInk(page), cursor: page.Max.Y - pageMargin}
}

// Size returns the width and height of the picture in mm.
func (s *Picture) Size() (w, h float64) { return s.page.W(), s.page.H() }

// Page returns the picture's outline in its own coordinates.
func (s *Picture) Page() geom.Box { return s.page }

// Cursor returns the height (Y, mm) below which nothing was drawn yet.
func (s *Picture) Cursor() float64 { return s.cursor }

// MoveCursor moves the cursor to y if that is lower.
func (s *Picture) MoveCursor(y float64) { s.cursor = math.Min(s.cursor, y) }

// Trim cuts the picture off a margin below its cursor. The height becomes a
// whole number of millimetres.
func (s *Picture) Trim() {
	s.page.Min.Y = math.Floor(s.cursor - pageMargin)
}

// Words returns all the words on the picture, in the order they were set.
func (s *Picture) Words() []Word { return s.words }

// Fill paints the area within the contours. Contours that lie within others
// are holes and run the other way round.
func (s *Picture) Fill(c Color, contours ...geom.Contour) {
	it := item{fill: true, pen: Pen{Color: c}}
	for _, o := range contours {
		it.runs = append(it.runs, Run{micron(o.Curves()), true})
	}
	s.items = append(s.items, it)
}

// Line draws a straight line.
func (s *Picture) Line(a, b geom.Point, p Pen) {
	s.stroke([]Run{{[]geom.Curve{{A: a, B: b}}, false}}, p, true)
}

// Outline draws the line of a contour.
func (s *Picture) Outline(c geom.Contour, p Pen) {
	s.stroke([]Run{{c.Curves(), true}}, p, true)
}

// Curves draws connected pieces as one open line.
func (s *Picture) Curves(c []geom.Curve, p Pen) { s.stroke([]Run{{c, false}}, p, true) }

// stroke draws lines; solid ones are kept clear of by labels.
func (s *Picture) stroke(runs []Run, p Pen, solid bool) {
	it := item{pen: p}
	for _, r := range runs {
		r.Curves = micron(r.Curves)
		if len(r.Curves) == 0 {
			continue
		}
		it.runs = append(it.runs, r)
		if solid {
			for _, c := range r.Curves {
				s.ink.curve(c, p.Width/2)
			}
		}
	}
	if len(it.runs) > 0 {
		s.items = append(s.items, it)
	}
}

// micron returns the curves with their ends rounded to a thousandth of a
// millimetre on the page, which keeps files short and is finer than any print;
// pieces that shrink to nothing are left out.
func micron(cs []geom.Curve) []geom.Curve {
	const leastRise = 0.0005 // mm; an arc that rises less over its chord is a straight line by the same rounding
	out := make([]geom.Curve, 0, len(cs))
	for _, c := range cs {
		c.A, c.B = micronPoint(c.A), micronPoint(c.B)
		if math.Abs(c.Bulge)*c.A.Dist(c.B)/2 < leastRise {
			c.Bulge = 0
		}
		if c.A != c.B {
			out = append(out, c)
		}
	}
	return out
}

func micronPoint(p geom.Point) geom.Point {
	return geom.Pt(math.Round(p.X*1000)/1000, math.Round(p.Y*1000)/1000)
}

// Text sets one line of words. The place is on the baseline.
func (s *Picture) Text(at geom.Point, text string, t Type) {
	s.set(Word{Text: clean(text), Type: t, At: at})
}

// Paragraph sets text broken into lines of at most width (mm) downwards from
// at, the left end of its first baseline, and returns the Y of the last one.
func (s *Picture) Paragraph(at geom.Point, text string, width float64, t Type) float64 {
	for i, line := range t.Wrap(text, width) {
		if i > 0 {
			at.Y -= t.Line()
		}
		s.Text(at, line, t)
	}
	return at.Y
}

func (s *Picture) set(w Word) {
	if w.Text == "" {
		return
	}
	w.width = w.Type.Width(w.Text)
	w.lines = len(s.ink.segs)
	if w.Plate {
		s.Fill(White, w.plate().grow(0.5).contour())
	}
	s.words, s.plates = append(s.words, w), append(s.plates, w.plate())
	kept := w
	s.items = append(s.items, item{word: &kept})
}

// free reports whether a plate meets neither words nor lines.
func (s *Picture) free(p plate) bool {
	return !s.overWords(p) && !s.ink.hits(p)
}

// Distances kept round words, mm on the page.
const (
	clearWord = 0.6
	clearLine = 0.7
)

func (s *Picture) overWords(p plate) bool {
	p = p.grow(clearWord)
	for i := len(s.plates) - 1; i >= 0; i-- {
		if p.overlaps(s.plates[i]) {
			return true
		}
	}
	return false
}
