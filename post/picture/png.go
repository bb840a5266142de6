package picture

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"

	"golang.org/x/image/vector"

	"starwright/geom"
)

// maxPixels bounds a PNG, so that a slip in the resolution does not take all
// the memory.
const maxPixels = 64 << 20

// pixelTol is how far (pixels) a flattened arc may leave the true one.
const pixelTol = 0.1

// PNG returns the sheet as a PNG on white at dpi dots an inch. Its size in
// print is written to the file. It fails on a resolution that makes no
// picture.
func (s *Sheet) PNG(dpi float64) ([]byte, error) {
	if _, err := loadFaces(); err != nil {
		return nil, err
	}
	w, h := s.Size()
	k := dpi / geom.MMPerInch
	pw, ph := math.Round(w*k), math.Round(h*k)
	if !(pw >= 1 && ph >= 1 && pw*ph <= maxPixels) {
		return nil, fmt.Errorf("picture %q: %g dots an inch make %g by %g pixels of a sheet of %g by %g mm; %g would do",
			s.Title, dpi, pw, ph, w, h, DPI)
	}
	r := newRaster(int(pw), int(ph), k, geom.Pt(s.page.Min.X, s.page.Max.Y))
	for _, it := range s.items {
		r.item(it)
	}
	return encode(r.img, dpi)
}

// raster paints items into an image.
type raster struct {
	img    *image.RGBA
	z      *vector.Rasterizer
	k      float64    // pixels in a mm
	corner geom.Point // upper left of the page, mm
}

func newRaster(w, h int, k float64, corner geom.Point) *raster {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(img, img.Bounds(), image.White, image.Point{}, draw.Src)
	return &raster{img, vector.NewRasterizer(1, 1), k, corner}
}

// pixel returns where a place of the page lies in the image.
func (r *raster) pixel(p geom.Point) geom.Point {
	return geom.Pt((p.X-r.corner.X)*r.k, (r.corner.Y-p.Y)*r.k)
}

func (r *raster) item(it item) {
	tol := pixelTol / r.k
	switch {
	case it.word != nil:
		r.word(*it.word)
	case it.fill:
		var s shape
		for _, line := range it.runs {
			s.pieces = append(s.pieces, flatten(line.curves, tol))
		}
		r.paint(s, it.pen.Color)
	default:
		// A long line is painted in pieces, so that each covers a small part
		// of the image only.
		const chunk = 100
		for _, line := range it.runs {
			for from := 0; from < len(line.curves); from += chunk {
				part := line
				if len(line.curves) > chunk {
					part.curves = line.curves[from:min(from+chunk, len(line.curves))]
					part.closed = false
				}
				r.paint(strokeShape([]run{part}, it.pen, tol), it.pen.Color)
			}
		}
	}
}

// paint covers the union of the pieces with a colour.
func (r *raster) paint(s shape, c Color) {
	b := geom.EmptyBox()
	for i, piece := range s.pieces {
		for j, p := range piece {
			s.pieces[i][j] = r.pixel(p)
			b = b.With(s.pieces[i][j])
		}
	}
	at, ok := r.window(b)
	if !ok {
		return
	}
	for _, piece := range s.pieces {
		for j, p := range piece {
			x, y := float32(p.X-float64(at.Min.X)), float32(p.Y-float64(at.Min.Y))
			if j == 0 {
				r.z.MoveTo(x, y)
			} else {
				r.z.LineTo(x, y)
			}
		}
		r.z.ClosePath()
	}
	r.z.Draw(r.img, at, image.NewUniform(c.RGBA8()), image.Point{})
}

// window makes ready for painting within the box (pixels), and returns the
// part of the image that is painted on.
func (r *raster) window(b geom.Box) (image.Rectangle, bool) {
	size := r.img.Bounds()
	b = b.Grow(1)
	if b.Empty() || !b.Min.Finite() || !b.Max.Finite() ||
		b.Max.X < 0 || b.Max.Y < 0 || b.Min.X > float64(size.Dx()) || b.Min.Y > float64(size.Dy()) {
		return image.Rectangle{}, false
	}
	at := image.Rect(
		int(math.Max(0, math.Floor(b.Min.X))), int(math.Max(0, math.Floor(b.Min.Y))),
		int(math.Min(float64(size.Dx()), math.Ceil(b.Max.X))), int(math.Min(float64(size.Dy()), math.Ceil(b.Max.Y))))
	if at.Empty() {
		return at, false
	}
	r.z.Reset(at.Dx(), at.Dy())
	return at, true
}

