package picture

import (
	"math"
	"strings"
	"unicode"

	"starwright/geom"
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

// Word is one line of text that stands on a sheet.
type Word struct {
	Text string
	Type
	At    geom.Point // on the baseline, at the place the alignment says
	Plate bool       // on a white ground, so that hatching does not disturb it
	width float64    // mm
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
	var out []string
	for _, para := range strings.Split(s, "\n") {
		line := ""
		for _, w := range strings.Fields(para) {
			if line != "" && t.Width(line+" "+w) > width {
				out = append(out, line)
				line = ""
			}
			if line != "" {
				line += " "
			}
			line += w
		}
		out = append(out, line)
	}
	return out
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

// clean returns text with control characters as spaces.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == '\u2028' || r == '\u2029' {
			return ' '
		}
		if r == unicode.ReplacementChar || unicode.Is(unicode.Co, r) || unicode.Is(unicode.Cn, r) {
			return '?'
		}
		return r
	}, s)
}

// start returns the left end of the word's baseline.
func (w Word) start() geom.Point {
	back := 0.0
	switch w.Align {
	case AlignCenter:
		back = w.width / 2
	case AlignRight:
		back = w.width
	}
	return w.At.Sub(geom.Polar(back, w.Turn))
}

// plate returns the rectangle that the word takes up.
func (w Word) plate() plate {
	em := w.em()
	u := geom.Polar(1, w.Turn)
	mid := w.start().Add(u.Mul(w.width / 2)).Add(u.Left().Mul(em * (capEm - descentEm) / 2))
	return plate{mid, u, w.width / 2, em * (capEm + descentEm) / 2}
}

// Corners returns the corners of the rectangle that the word takes up, counter-
// clockwise from its lower left, mm on the page.
func (w Word) Corners() geom.Contour { return w.plate().contour() }

// plate is a rectangle at any angle.
type plate struct {
	o      geom.Point // middle
	u      geom.Point // direction of its length
	hw, hh float64    // half length, half height
}

func (p plate) grow(d float64) plate { p.hw += d; p.hh += d; return p }

func (p plate) contour() geom.Contour {
	a, b := p.u.Mul(p.hw), p.u.Left().Mul(p.hh)
	return geom.Polygon(p.o.Sub(a).Sub(b), p.o.Add(a).Sub(b), p.o.Add(a).Add(b), p.o.Sub(a).Add(b))
}

func (p plate) bounds() geom.Box { return p.contour().Bounds() }

// local returns q as the plate sees it: along its length and its height.
func (p plate) local(q geom.Point) geom.Point {
	d := q.Sub(p.o)
	return geom.Pt(d.Dot(p.u), p.u.Cross(d))
}

// overlaps reports whether two plates share an area. Two rectangles are apart
// if they are so along a side of one of them.
func (p plate) overlaps(q plate) bool {
	return !p.apart(q) && !q.apart(p)
}

func (p plate) apart(q plate) bool {
	b := geom.EmptyBox()
	for _, v := range q.contour() {
		b = b.With(p.local(v.Point))
	}
	const touch = 1e-6 // mm
	return b.Min.X > p.hw-touch || b.Max.X < -p.hw+touch || b.Min.Y > p.hh-touch || b.Max.Y < -p.hh+touch
}

// meets reports whether a line of half width half passes over the plate.
func (p plate) meets(a, b geom.Point, half float64) bool {
	a, b = p.local(a), p.local(b)
	t0, t1 := 0.0, 1.0
	clip := func(at, d, limit float64) bool { // at + t d <= limit
		if math.Abs(d) < 1e-12 {
			return at <= limit
		}
		if t := (limit - at) / d; d > 0 {
			t1 = math.Min(t1, t)
		} else {
			t0 = math.Max(t0, t)
		}
		return t0 < t1
	}
	d := b.Sub(a)
	w, h := p.hw+half, p.hh+half
	if d == (geom.Point{}) {
		return math.Abs(a.X) < w && math.Abs(a.Y) < h
	}
	return clip(a.X, d.X, w) && clip(-a.X, -d.X, w) && clip(a.Y, d.Y, h) && clip(-a.Y, -d.Y, h)
}

// toward returns where on the plate's rim a leader to p best begins: at the
// middle of its left or right side where p lies beside it, else straight
// above or below.
func (p plate) toward(q geom.Point) geom.Point {
	l := p.local(q)
	var r geom.Point
	switch {
	case l.X > p.hw:
		r = geom.Pt(p.hw, 0)
	case l.X < -p.hw:
		r = geom.Pt(-p.hw, 0)
	case l.Y > 0:
		r = geom.Pt(math.Max(-p.hw, math.Min(p.hw, l.X)), p.hh)
	default:
		r = geom.Pt(math.Max(-p.hw, math.Min(p.hw, l.X)), -p.hh)
	}
	return p.o.Add(p.u.Mul(r.X)).Add(p.u.Left().Mul(r.Y))
}
