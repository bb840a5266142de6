package cut

import (
	"starwright/geom"
	"starwright/toolpath/finding"
)

// File is what a reader found in a file. Lengths are in millimetres by the unit
// that the file states for itself, or as they stand where it states none
// (UnitMM 0); X to the right, Y up.
type File struct {
	Name     string
	UnitMM   float64 // millimetres in a unit of the file's numbers, 0 if none says
	UnitLine int     // line that says so

	// Unit is what findings give lengths in.
	Unit geom.Unit

	Contours []FileContour
	Lines    []FileLine
	Texts    []FileText
	Others   []FileOther

	Faults []finding.Finding // what could not be read
	Form   []finding.Finding // what was read and is against the rules of its format for a drawing that is cut

	// How the format speaks of its own, for findings.
	Closer string                     // what closes a contour: "the letter Z"
	Vertex func(v geom.Vertex) string // a vertex as it stands in the file
}

// Scale returns the millimetres in a unit that the lengths of the file were
// read with.
func (f *File) Scale() float64 {
	if f.UnitMM > 0 {
		return f.UnitMM
	}
	return 1
}

// Bounds returns the box of everything that was read: of texts the place, not
// the letters.
func (f *File) Bounds() geom.Box {
	b := geom.EmptyBox()
	for i := range f.Contours {
		b = b.Union(f.Contours[i].Bounds())
	}
	for _, l := range f.Lines {
		b = b.With(l.A).With(l.B)
	}
	for _, t := range f.Texts {
		b = b.With(t.At)
	}
	for _, o := range f.Others {
		for _, c := range o.Curves {
			b = b.Union(c.Bounds())
		}
	}
	return b
}

// FileContour is an outline as it was read, closed or not.
type FileContour struct {
	Kind   string // what the format calls it: POLYLINE, path
	Layer  string
	Line   int // where it begins
	Closed bool
	geom.Contour
	VertexLines []int32 // line of each vertex
}

// FileLine is a straight line as it was read.
type FileLine struct {
	Kind  string // LINE, line
	Layer string
	Line  int
	A, B  geom.Point
}

// FileText is a text as it was read.
type FileText struct {
	Kind     string // TEXT, text
	Layer    string
	Line     int
	At       geom.Point
	HeightMM float64
	Text     string
}

// FileOther is anything else that was read.
type FileOther struct {
	Kind   string
	Layer  string
	Line   int
	Curves []geom.Curve // of a single arc, else nothing
	Words  bool         // it holds letters
	Rare   bool         // software for cutters often leaves it out without a word
}
