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
	"slices"

	"starwright/geom"
)

// maxPixels bounds a PNG, so that a slip in the resolution does not take all
// the memory.
const maxPixels = 64 << 20

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
		return nil, fmt.Errorf("picture %q: %g dots an inch make %g by %g pixels of a picture of %g by %g mm; take %g",
			s.Title, dpi, pw, ph, w, h, DPI)
	}
	img := image.NewRGBA(image.Rect(0, 0, int(pw), int(ph)))
	draw.Draw(img, img.Rect, image.White, image.Point{}, draw.Src)
	s.DrawWith(&pngBrush{newCoverage(img), geom.Pt(s.page.Min.X, s.page.Max.Y), k})
	var b bytes.Buffer
	e := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := e.Encode(&b, s.fewColors(img)); err != nil {
		return nil, err
	}
	return withResolution(b.Bytes(), dpi), nil
}

// fewColors returns the image in at most 256 colours, those of its inks
// and steps from each to white, as edges show them: it is written in a quarter of
// the time and to a third of the size.
func (s *Picture) fewColors(img *image.RGBA) *image.Paletted {
	palette := color.Palette{color.White}
	inks := s.inks()
	for steps, i := max(1, min(16, 255/len(inks))), 0; i < len(inks) && len(palette)+steps <= 256; i++ {
		for k := 1; k <= steps; k++ {
			palette = append(palette, White.mix(inks[i], float64(k)/float64(steps)).RGBA8())
		}
	}
	out := image.NewPaletted(img.Rect, palette)
	const white = 0xffffffff
	known := map[uint32]uint8{}
	last, number := uint32(white), uint8(0)
	for i := range out.Pix {
		if p := binary.LittleEndian.Uint32(img.Pix[4*i:]); p != last {
			last = p
			var ok bool
			if number, ok = known[p]; !ok {
				number = uint8(palette.Index(color.RGBA{uint8(p), uint8(p >> 8), uint8(p >> 16), 255}))
				known[p] = number
			}
		}
		out.Pix[i] = number
	}
	return out
}

// inks returns the colours that the picture is drawn in.
func (s *Picture) inks() []Color {
	out := []Color{Ink}
	for _, it := range s.items {
		c := it.pen.Color
		if it.word != nil {
			c = it.word.Color
		}
		if c != White && !slices.Contains(out, c) {
			out = append(out, c)
		}
	}
	return out
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
