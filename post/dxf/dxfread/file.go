// Package dxfread reads ASCII DXF files and judges them as drawings to be cut:
// what a file holds, whether it keeps the rules of a drawing for a cutter
// ([Judge]), and whether it is the drawing that was wanted ([Compare]).
//
// It is the independent half of the proof: it shares the types of package dxf
// with the writer and no code. It reads closed polylines with bulges in full,
// lines, circles, arcs, texts and light polylines as far as they matter to a
// cutter, and names everything else by its type and line. It knows layers and
// contours, not stars; it repairs nothing, and a file that is no DXF at all
// gives findings, never a panic.
//
// Sources: the DXF reference ("DXF File Structure", "HEADER variables",
// "POLYLINE (DXF)", "VERTEX (DXF)", "LWPOLYLINE (DXF)"), as release 12 has it
// where releases differ.
package dxfread

import (
	"starwright/geom"
	"starwright/toolpath/finding"
)

// File is what a DXF file holds. Lengths are in millimetres by the unit that
// the file states for itself, or as they stand where it states none (UnitMM 0).
type File struct {
	Name     string
	Version  string   // $ACADVER: AC1009 for release 12
	Comments []string // 999 comments in order
	UnitMM   float64  // millimetres in a drawing unit by the 999 comment, 0 if none says
	UnitLine int      // line of that comment
	InsUnits int      // $INSUNITS where the file has it, else -1

	HasExtents bool // both $EXTMIN and $EXTMAX were read
	ExtMin     geom.Point
	ExtMax     geom.Point
	ExtLine    int

	Layers   []Layer
	Contours []Contour
	Lines    []Line
	Texts    []Text
	Others   []Other
	Bar      *Bar              // the check bar, nil where none was found
	Faults   []finding.Finding // faults of the file's structure
}

// Scale returns the millimetres in a drawing unit that the lengths of the File
// were read with.
func (f *File) Scale() float64 {
	if f.UnitMM > 0 {
		return f.UnitMM
	}
	return 1
}

// Layer is a record of the layer table.
type Layer struct {
	Name   string
	Line   int
	Colour int // negative where the layer is off
	Flags  int // bit 1: frozen
}

// Contour is a polyline, or a circle as two arcs.
type Contour struct {
	Entity string // POLYLINE, LWPOLYLINE or CIRCLE
	Layer  string
	Line   int // line of the entity
	Closed bool
	geom.Contour
	VertexLines []int32 // line of each vertex

	// What a flat outline has none of; each is 0 in an honest file.
	Flags     int     // further bits of group 70: 2, 4 fitted curves, 8 3-D, 16 mesh, 64 faces
	Elevation float64 // mm, the largest of groups 30 and 38
	Thickness float64 // mm, group 39
	Width     float64 // mm, the largest of groups 40, 41, 43
	Turned    bool    // an extrusion direction other than +Z, groups 210 to 230
	Hidden    bool    // paper space or invisible, groups 67 and 60
	Bare      bool    // a POLYLINE that does not say that vertices follow, group 66
}

// Line is a LINE.
type Line struct {
	Layer string
	Line  int
	A, B  geom.Point
}

// Text is a TEXT or MTEXT.
type Text struct {
	Layer    string
	Line     int
	At       geom.Point
	HeightMM float64
	Text     string
}

// Other is an entity of any other type.
type Other struct {
	Entity string
	Layer  string
	Line   int
	Curves []geom.Curve // of an ARC, else nothing
}

// Bar is the check bar: a line on GUIDE with ticks on its ends and a text that
// says how long it is.
type Bar struct {
	StatedMM float64 // as the text says
	Units    float64 // as drawn, in drawing units
	Line     int     // line of the bar
	TextLine int     // line of its text
	lines    [3]int  // bar and ticks among File.Lines
}

// UnitMM returns the millimetres in a drawing unit by which the bar has the
// length it states.
func (b *Bar) UnitMM() float64 { return b.StatedMM / b.Units }

// Limits on what is read, so that no file can exhaust the reader.
const (
	maxBytes    = 256 << 20 // size of a file
	maxLine     = 2048      // bytes in a line
	maxEntities = 5_000_000
	maxFaults   = 1000 // findings kept; more tell nobody anything
	maxComments = 1000
	maxWords    = 200  // letters kept of a comment or text
	maxValue    = 1e12 // drawing units; a number beyond it is no coordinate
)
