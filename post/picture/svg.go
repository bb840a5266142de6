package picture

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"

	"starwright/geom"
)

// svgLikely is about how long an SVG is, bytes.
const svgLikely = 64 << 10

// SVG returns the picture as an SVG file. Letters are outlines, each drawn once
// and referred to from where it stands; all words stand once more in the
// description.
func (s *Picture) SVG() ([]byte, error) {
	if _, err := loadFaces(); err != nil {
		return nil, err
	}
	w, h := s.Size()
	b := bytes.NewBuffer(make([]byte, 0, svgLikely))
	fmt.Fprintf(b, `<svg version="1.1" width="%gmm" height="%gmm" viewBox="0 0 %g %g" xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink">`, w, h, w, h)
	fmt.Fprint(b, "\n<title>", escape(clean(s.Title)), "</title>\n<desc>")
	for i, word := range s.words {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(escape(word.Text))
	}
	fmt.Fprint(b, "</desc>\n")
	l := s.letters()
	l.define(b)
	fmt.Fprintf(b, `<rect width="%g" height="%g" fill="#fff"/>`, w, h)
	corner := geom.Pt(-s.page.Min.X, s.page.Max.Y)
	for _, it := range s.items {
		if it.word != nil {
			l.set(b, *it.word, corner)
		} else {
			it.svg(b, corner)
		}
	}
	b.WriteString("\n</svg>\n")
	return b.Bytes(), nil
}

// svg writes an area or a line as a path (W3C, Scalable Vector Graphics 1.1,
// 8.3). Numbers and flags stand apart: not every reader takes them run together.
func (it item) svg(b *bytes.Buffer, corner geom.Point) {
	buf := append(b.AvailableBuffer(), "\n<path d=\""...)
	number := func(v float64) {
		buf = append(strconv.AppendFloat(buf, math.Round(v*1000)/1000+0, 'f', -1, 64), ' ')
	}
	point := func(op byte, p geom.Point) {
		buf = append(buf, op)
		number(p.X + corner.X)
		number(corner.Y - p.Y)
	}
	for _, r := range it.runs {
		if len(r.Curves) == 0 {
			continue
		}
		point('M', r.Curves[0].A)
		for i, c := range r.Curves {
			if !c.IsArc() {
				if i+1 < len(r.Curves) || !r.Closed { // else Z draws it
					point('L', c.B)
				}
				continue
			}
			buf = append(buf, 'A')
			// To more digits than the ends, so that no reader has to stretch it.
			radius := strconv.AppendFloat(nil, c.Radius(), 'f', 6, 64)
			buf = append(append(buf, radius...), ' ')
			buf = append(append(buf, radius...), " 0 "...)
			buf = append(buf, flag(math.Abs(c.Bulge) > 1), ' ', flag(c.Bulge < 0), ' ')
			number(c.B.X + corner.X)
			number(corner.Y - c.B.Y)
		}
		if r.Closed {
			buf = append(buf, 'Z')
		}
	}
	buf = append(buf, '"')
	if it.fill {
		buf = fmt.Appendf(buf, ` fill="#%06x" stroke="none"/>`, uint32(it.pen.Color))
	} else {
		buf = it.pen.svg(buf)
	}
	b.Write(buf)
}

func flag(set bool) byte {
	if set {
		return '1'
	}
	return '0'
}

// svg adds how a line is drawn.
func (p Pen) svg(buf []byte) []byte {
	buf = fmt.Appendf(buf, ` fill="none" stroke="#%06x" stroke-width="%s" stroke-linejoin="round"`, uint32(p.Color), plain(p.Width))
	if p.Round {
		buf = append(buf, ` stroke-linecap="round"`...)
	}
	for i, d := range p.Dash {
		sep := " "
		if i == 0 {
			sep = ` stroke-dasharray="`
		}
		buf = append(append(buf, sep...), plain(d)...)
	}
	if len(p.Dash) > 0 {
		buf = append(buf, '"')
	}
	return append(buf, "/>"...)
}

func escape(s string) string {
	var b bytes.Buffer
	_ = xml.EscapeText(&b, []byte(s)) // a buffer takes all that is written to it
	return b.String()
}

// letters numbers the letters of a picture in the order of their first use.
type letters struct {
	ids  map[*glyph]string
	list []*glyph
}

func (s *Picture) letters() *letters {
	l := &letters{ids: map[*glyph]string{}}
	for _, w := range s.words {
		f := w.face()
		for _, ch := range w.Text {
			if g := f.glyph(ch); g.svg != "" && l.ids[g] == "" {
				l.ids[g] = "g" + strconv.Itoa(len(l.list))
				l.list = append(l.list, g)
			}
		}
	}
	return l
}

func (l *letters) define(w io.Writer) {
	fmt.Fprint(w, "<defs>")
	for _, g := range l.list {
		fmt.Fprintf(w, `<path id="%s" d="%s"/>`, l.ids[g], g.svg)
	}
	fmt.Fprint(w, "</defs>")
}

// set writes a word; its letters are in font units, Y up.
func (l *letters) set(b *bytes.Buffer, w Word, corner geom.Point) {
	f := w.face()
	o := w.Start()
	k := w.em() / f.em
	const places = 1e8 // so fine that a word of a thousand font units keeps its place to a hundred-thousandth of a mm
	part := func(v float64) string { return strconv.FormatFloat(math.Round(v*places)/places+0, 'f', -1, 64) }
	cos, sin := part(k*w.Turn.Cos()), part(-k*w.Turn.Sin())
	fmt.Fprintf(b, "\n"+`<g fill="#%06x" stroke="none" transform="matrix(%s %s %s %s %s %s)">`, uint32(w.Color),
		cos, sin, sin, part(-k*w.Turn.Cos()), plain(o.X+corner.X), plain(corner.Y-o.Y))
	x := 0.0
	for _, ch := range w.Text {
		g := f.glyph(ch)
		if id := l.ids[g]; id != "" {
			b.WriteString(`<use xlink:href="#`)
			b.WriteString(id)
			b.WriteString(`" x="`)
			b.WriteString(strconv.FormatFloat(x, 'f', -1, 64))
			b.WriteString(`"/>`)
		}
		x += g.advance
	}
	b.WriteString("</g>")
}

// plain writes a number to a thousandth.
func plain(v float64) string {
	return strconv.FormatFloat(math.Round(v*1000)/1000+0, 'f', -1, 64)
}
