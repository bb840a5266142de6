// Package dxfread reads ASCII DXF files of drawings that are cut from.
//
// It is the independent half of the proof: it shares the types of package cut
// with the writer and no code. It reads closed polylines with bulges in full,
// lines, circles, arcs, texts and light polylines as far as they matter to a
// cutter, and names everything else by its type and line. It repairs nothing: a
// file that is no DXF at all gives faults, never a panic. What the format itself
// asks of a drawing for a cutter stands in [cut.File.Form]: release, unit,
// extents, layers that are on, outlines that are flat. Whether the outlines
// can be cut, and are those that were wanted, is for package outline to say.
//
// Sources: the DXF reference ("DXF File Structure", "HEADER variables",
// "POLYLINE (DXF)", "VERTEX (DXF)", "LWPOLYLINE (DXF)"), as release 12 has it
// where releases differ.
package dxfread

import "starwright/geom"

// header is what the file says of itself.
type header struct {
	version  string // $ACADVER: AC1009 for release 12
	insUnits int    // $INSUNITS where the file has it, else -1
	insLine  int    // line of that variable

	hasExtents     bool // both $EXTMIN and $EXTMAX were read
	extMin, extMax geom.Point
	extLine        int

	layers []layer
}

// layer is a record of the layer table.
type layer struct {
	name   string
	line   int
	colour int // negative where the layer is off
	flags  int // bits 1 and 2: frozen, in this view or in new ones

	unplotted bool   // group 290 is 0
	lineType  string // group 6
}

// form is what a flat outline has none of; each is 0 in an honest file. There
// is one for each contour.
type form struct {
	flags     int     // further bits of group 70: 2, 4 fitted curves, 8 3-D, 16 mesh, 64 faces
	elevation float64 // mm, the largest of groups 30 and 38
	thickness float64 // mm, group 39
	width     float64 // mm, the largest of groups 40, 41, 43
	turned    bool    // an extrusion direction other than +Z, groups 210 to 230
	lineType  string  // group 6, "" where it is that of the layer
	hidden    bool    // paper space or invisible, groups 67 and 60
	bare      bool    // a POLYLINE that does not say that vertices follow, group 66
}

// Limits on what is read, so that no file can exhaust the reader.
const (
	maxBytes    = 256 << 20 // size of a file
	maxLine     = 2048      // bytes in a line
	maxEntities = 5_000_000
	maxFaults   = 1000 // findings kept; more tell nobody anything
	maxWords    = 200  // letters kept of a comment or text
	maxValue    = 1e12 // drawing units; a number beyond it is no coordinate
)
