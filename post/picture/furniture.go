package picture

import (
	"math"
	"slices"

	"starwright/geom"
)

// crossX returns where the line at height y crosses closed rings of points, in
// order. A line through a corner counts it once or not at all, so that their
// number is even.
func crossX(rings [][]geom.Point, y float64) []float64 {
	var xs []float64
	for _, r := range rings {
		for i, a := range r {
			b := r[(i+1)%len(r)]
			if (a.Y <= y) != (b.Y <= y) {
				xs = append(xs, a.X+(b.X-a.X)*(y-a.Y)/(b.Y-a.Y))
			}
		}
	}
	slices.Sort(xs)
	return xs
}

// Heading writes the title and the line below it at the top of a picture.
func (s *Picture) Heading(title, sub string) {
	big := Type{Size: SizeTitle, Bold: true, Color: Ink}
	small := Type{Size: SizeText, Color: Ink}
	left := s.page.Min.X + pageMargin
	width := s.page.W() - 2*pageMargin
	y := s.cursor - big.em()*capEm
	s.Text(geom.Pt(left, y), big.Fit(title, width), big)
	if sub != "" {
		y = s.Paragraph(geom.Pt(left, y-small.Line()-1), sub, width, small)
	}
	y -= 2.5
	s.Line(geom.Pt(left, y), geom.Pt(left+width, y), Thin(Ink))
	s.MoveCursor(y - 3)
}

// Body returns the box between the margins from the cursor down to at most
// height (mm).
func (s *Picture) Body(height float64) geom.Box {
	return geom.Box{
		Min: geom.Pt(s.page.Min.X+pageMargin, math.Max(s.cursor-height, s.page.Min.Y+pageMargin)),
		Max: geom.Pt(s.page.Max.X-pageMargin, s.cursor),
	}
}

// Notes writes sentences under each other, below the cursor.
func (s *Picture) Notes(lines ...string) {
	t := Type{Size: SizeText, Color: Ink}
	b := s.Body(tallest)
	y := s.cursor - 1
	for _, l := range lines {
		if l == "" {
			continue
		}
		y = s.Paragraph(geom.Pt(b.Min.X, y-t.em()-1), l, b.W(), t)
	}
	s.MoveCursor(y)
}

// Fact is one line of a table: what, and how much; or a heading.
type Fact struct {
	Name, Value string
	Head        bool
}

// Head makes a heading within a table of facts.
func Head(name string) Fact { return Fact{Name: name, Head: true} }

// Facts writes a table of facts with its upper left corner at p and returns
// the Y of its lower edge. A name that does not fit beside its value goes on
// in further lines.
func (s *Picture) Facts(p geom.Point, width float64, facts []Fact) float64 {
	t := Type{Size: SizeText, Color: Ink}
	bold, right := t, t
	bold.Bold = true
	right.Align = AlignRight
	y := p.Y
	for i, f := range facts {
		if f.Head {
			if i > 0 {
				y -= 2
			}
			y = s.Paragraph(geom.Pt(p.X, y-t.em()), f.Name, width, bold)
		} else {
			room := width - t.Width(f.Value) - 3
			first := y - t.em()
			if room < 15 { // a long value stands under its name
				y = s.Paragraph(geom.Pt(p.X, first), f.Name, width, t)
				y = s.Paragraph(geom.Pt(p.X+4, y-t.Line()), f.Value, width-4, t)
			} else {
				s.Text(geom.Pt(p.X+width, first), f.Value, right)
				y = s.Paragraph(geom.Pt(p.X, first), f.Name, room, t)
			}
		}
		y -= 1.6
		s.stroke([]Run{{[]geom.Curve{{A: geom.Pt(p.X, y), B: geom.Pt(p.X+width, y)}}, false}},
			Pen{Color: Grey.mix(White, 0.4), Width: 0.15}, false)
		y -= 0.6
	}
	s.MoveCursor(y)
	return y
}

// Key is one entry of a legend: a sample and what it stands for.
type Key struct {
	Text   string
	Look   Look
	sample func(s *Picture, b geom.Box) // instead of the look
}

// Sample sizes, mm on the page.
const (
	sampleWide = 10.0
	sampleHigh = 4.6
)

// Legend writes the keys in lines across the page, below the cursor.
func (s *Picture) Legend(keys []Key) {
	t := Type{Size: SizeSmall, Color: Ink}
	b := s.Body(tallest)
	at := geom.Pt(b.Min.X, s.cursor-2-sampleHigh)
	for _, k := range keys {
		w := sampleWide + 1.5 + t.Width(k.Text)
		if at.X > b.Min.X && at.X+w > b.Max.X {
			at = geom.Pt(b.Min.X, at.Y-sampleHigh-2.2)
		}
		s.key(geom.Box{Min: at, Max: at.Add(geom.Pt(sampleWide, sampleHigh))}, k)
		s.Text(at.Add(geom.Pt(sampleWide+1.5, sampleHigh/2-t.em()*capEm/2)), k.Text, t)
		at.X += w + 6
	}
	s.MoveCursor(at.Y - 1)
}

func (s *Picture) key(b geom.Box, k Key) {
	if k.sample != nil {
		k.sample(s, b)
		return
	}
	l := k.Look.looks()
	switch k.Look {
	case Joint, Edge, Axis, Seat:
		mid := b.Center().Y
		s.Line(geom.Pt(b.Min.X, mid), geom.Pt(b.Max.X, mid), l.pen)
	default:
		s.shape(geom.Rect(b.Grow(-l.pen.Width/2)), nil, l)
	}
}