// word paints the letters of a word.
func (r *raster) word(w Word) {
	f := w.face()
	at, ok := r.window(geom.EmptyBox().Union(r.box(w.plate().grow(w.em() * 0.3))))
	if !ok {
		return
	}
	u := geom.Polar(w.em()/f.em, w.Turn)
	o := w.start()
	point := func(p geom.Point) (float32, float32) {
		q := r.pixel(o.Add(u.Mul(p.X)).Add(u.Left().Mul(p.Y)))
		return float32(q.X - float64(at.Min.X)), float32(q.Y - float64(at.Min.Y))
	}
	for _, ch := range w.Text {
		g := f.glyph(ch)
		for _, st := range g.strokes {
			x, y := point(st.p)
			switch st.op {
			case 'M':
				r.z.MoveTo(x, y)
			case 'L':
				r.z.LineTo(x, y)
			case 'Q':
				cx, cy := point(st.c)
				r.z.QuadTo(cx, cy, x, y)
			case 'Z':
				r.z.ClosePath()
			}
		}
		o = o.Add(u.Mul(g.advance))
	}
	r.z.Draw(r.img, at, image.NewUniform(w.Color.RGBA8()), image.Point{})
}

func (r *raster) box(p plate) geom.Box {
	b := geom.EmptyBox()
	for _, v := range p.contour() {
		b = b.With(r.pixel(v.Point))
	}
	return b
}

// encode writes the image with few colours, which is several times faster and
// smaller than full colour, and notes its resolution.
func encode(img *image.RGBA, dpi float64) ([]byte, error) {
	var b bytes.Buffer
	e := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := e.Encode(&b, fewColors(img)); err != nil {
		return nil, err
	}
	return withResolution(b.Bytes(), dpi), nil
}

// fewColors reduces an image to at most 256 colours: colours that agree in the
// upper bits of each channel become the first of them that is met. The colours
// drawn with are few; what is between them are the edges' shades.
func fewColors(img *image.RGBA) *image.Paletted {
	for bits := uint(5); ; bits-- {
		if out, ok := reduce(img, bits); ok {
			return out
		}
	}
}

func reduce(img *image.RGBA, bits uint) (*image.Paletted, bool) {
	out := image.NewPaletted(img.Bounds(), nil)
	index := make([]int16, 1<<(3*bits))
	drop := 8 - bits
	var last uint32
	var lastIndex uint8
	for i := range out.Pix {
		px := img.Pix[4*i : 4*i+3 : 4*i+3]
		rgb := uint32(px[0])<<16 | uint32(px[1])<<8 | uint32(px[2])
		if i > 0 && rgb == last {
			out.Pix[i] = lastIndex
			continue
		}
		key := uint32(px[0]>>drop)<<(2*bits) | uint32(px[1]>>drop)<<bits | uint32(px[2]>>drop)
		if index[key] == 0 {
			if len(out.Palette) == 256 {
				return nil, false
			}
			out.Palette = append(out.Palette, color.RGBA{px[0], px[1], px[2], 0xff})
			index[key] = int16(len(out.Palette))
		}
		last, lastIndex = rgb, uint8(index[key]-1)
		out.Pix[i] = lastIndex
	}
	return out, true
}

// withResolution adds the pHYs chunk (ISO/IEC 15948:2003, 11.3.5.3), which has
// to stand before the image data, right after the header chunk.
func withResolution(file []byte, dpi float64) []byte {
	const header = 8 + 4 + 4 + 13 + 4 // signature, and the IHDR chunk
	perMetre := uint32(math.Round(dpi / geom.MMPerInch * 1000))
	chunk := make([]byte, 4, 21)
	binary.BigEndian.PutUint32(chunk, 9)
	chunk = append(chunk, "pHYs"...)
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = append(chunk, 1) // the unit is the metre
	chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
	out := make([]byte, 0, len(file)+len(chunk))
	out = append(out, file[:header]...)
	out = append(out, chunk...)
	return append(out, file[header:]...)
}
