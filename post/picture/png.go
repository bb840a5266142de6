package picture

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image/png"
	"math"
	"sync"

	"starwright/geom"
)

// maxPixels bounds a PNG, so that a slip in the resolution does not take all
// the memory.
const maxPixels = 64 << 20

// ink returns the colour that the item is drawn in.
func (it item) ink() Color {
	if it.word != nil {
		return it.word.Color
	}
	return it.pen.Color
}

// pixelTol is how far (pixels) a flattened arc may leave the true one.
const pixelTol = 0.1

// PNG returns the picture as a PNG on white at dpi dots an inch. Its size in
// print is written to the file. It fails on a resolution that makes no
// picture.
func (s *Picture) PNG(dpi float64) ([]byte, error) {
	if _, err := loadFaces(); err != nil {
		return nil, err
	}
	w, h := s.Size()
	k := dpi / geom.MMPerInch
	pw, ph := math.Round(w*k), math.Round(h*k)
	if !(pw >= 1 && ph >= 1 && pw*ph <= maxPixels) {
		return nil, fmt.Errorf("picture %q: %g dots an inch make %g by %g pixels of a picture of %g by %g mm; %g would do",
			s.Title, dpi, pw, ph, w, h, DPI)
	}
	r := newRaster(int(pw), int(ph), k, geom.Pt(s.page.Min.X, s.page.Max.Y))
	for _, it := range s.items {
		r.color(it.ink()) // pure colours come first, so that they stay exact
	}
	for _, it := range s.items {
		r.item(it)
	}
	out, err := r.encode(dpi)
	pixelPool.Put(&r.pix)
	return out, err
}

func (r *raster) item(it item) {
	tol := pixelTol / r.k
	switch {
	case it.word != nil:
		r.word(*it.word)
	case it.fill:
		pieces := make([][]geom.Point, len(it.runs))
		for i, line := range it.runs {
			pieces[i] = flatten(line.curves, tol)
		}
		r.paint(pieces, it.pen.Color)
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
				r.shape.stroke([]run{part}, it.pen, tol)
				r.paint(r.shape.pieces, it.pen.Color)
			}
		}
	}
}

// word paints the letters of a word.
func (r *raster) word(w Word) {
	f := w.face()
	at, ok := r.clip(r.box(w.plate().grow(w.em() * 0.3)))
	if !ok {
		return
	}
	r.z.Reset(at.Dx(), at.Dy())
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
	r.cover(at, r.color(w.Color))
}

func (r *raster) box(p plate) geom.Box {
	b := geom.EmptyBox()
	for _, v := range p.contour() {
		b = b.With(r.pixel(v.Point))
	}
	return b
}

// encode writes the image, which has few colours: that is several times faster
// and smaller than full colour.
func (r *raster) encode(dpi float64) ([]byte, error) {
	var b bytes.Buffer
	e := png.Encoder{CompressionLevel: png.BestSpeed, BufferPool: encoders{}}
	if err := e.Encode(&b, r.image()); err != nil {
		return nil, err
	}
	return withResolution(b.Bytes(), dpi), nil
}

// encoders and rasters keep what is large and the same for every picture, so
// that a packet's pictures do not each make it anew.
type encoders struct{}

var (
	encoderPool sync.Pool
	pixelPool   sync.Pool
)

// Get implements [png.EncoderBufferPool].
func (encoders) Get() *png.EncoderBuffer {
	b, _ := encoderPool.Get().(*png.EncoderBuffer)
	return b
}

// Put implements [png.EncoderBufferPool].
func (encoders) Put(b *png.EncoderBuffer) { encoderPool.Put(b) }

// pixels returns n bytes of zero.
func pixels(n int) []uint8 {
	if p, _ := pixelPool.Get().(*[]uint8); p != nil && cap(*p) >= n {
		out := (*p)[:n]
		clear(out)
		return out
	}
	return make([]uint8, n)
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
