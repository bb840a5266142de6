// Package draft looks at a drawing before it is written, for the writers of all
// formats. Writers add nothing of their own and mend nothing: a drawing with a
// repeated vertex, a contour drawn twice, a layer that is not one of the four or
// a coordinate that is no number is refused ([Check]), and not a byte of it
// reaches the disk.
//
// It belongs to those who make files. Those who prove them, the readers and
// package outline, look for the same faults by code of their own.
package draft

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/post/cut"
)

const (
	// maxMM is the largest coordinate in mm, a kilometre: no workshop is
	// larger, and no number of a file gets out of hand.
	maxMM = 1e6
	// maxBulge is the largest bulge, an arc of all but 4e-4 degrees of a
	// full turn. A circle is two arcs.
	maxBulge = 1e6
	// maxText is the most letters in a line of text; DXF of release 12 reads
	// 255.
	maxText = 250
)

// Check says why a drawing cannot be written: at places on the grid of its file,
// with texts as letters leaves them.
func Check(d cut.Drawing, grid Grid, letters func(string) string) error {
	if d.Bounds().Empty() {
		return fmt.Errorf("drawing %q holds nothing to draw", d.Name)
	}
	if err := check(d, grid, letters); err != nil {
		return fmt.Errorf("drawing %q: %w", d.Name, err)
	}
	return nil
}

func check(d cut.Drawing, g Grid, letters func(string) string) error {
	seen := newTwins(d, g)
	for i, c := range d.Contours {
		if err := g.contour(c); err != nil {
			return fmt.Errorf("contour %d on %s: %w", i+1, c.Layer, err)
		}
		if j, twice := seen.contour(i); twice {
			return fmt.Errorf("contour %d on %s is contour %d drawn a second time: draw it once", i+1, c.Layer, j+1)
		}
	}
	for i, l := range d.Lines {
		if err := g.line(l); err != nil {
			return fmt.Errorf("line %d on %s: %w", i+1, l.Layer, err)
		}
		if j, twice := seen.line(i); twice {
			return fmt.Errorf("line %d on %s is line %d drawn a second time: draw it once", i+1, l.Layer, j+1)
		}
	}
	for i, t := range d.Texts {
		if err := text(t, letters); err != nil {
			return fmt.Errorf("text %d on %s: %w", i+1, t.Layer, err)
		}
	}
	return nil
}

func layer(name string) error {
	if cut.Known(name) {
		return nil
	}
	return fmt.Errorf("no such layer: use OUTLINE, HOLE, GUIDE or TEXT")
}

func (g Grid) contour(c cut.Contour) error {
	n := len(c.Contour)
	if n < 2 {
		return fmt.Errorf("%d vertices: a contour has three, or two with arcs between them", n)
	}
	if n == 2 && c.Contour[0].Bulge == 0 && c.Contour[1].Bulge == 0 {
		return fmt.Errorf("two vertices and no arc enclose nothing: a contour has three, or two with arcs between them")
	}
	if err := layer(c.Layer); err != nil {
		return err
	}
	last := g.Cell(c.Contour[n-1].Point)
	for i, v := range c.Contour {
		if err := bounded(v.Point); err != nil {
			return fmt.Errorf("vertex %d: %w", i+1, err)
		}
		if !(math.Abs(v.Bulge) <= maxBulge) {
			return fmt.Errorf("vertex %d: bulge %v: an arc turns by less than a full turn, a circle is two arcs", i+1, v.Bulge)
		}
		q := g.Cell(v.Point)
		if q == last {
			return fmt.Errorf("vertex %d repeats the one before it at X %.6f Y %.6f mm: leave it out", i+1, v.X, v.Y)
		}
		last = q
	}
	return nil
}

func (g Grid) line(l cut.Line) error {
	for _, q := range [2]geom.Point{l.A, l.B} {
		if err := bounded(q); err != nil {
			return err
		}
	}
	if g.Cell(l.A) == g.Cell(l.B) {
		return fmt.Errorf("no length: both ends at X %.6f Y %.6f mm", l.A.X, l.A.Y)
	}
	return layer(l.Layer)
}

func text(t cut.Label, letters func(string) string) error {
	if err := bounded(t.At); err != nil {
		return err
	}
	if !(t.HeightMM > 0 && t.HeightMM <= maxMM) {
		return fmt.Errorf("letters %v mm high: write a height above 0, such as 3", t.HeightMM)
	}
	if math.IsNaN(t.Turn.Normal().Degrees()) {
		return fmt.Errorf("turned by %v: write an angle", float64(t.Turn))
	}
	if n := len(letters(t.Text)); n == 0 || n > maxText {
		return fmt.Errorf("%d letters: write 1 to %d", n, maxText)
	}
	return layer(t.Layer)
}

// bounded refuses what is no place in a workshop.
func bounded(p geom.Point) error {
	if !(math.Abs(p.X) <= maxMM && math.Abs(p.Y) <= maxMM) {
		return fmt.Errorf("coordinates are numbers between -%.0f and %.0f mm (got X %v Y %v)", maxMM, maxMM, p.X, p.Y)
	}
	return nil
}
