package picture

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"slices"

	"golang.org/x/image/vector"

	"starwright/geom"
)

// raster is an image of at most 256 colours that opaque shapes are painted
// into, their edges smoothed. It keeps numbers of colours instead of colours: a
// quarter of the memory, and nothing to convert when it is written.
type raster struct {
	w, h   int
	pix    []uint8
	colors []Color // by their numbers
	number map[Color]uint8
	blends map[uint8][]int16 // by colour painted: by what lies below and how much is covered

	z      *vector.Rasterizer
	mask   *image.Alpha
	k      float64    // pixels in a mm
	corner geom.Point // upper left of the page, mm
	shape  shape      // of the line being drawn
	boxes  []geom.Box // of the pieces being painted
}

func newRaster(w, h int, k float64, corner geom.Point) *raster {
	r := &raster{w: w, h: h, pix: pixels(w * h), number: map[Color]uint8{}, blends: map[uint8][]int16{},
		z: vector.NewRasterizer(1, 1), mask: image.NewAlpha(image.Rect(0, 0, 1, 1)), k: k, corner: corner}
	r.color(White) // number 0, the ground
	return r
}

func (r *raster) image() *image.Paletted {
	palette := make(color.Palette, len(r.colors))
	for i, c := range r.colors {
		palette[i] = c.RGBA8()
	}
	return &image.Paletted{Pix: r.pix, Stride: r.w, Rect: image.Rect(0, 0, r.w, r.h), Palette: palette}
}

// pixel returns where a place of the page lies in the image.
func (r *raster) pixel(p geom.Point) geom.Point {
	return geom.Pt((p.X-r.corner.X)*r.k, (r.corner.Y-p.Y)*r.k)
}

// clip returns the pixels that a box (in pixels) touches, and false for none.
func (r *raster) clip(b geom.Box) (image.Rectangle, bool) {
	if b.Empty() || !b.Min.Finite() || !b.Max.Finite() {
		return image.Rectangle{}, false
	}
	in := func(v float64, most int) int { return int(math.Max(0, math.Min(float64(most), v))) }
	at := image.Rect(in(math.Floor(b.Min.X), r.w), in(math.Floor(b.Min.Y), r.h), in(math.Ceil(b.Max.X), r.w), in(math.Ceil(b.Max.Y), r.h))
	return at, !at.Empty()
}

// tile is the side (pixels) of the squares that shapes are painted in: most of
// a long outline's box is empty and is left out by squares.
const tile = 64

// paint covers the union of the pieces with a colour.
func (r *raster) paint(pieces [][]geom.Point, c Color) {
	all := geom.EmptyBox()
	boxes := slices.Grow(r.boxes[:0], len(pieces))[:len(pieces)]
	r.boxes = boxes
	for i, piece := range pieces {
		boxes[i] = geom.EmptyBox()
		for j, p := range piece {
			piece[j] = r.pixel(p)
			boxes[i] = boxes[i].With(piece[j])
		}
		all = all.Union(boxes[i])
	}
	at, ok := r.clip(all)
	if !ok {
		return
	}
	n := r.color(c)
	for y := at.Min.Y; y < at.Max.Y; y += tile {
		for x := at.Min.X; x < at.Max.X; x += tile {
			r.paintTile(pieces, boxes, image.Rect(x, y, min(x+tile, at.Max.X), min(y+tile, at.Max.Y)), n)
		}
	}
}

// paintTile paints the pieces that touch a square. A closed piece that does not
// covers nothing of it.
func (r *raster) paintTile(pieces [][]geom.Point, boxes []geom.Box, at image.Rectangle, n uint8) {
	box := geom.Box{Min: geom.Pt(float64(at.Min.X), float64(at.Min.Y)), Max: geom.Pt(float64(at.Max.X), float64(at.Max.Y))}
	any := false
	for i, piece := range pieces {
		if !boxes[i].Overlaps(box) {
			continue
		}
		if !any {
			r.z.Reset(at.Dx(), at.Dy())
			any = true
		}
		for j, p := range piece {
			x, y := float32(p.X-box.Min.X), float32(p.Y-box.Min.Y)
			if j == 0 {
				r.z.MoveTo(x, y)
			} else {
				r.z.LineTo(x, y)
			}
		}
		r.z.ClosePath()
	}
	if any {
		r.cover(at, n)
	}
}

// levels is how many degrees of covering a pixel are told apart.
const levels = 16

// cover paints colour n as far as the rasterizer's shape covers the pixels.
func (r *raster) cover(at image.Rectangle, n uint8) {
	w, h := at.Dx(), at.Dy()
	if cap(r.mask.Pix) < w*h {
		r.mask.Pix = make([]uint8, w*h)
	}
	r.mask.Pix, r.mask.Stride, r.mask.Rect = r.mask.Pix[:w*h], w, image.Rect(0, 0, w, h)
	r.z.DrawOp = draw.Src // forgotten with each reset
	r.z.Draw(r.mask, r.mask.Rect, image.Opaque, image.Point{})
	blend := r.blends[n]
	if blend == nil {
		blend = make([]int16, 256*levels)
		r.blends[n] = blend
	}
	for y := range h {
		row := r.pix[(at.Min.Y+y)*r.w+at.Min.X:][:w]
		for x, a := range r.mask.Pix[y*w:][:w] {
			switch {
			case a < 256/levels/2:
			case a > 255-256/levels/2:
				row[x] = n
			default:
				k := int(row[x])*levels + int(a)*levels/256
				if blend[k] == 0 {
					blend[k] = int16(r.blend(row[x], n, float64(int(a)*levels/256)/(levels-1))) + 1
				}
				row[x] = uint8(blend[k] - 1)
			}
		}
	}
}

// color returns the number of a colour, a new one while there is room.
func (r *raster) color(c Color) uint8 {
	if n, ok := r.number[c]; ok {
		return n
	}
	if len(r.colors) < 256 {
		n := uint8(len(r.colors))
		r.colors = append(r.colors, c)
		r.number[c] = n
		return n
	}
	n, _ := r.nearest(c)
	r.number[c] = n
	return n
}

// blend returns the number of the colour a part t of the way from one colour
// to another. One that differs by less than can be seen counts as the same.
func (r *raster) blend(below, above uint8, t float64) uint8 {
	const same = 5 // steps of 255 in a channel
	c := r.colors[below].mix(r.colors[above], t)
	if n, off := r.nearest(c); off <= same {
		return n
	}
	return r.color(c)
}

// nearest returns the colour at hand that differs least in its worst channel.
func (r *raster) nearest(c Color) (n uint8, off int) {
	off = 256
	for i, p := range r.colors {
		d := max(abs(int(p>>16&0xff)-int(c>>16&0xff)), abs(int(p>>8&0xff)-int(c>>8&0xff)), abs(int(p&0xff)-int(c&0xff)))
		if d < off {
			n, off = uint8(i), d
		}
	}
	return n, off
}

func abs(v int) int { return max(v, -v) }
