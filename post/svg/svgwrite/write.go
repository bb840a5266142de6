// Package svgwrite writes a drawing as an SVG file that is cut from (W3C,
// Scalable Vector Graphics 1.1): the size in millimetres, one user unit a
// millimetre, each layer a group that has its name for an id, contours as closed
// paths of straight lines and arcs of circles, hairlines without fill.
//
// Numbers are those of the drawing, with Y turned over, since SVG counts Y
// downwards; the view box begins where the drawing does. Arcs of more than a
// third of a turn are written in parts: the radius of a half circle says next to
// nothing about where its middle lies, so that a reader that counts in single
// precision would bend it. Colours tell the layers apart and are no convention of
// any machine: which layer is cut is set by its name, at the machine.
//
// The writer refuses what package draft refuses, and does not prove what it
// wrote; that is svgread's work, which shares no code with it.
package svgwrite

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"

	"starwright/geom"
	"starwright/geom/words"
	"starwright/post/cut"
	"starwright/post/draft"
)

const (
	grid draft.Grid = 1e6 // places are written to 1e-6 mm

	// hairlineMM is the width of every line, mm: thinner than any beam, so that
	// software which goes by width takes it for a line to be cut along.
	hairlineMM = 0.01
	// marginMM is the room between what is drawn and the edge of the page, the
	// same on all sides, mm.
	marginMM = 2.0
	// fontSize is the size of a font as a multiple of the height of its
	// capitals. Common practice, no source; fonts differ by a tenth.
	fontSize = 1.25
	// mostTurn is the largest arc that is written as one, as a bulge: a third of
	// a turn.
	mostTurn = 0.5773502691896257 // tan(120°/4)
	// least is the height over its chord from which a flat arc is one, mm.
	least = 0.5e-6
)

// layers are written in this order, what falls out last after what is cut within
// it, each with its colour. All keep a contrast of 3:1 on white and on black.
var layers = [...]struct{ name, colour string }{
	{cut.Hole, "#1e88e5"},
	{cut.Outline, "#d81b60"},
	{cut.Guide, "#2e7d32"},
	{cut.Text, "#757575"},
}

// Bytes returns the drawing's file, or an error where the drawing cannot be cut as
// it stands. The same drawing gives the same bytes.
func Bytes(d cut.Drawing) ([]byte, error) {
	if err := draft.Check(d, grid, plain); err != nil {
		return nil, err
	}
	p := &printer{}
	p.head(d)
	for _, l := range layers {
		p.layer(d, l.name, l.colour)
	}
	p.print("</svg>\n")
	return p.buf.Bytes(), nil
}

// printer is the file under construction.
type printer struct{ buf bytes.Buffer }

func (p *printer) print(parts ...string) {
	for _, s := range parts {
		p.buf.WriteString(s)
	}
}

// head prints the size, and says what is drawn.
func (p *printer) head(d cut.Drawing) {
	b := d.Bounds().Grow(marginMM)
	w, h := number(b.W()), number(b.H())
	p.print(`<?xml version="1.0" encoding="UTF-8"?>`+"\n",
		`<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="`, w, `mm" height="`, h,
		`mm" viewBox="`, number(b.Min.X), " ", number(-b.Max.Y), " ", w, " ", h, `">`+"\n",
		"<title>", escape(plain(d.Name)), "</title>\n<desc>1 user unit = 1 mm")
	for _, c := range d.Comments {
		p.print("\n", escape(plain(c)))
	}
	p.print("</desc>\n")
}

// layer prints one layer as a group.
func (p *printer) layer(d cut.Drawing, name, colour string) {
	p.print(`<g id="`, name, `" fill="none" stroke="`, colour, `" stroke-width="`, number(hairlineMM), `">`+"\n")
	for _, c := range d.Contours {
		if c.Layer == name {
			p.contour(c.Contour)
		}
	}
	for _, l := range d.Lines {
		if l.Layer == name {
			p.print(`<line x1="`, number(l.A.X), `" y1="`, number(-l.A.Y), `" x2="`, number(l.B.X), `" y2="`, number(-l.B.Y), `"/>`+"\n")
		}
	}
	for _, t := range d.Texts {
		if t.Layer == name {
			p.text(t, colour)
		}
	}
	p.print("</g>\n")
}

// contour prints a closed path, one piece a line ("8.3 Path data").
func (p *printer) contour(c geom.Contour) {
	p.print(`<path d="M `, place(c[0].Point))
	for i := range c {
		p.piece(c.Curve(i), i == len(c)-1)
	}
	p.print("\n" + `Z"/>` + "\n")
}

// piece prints one piece of a contour. The last one, where it is straight, is
// drawn by Z.
func (p *printer) piece(e geom.Curve, last bool) {
	height := math.Abs(e.Bulge) * e.A.Dist(e.B) / 2
	switch {
	case height < least && last:
	case height < least:
		p.print("\nL ", place(e.B))
	default:
		n := 1
		if math.Abs(e.Bulge) > mostTurn {
			n = int(math.Ceil(math.Abs(e.Sweep().Degrees()) / 120))
		}
		for k := range n {
			p.arc(e.Part(float64(k)/float64(n), float64(k+1)/float64(n)))
		}
	}
}

// arc prints an arc of at most a third of a turn ("8.3.8 The elliptical arc curve
// commands"). Its sweep is counted with Y down: clockwise there is
// counter-clockwise in the drawing.
func (p *printer) arc(e geom.Curve) {
	r := number(e.Radius())
	sweep := " 0 0 0 "
	if e.Bulge < 0 {
		sweep = " 0 0 1 "
	}
	p.print("\nA ", r, " ", r, sweep, place(e.B))
}

// text prints a line of text, which is not drawn with the line of its layer but
// filled with its colour.
func (p *printer) text(t cut.Label, colour string) {
	x, y := number(t.At.X), number(-t.At.Y)
	p.print(`<text x="`, x, `" y="`, y, `" font-family="sans-serif" font-size="`, number(t.HeightMM*fontSize),
		`" fill="`, colour, `" stroke="none"`)
	if turn := number(-t.Turn.Normal().Degrees()); turn != "0" {
		p.print(` transform="rotate(`, turn, " ", x, " ", y, `)"`)
	}
	p.print(">", escape(plain(t.Text)), "</text>\n")
}

// place prints a point with Y down.
func place(p geom.Point) string { return number(p.X) + " " + number(-p.Y) }

// number prints a length in mm, or an angle in degrees, to six digits behind the
// point; never with an exponent, and zero without a sign.
func number(v float64) string {
	n := float64(grid.Steps(v))
	if n == 0 {
		return "0"
	}
	return strconv.FormatFloat(n/float64(grid), 'f', -1, 64)
}

// plain returns the printable words of a text on one line, with single blanks.
func plain(s string) string {
	return strings.Join(strings.Fields(words.OneLine(s)), " ")
}

func escape(s string) string {
	var b bytes.Buffer
	if err := xml.EscapeText(&b, []byte(s)); err != nil { // a buffer takes all that is written to it
		panic(fmt.Sprint("svgwrite: ", err))
	}
	return b.String()
}
