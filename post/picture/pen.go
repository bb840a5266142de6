package picture

import "image/color"

// Color is an opaque colour, 0xRRGGBB.
type Color uint32

// The colours of the pictures. Their luminances differ, so that they stay
// apart in a grey print.
const (
	Ink    Color = 0x1a1a1a // outlines and words
	White  Color = 0xffffff
	Wood   Color = 0xf4ead6 // wood that stays
	Dusk   Color = 0xf1deb4 // wood that stays, of the darker of two kinds
	Shade  Color = 0xe6e2da // wood that goes
	Saw    Color = 0xa9a39a // wood that the saw turns to dust
	Blue   Color = 0x1d4f91 // dimensions
	Grey   Color = 0x636363 // guides, and words beside them
	Rust   Color = 0xa63a12 // rapids, hidden lines of splines
	Red    Color = 0xb00020 // findings
	Tongue Color = 0xc9b99a // splines
	Seated Color = 0x7ba0c4 // work that lies in a jig
	Gold   Color = 0xe0a800 // tabs
)

// RGBA8 returns the colour for the standard library.
func (c Color) RGBA8() color.RGBA {
	return color.RGBA{uint8(c >> 16), uint8(c >> 8), uint8(c), 0xff}
}

// mix returns the colour a part t of the way from c to d.
func (c Color) mix(d Color, t float64) Color {
	var out Color
	for shift := 0; shift < 24; shift += 8 {
		a, b := float64(c>>shift&0xff), float64(d>>shift&0xff)
		out |= Color(a+(b-a)*t+0.5) << shift
	}
	return out
}

// Pen is a line as drawn. Widths and dashes are millimetres on the page.
type Pen struct {
	Color Color
	Width float64
	Dash  []float64 // lengths of dash and gap in turn; none for a solid line
	Round bool      // round ends
}

// The line widths of ISO 128-2:2020, 5.3 (0.18 to 0.5 mm), of which the thin
// one is kept a little wider so that it survives a copier.
const (
	thin   = 0.2
	medium = 0.3
	thick  = 0.5
)

// Thin returns a solid thin line: dimensions, leaders, hatching.
func Thin(c Color) Pen { return Pen{Color: c, Width: thin} }

// Medium returns a solid line of medium weight: joints, holes.
func Medium(c Color) Pen { return Pen{Color: c, Width: medium} }

// Thick returns a solid thick line: outlines.
func Thick(c Color) Pen { return Pen{Color: c, Width: thick} }

// Hidden returns the pen for edges that lie behind wood: short dashes.
func Hidden(c Color) Pen { return Pen{Color: c, Width: medium, Dash: []float64{1.8, 1.0}} }

// Chain returns the pen for axes and lines of reference: long dash, dot.
func Chain(c Color) Pen { return Pen{Color: c, Width: thin, Dash: []float64{5, 1.1, 0.6, 1.1}} }

// Phantom returns the pen for things shown for reference, such as work seated
// in a jig: long dash, two dots.
func Phantom(c Color) Pen {
	return Pen{Color: c, Width: 0.35, Dash: []float64{5, 1, 0.7, 1, 0.7, 1}}
}
