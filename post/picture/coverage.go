package picture

import (
	"image"
	"image/color"
	"slices"
)

// coverage works out how much of each pixel an area covers and paints it so: the
// exact share of a polygon's part in a pixel, in whole numbers. Whole numbers,
// because a picture must have the same bytes whichever processor draws it; and
// pixel by pixel along the outline alone, because a thin line across a page
// touches few of the pixels that its box holds.
//
// An outline is handed over edge by edge. An edge leaves in each pixel that it
// passes through how far it goes down there, and how much of the pixel lies to
// the left of it; what is right of it follows from the sum along the row.
type coverage struct {
	img    *image.RGBA
	rows   [][]cell
	lo, hi int // the rows in use, hi beyond the last
}

// cell is what the edges leave in a pixel.
type cell struct {
	x     int // column; -1 is all that lies left of the picture
	cover int // how far down they go, in parts of a pixel
	area  int // twice the part left of them, in parts of a pixel squared
}

// parts is into how many parts a pixel is cut each way.
const (
	partBits = 8
	parts    = 1 << partBits
)

// dot is a place in parts of a pixel, from the upper left, Y down.
type dot struct{ x, y int }

func newCoverage(img *image.RGBA) *coverage {
	c := &coverage{img: img, rows: make([][]cell, img.Rect.Dy())}
	c.clear()
	return c
}

func (c *coverage) clear() { c.lo, c.hi = len(c.rows), 0 }

// edge adds an edge of the area.
func (c *coverage) edge(a, b dot) {
	a, b, ok := c.onPage(a, b)
	if !ok {
		return
	}
	for p := a; p.y != b.y; {
		row := p.y >> partBits
		next := min(b.y, (row+1)<<partBits)
		if b.y < p.y {
			row = (p.y - 1) >> partBits
			next = max(b.y, row<<partBits)
		}
		q := b
		if next != b.y {
			q = dot{a.x + quotient((b.x-a.x)*(next-a.y), b.y-a.y), next}
		}
		c.lo, c.hi = min(c.lo, row), max(c.hi, row+1)
		c.alongRow(row, p, q)
		p = q
	}
}

// onPage returns the piece of an edge that lies between the top and the bottom
// of the picture, and whether any does.
func (c *coverage) onPage(a, b dot) (dot, dot, bool) {
	bottom := len(c.rows) << partBits
	clip := func(p dot) dot {
		if y := min(max(p.y, 0), bottom); y != p.y {
			return dot{a.x + quotient((b.x-a.x)*(y-a.y), b.y-a.y), y}
		}
		return p
	}
	if a.y == b.y {
		return a, b, false
	}
	p, q := clip(a), clip(b)
	return p, q, p.y != q.y
}

// alongRow adds an edge that lies within one row of pixels.
func (c *coverage) alongRow(row int, a, b dot) {
	for p := a; ; {
		col, next := p.x>>partBits, b.x
		switch {
		case b.x > p.x:
			next = min(b.x, (col+1)<<partBits)
		case b.x < p.x:
			col = (p.x - 1) >> partBits
			next = max(b.x, col<<partBits)
		}
		q := b
		if next != b.x {
			q = dot{next, a.y + quotient((b.y-a.y)*(next-a.x), b.x-a.x)}
		}
		left := col << partBits
		c.add(row, col, q.y-p.y, (q.y-p.y)*(p.x-left+q.x-left))
		if p = q; p.x == b.x {
			// What is left of the way runs along the side of a pixel.
			if p.y != b.y {
				c.add(row, p.x>>partBits, b.y-p.y, 0)
			}
			return
		}
	}
}

func (c *coverage) add(row, col, cover, area int) {
	if cover == 0 && area == 0 || col >= c.img.Rect.Dx() {
		return
	}
	if col < 0 {
		col, area = -1, 0
	}
	r := c.rows[row]
	if n := len(r); n > 0 && r[n-1].x == col {
		r[n-1].cover += cover
		r[n-1].area += area
		return
	}
	c.rows[row] = append(r, cell{col, cover, area})
}

// paint paints the area whose edges were added, and forgets it.
func (c *coverage) paint(with color.RGBA) {
	for y := c.lo; y < c.hi; y++ {
		r := c.rows[y]
		slices.SortFunc(r, func(a, b cell) int { return a.x - b.x })
		sum := 0
		for i := 0; i < len(r); {
			x, area := r[i].x, 0
			for ; i < len(r) && r[i].x == x; i++ {
				sum += r[i].cover
				area += r[i].area
			}
			c.span(x, x+1, y, 2*parts*sum-area, with)
			if end := c.img.Rect.Dx(); i < len(r) {
				c.span(x+1, r[i].x, y, 2*parts*sum, with)
			} else {
				c.span(x+1, end, y, 2*parts*sum, with)
			}
		}
		c.rows[y] = r[:0]
	}
	c.clear()
}

// span mixes a colour into the pixels of a row from column a up to b, as much of
// it as is covered, in the units of a cell's area.
func (c *coverage) span(a, b, y, covered int, with color.RGBA) {
	const whole = 2 * parts * parts
	if covered < 0 {
		covered = -covered // outlines may run either way round
	}
	k := (min(covered, whole)*0xff + whole/2) / whole
	a, b = max(a, 0), min(b, c.img.Rect.Dx())
	if k == 0 || a >= b {
		return
	}
	mix := func(old, with uint8) uint8 { return uint8((int(old)*(0xff-k) + int(with)*k + 0x7f) / 0xff) }
	pix := c.img.Pix[y*c.img.Stride+4*a : y*c.img.Stride+4*b]
	for i := 0; i < len(pix); i += 4 {
		pix[i], pix[i+1], pix[i+2] = mix(pix[i], with.R), mix(pix[i+1], with.G), mix(pix[i+2], with.B)
	}
}

// quotient returns a/b rounded down, b not 0.
func quotient(a, b int) int {
	q := a / b
	if a%b != 0 && (a < 0) != (b < 0) {
		q--
	}
	return q
}
