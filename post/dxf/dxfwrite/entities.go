package dxfwrite

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/post/dxf"
)

const (
	// maxMM is the largest coordinate in mm, a kilometre: no workshop is
	// larger, and no number of a file gets out of hand.
	maxMM = 1e6
	// maxBulge is the largest bulge, an arc of all but 4e-4 degrees of a
	// full turn. A circle is two arcs.
	maxBulge = 1e6
	// maxText is the most letters in a TEXT; release 12 reads 255.
	maxText = 250
)

// entities writes everything that is drawn: contours, then lines, then texts.
func (p *printer) entities(d dxf.Drawing) error {
	seen := newTwins(d)
	for i, c := range d.Contours {
		if err := p.contour(c); err != nil {
			return fmt.Errorf("contour %d on %s: %w", i+1, c.Layer, err)
		}
		if j, twice := seen.contour(p, i); twice {
			return fmt.Errorf("contour %d on %s is contour %d drawn a second time: draw it once", i+1, c.Layer, j+1)
		}
	}
	for i, l := range d.Lines {
		if err := p.line(l); err != nil {
			return fmt.Errorf("line %d on %s: %w", i+1, l.Layer, err)
		}
		if j, twice := seen.line(p, i); twice {
			return fmt.Errorf("line %d on %s is line %d drawn a second time: draw it once", i+1, l.Layer, j+1)
		}
	}
	for i, t := range d.Texts {
		if err := p.text(t); err != nil {
			return fmt.Errorf("text %d on %s: %w", i+1, t.Layer, err)
		}
	}
	return nil
}

// start begins an entity on a layer.
func (p *printer) start(entity, layer string) error {
	known := false
	for _, l := range layers {
		known = known || l.name == layer
	}
	if !known {
		return fmt.Errorf("no such layer: use OUTLINE, HOLE, GUIDE or TEXT")
	}
	p.word(0, entity)
	p.word(8, layer)
	return nil
}

// contour writes a closed POLYLINE with its vertices.
func (p *printer) contour(c dxf.Contour) error {
	n := len(c.Contour)
	if n < 2 {
		return fmt.Errorf("%d vertices: a contour has three, or two with arcs between them", n)
	}
	if n == 2 && c.Contour[0].Bulge == 0 && c.Contour[1].Bulge == 0 {
		return fmt.Errorf("two vertices and no arc enclose nothing: a contour has three, or two with arcs between them")
	}
	if err := p.start("POLYLINE", c.Layer); err != nil {
		return err
	}
	p.number(66, 1) // vertices follow
	p.place(10, cell{})
	p.number(70, 1) // closed
	last := p.cell(c.Contour[n-1].Point)
	for i, v := range c.Contour {
		if err := bounded(v.Point); err != nil {
			return fmt.Errorf("vertex %d: %w", i+1, err)
		}
		if !(math.Abs(v.Bulge) <= maxBulge) {
			return fmt.Errorf("vertex %d: bulge %v: an arc turns by less than a full turn, a circle is two arcs", i+1, v.Bulge)
		}
		q := p.cell(v.Point)
		if q == last {
			return fmt.Errorf("vertex %d repeats the one before it at X %.6f Y %.6f mm: leave it out", i+1, v.X, v.Y)
		}
		last = q
		p.word(0, "VERTEX")
		p.word(8, c.Layer)
		p.place(10, q)
		if b := bulgeDecimals.units(v.Bulge); b != 0 {
			p.fixed(42, bulgeDecimals, b)
		}
	}
	p.word(0, "SEQEND")
	p.word(8, c.Layer)
	return nil
}

func (p *printer) line(l dxf.Line) error {
	for _, q := range [2]geom.Point{l.A, l.B} {
		if err := bounded(q); err != nil {
			return err
		}
	}
	a, b := p.cell(l.A), p.cell(l.B)
	if a == b {
		return fmt.Errorf("no length: both ends at X %.6f Y %.6f mm", l.A.X, l.A.Y)
	}
	if err := p.start("LINE", l.Layer); err != nil {
		return err
	}
	p.place(10, a)
	p.place(11, b)
	return nil
}

func (p *printer) text(t dxf.Label) error {
	if err := bounded(t.At); err != nil {
		return err
	}
	if !(t.HeightMM > 0 && t.HeightMM <= maxMM) {
		return fmt.Errorf("letters %v mm high: write a height above 0, such as 3", t.HeightMM)
	}
	turn := t.Turn.Normal().Degrees()
	if math.IsNaN(turn) {
		return fmt.Errorf("turned by %v: write an angle", float64(t.Turn))
	}
	words := label(t.Text)
	if words == "" || len(words) > maxText {
		return fmt.Errorf("%d letters: write 1 to %d", len(words), maxText)
	}
	if err := p.start("TEXT", t.Layer); err != nil {
		return err
	}
	p.place(10, p.cell(t.At))
	p.fixed(40, p.dec, max(1, int64(math.Round(t.HeightMM*p.perMM))))
	p.word(1, words)
	p.fixed(50, mmDecimals, mmDecimals.units(turn))
	p.word(7, "STANDARD")
	return nil
}

// bounded refuses what is no place in a workshop.
func bounded(p geom.Point) error {
	if !(math.Abs(p.X) <= maxMM && math.Abs(p.Y) <= maxMM) {
		return fmt.Errorf("X %v Y %v mm: coordinates are numbers between -%.0f and %.0f mm", p.X, p.Y, maxMM, maxMM)
	}
	return nil
}
