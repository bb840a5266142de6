package print

import "starwright/post/picture"

// Bounds of the lightness, 0 black to 1 white.
const (
	darkLine = 0.38 // lines that are darker are printed black
	paleFill = 0.85 // areas that are lighter are left white
)

// lightness weighs a colour by Rec. 709.
func lightness(c picture.Color) float64 {
	v := c.RGBA8()
	return (0.2126*float64(v.R) + 0.7152*float64(v.G) + 0.0722*float64(v.B)) / 0xff
}

// lineGrey returns the grey that a line of a colour is printed in: coloured lines
// become black, what is as light as a grey stays one.
func lineGrey(c picture.Color) float64 {
	if v := lightness(c); v >= darkLine {
		return v
	}
	return 0
}

// areaGrey returns the grey that an area is printed in. Pale tints become paper;
// hatching and solid greys stay what they are, so that parts can still be told
// from each other.
func areaGrey(c picture.Color) float64 {
	switch v := lightness(c); {
	case v >= paleFill:
		return 1
	case v >= darkLine:
		return v
	}
	return 0
}
