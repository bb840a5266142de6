// Package cut holds drawings that are cut from: the one that was wanted
// ([Drawing]), which the writers of DXF and SVG are given, and what a file
// turned out to hold ([File]), which their readers give back. Writers and
// readers share these types and no code; whether a file may be cut is for
// package outline to say, which knows no format.
//
// A drawing has four layers, of which two are cut. The package knows layers,
// contours and the check bar, not stars; it reads, writes and judges nothing.
package cut

import "starwright/geom"

// The layers of every drawing.
const (
	Outline = "OUTLINE" // cut through, the part falls out
	Hole    = "HOLE"    // cut through first, inside an outline
	Guide   = "GUIDE"   // never cut: joints, check bar, zones
	Text    = "TEXT"    // never cut: words
)

// Cuts reports whether what is drawn on a layer is cut.
func Cuts(layer string) bool { return layer == Outline || layer == Hole }

// Known reports whether a layer is one of the four.
func Known(layer string) bool { return Cuts(layer) || layer == Guide || layer == Text }

// Drawing is one drawing, in millimetres whatever unit its file has.
type Drawing struct {
	Name     string   // what is drawn, in plain words
	UnitMM   float64  // millimetres in one drawing unit: 1, or 25.4 for inches
	Comments []string // further comments for the head of the file
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
