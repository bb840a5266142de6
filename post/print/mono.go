package print

import (
	"image"
	"image/color"

	"github.com/tdewolff/canvas"
)

// mono passes drawings on in black, greys and white. Pale tints become paper,
// coloured lines black; hatching and solid greys stay what they are, so that
// parts can still be told from each other.
type mono struct{ to canvas.Renderer }

// Bounds of the lightness, 0 black to 1 white.
const (
	darkLine = 0.38 // lines that are darker are printed black
	paleFill = 0.85 // areas that are lighter are left white
)

func (m mono) Size() (float64, float64) { return m.to.Size() }

func (m mono) RenderPath(p *canvas.Path, s canvas.Style, at canvas.Matrix) {
	if s.HasFill() {
		s.Fill = canvas.Paint{Color: tint(s.Fill.Color)}
	}
	if s.HasStroke() {
		s.Stroke = canvas.Paint{Color: line(s.Stroke.Color)}
	}
	m.to.RenderPath(p, s, at)
}

func (m mono) RenderText(t *canvas.Text, at canvas.Matrix) {
	t.WalkSpans(func(_, _ float64, span canvas.TextSpan) {
		if span.IsText() {
			span.Face.Fill = canvas.Paint{Color: color.RGBA{A: 0xff}}
		}
	})
	m.to.RenderText(t, at)
}

func (m mono) RenderImage(img image.Image, at canvas.Matrix) { m.to.RenderImage(img, at) }

// lightness weighs a colour by Rec. 709.
func lightness(c color.RGBA) float64 {
	return (0.2126*float64(c.R) + 0.7152*float64(c.G) + 0.0722*float64(c.B)) / 0xff
}

func grey(v float64) color.RGBA {
	g := uint8(v*0xff + 0.5)
	return color.RGBA{g, g, g, 0xff}
}

func line(c color.RGBA) color.RGBA {
	if v := lightness(c); v >= darkLine {
		return grey(v)
	}
	return grey(0)
}

func tint(c color.RGBA) color.RGBA {
	switch v := lightness(c); {
	case v >= paleFill:
		return grey(1)
	case v >= darkLine:
		return grey(v)
	}
	return grey(0)
}
