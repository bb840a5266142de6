package page

import (
	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/finding"
)

// Data is all that a page shows. Lengths are mm whatever unit people read.
type Data struct {
	Title    string    // what people call the job
	Unit     geom.Unit // of dimensions on the page
	Programs []Program
	Drawings []Drawing
}

// Program is one program of the packet.
type Program struct {
	Name     string          // slot-left
	File     string          // gcode/slot-left.nc
	Use      string          // one sentence: what it cuts
	Unit     geom.Unit       // of the numbers in the file
	Lines    []string        // the text of the file, line by line
	Moves    []toolpath.Move // as read back from the file, in order
	Times    []float64       // seconds of each move; empty: length by feed
	Rapid    float64         // speed of rapids for times that are not given, mm/min
	Cutter   float64         // diameter, mm
	SafeZ    float64         // mm above the surface
	Stock    float64         // thickness of what is cut, mm; 0 where a cut never goes through
	Surface  string          // what Z0 is: "the facet", "the sheet's top"
	Shapes   []Shape
	Marks    []Mark
	Stops    []int // lines where the program stops for the operator
	Findings []finding.Finding
}

// Role says what a shape is to the person at the machine.
type Role string

// The roles of shapes.
const (
	Facet       Role = "facet"        // the wood, of a slot program
	Sheet       Role = "sheet"        // the wood, of a sheet program
	Part        Role = "part"         // outline that falls out
	Hole        Role = "hole"         // in a part
	SlotOutline Role = "slot outline" // what gets cleared
	ScrewZone   Role = "screw zone"   // no cut may come here
	Tab         Role = "tab"          // holds a part until it is sawn free
)

// Shape is an outline that the cut is held against.
type Shape struct {
	Role    Role
	Name    string // shown within a part, may be empty
	Contour geom.Contour
	Depth   float64 // mm below Z0 that has to be reached, 0 where that says nothing
	At      *Spot   // where the name stands; nil for the middle of the contour
}

// Spot is a place for words, and how far there is room to either side of it, mm.
type Spot struct {
	geom.Point
	Room float64
}

// Mark is a word at a place on the edge of the wood: "star's centre".
type Mark struct {
	At   geom.Point // mm
	Text string
}

// Drawing is one DXF of the packet.
type Drawing struct {
	Name     string
	File     string // dxf/segment.dxf
	Use      string
	UnitMM   float64 // millimetres in one drawing unit
	Contours []LayerContour
	Lines    []LayerLine
	Texts    []LayerText
	Bar      *Bar // the check bar, nil where none was found
	Findings []finding.Finding
}

// LayerContour is a contour on a layer.
type LayerContour struct {
	Layer   string
	Contour geom.Contour
}

// LayerLine is a straight line on a layer.
type LayerLine struct {
	Layer string
	A, B  geom.Point
}

// LayerText is a line of words on a layer, its left end of the baseline at At.
type LayerText struct {
	Layer  string
	At     geom.Point
	Height float64    // mm
	Turn   geom.Angle // counter-clockwise
	Text   string
}

// Bar is the check bar of a drawing.
type Bar struct {
	A, B   geom.Point // ends as drawn, mm
	Stated float64    // mm, as its words say
}
