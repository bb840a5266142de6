// Package dxf holds the drawing that the DXF writer (dxfwrite) and the DXF
// reader (dxfread) share as a type. The two share no code: what is written is
// proven by reading it with the other.
//
// The form is ASCII R12 (AC1009), the oldest that laser and makerspace
// software reads without exception: closed POLYLINEs with bulges, LINEs and
// TEXT, no handles, no blocks. The package knows layers, not stars.
package dxf

import "starwright/geom"

// The layers of every drawing.
const (
	Outline = "OUTLINE" // cut through, the part falls out
	Hole    = "HOLE"    // cut through first, inside an outline
	Guide   = "GUIDE"   // never cut: joints, check bar, zones
	Text    = "TEXT"    // never cut: words
)

// Drawing is one drawing, in millimetres whatever unit its file has.
type Drawing struct {
	Name     string   // what is drawn, in plain words
	UnitMM   float64  // millimetres in one drawing unit: 1, or 25.4 for inches
	Comments []string // further 999 comments
	Contours []Contour
	Lines    []Line
	Texts    []Label
}

// Contour is a closed outline on a layer.
type Contour struct {
	Layer string
	geom.Contour
}

// Line is a straight line on a layer.
type Line struct {
	Layer string
	A, B  geom.Point
}

// Label is a line of text on a layer, its left end of the baseline at At.
type Label struct {
	Layer    string
	At       geom.Point
	HeightMM float64
	Turn     geom.Angle
	Text     string
}
