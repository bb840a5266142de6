// Package svgread reads SVG files of drawings that are cut from (W3C, Scalable
// Vector Graphics 1.1).
//
// It is the independent half of the proof: it shares the types of package cut
// with the writer and no code. SVG can say one thing in many ways, and software
// for lasers understands some of them; so it reads the few that all understand,
// and names everything else. A drawing that is cut has its size in millimetres
// and one user unit a millimetre; groups whose id is the name of a layer; on the
// layers that are cut closed paths of straight lines and arcs of circles, drawn
// as hairlines without fill; besides them lines and texts. Whatever moves,
// hides, copies, clips or restyles what is drawn is a finding, whether a browser
// would show it right or not: transforms other than the turn of a text, style
// sheets, references, nested drawings.
//
// What is not part of a drawing is no finding: comments, white space, attributes
// and elements of other namespaces, in which drawing programs keep their notes.
// Groups may lie in groups. Names of layers may be written in small letters.
//
// Y is turned over, so that what is read has Y up. The reader repairs nothing;
// whether the outlines can be cut, and are those that were wanted, is for package
// outline to say. A file that is no SVG at all gives faults, never a panic.
package svgread

// Limits on what is read, so that no file can exhaust the reader.
const (
	maxBytes    = 64 << 20 // size of a file
	maxElements = 2_000_000
	maxContours = 200_000
	maxDepth    = 50   // elements within elements
	maxAttrs    = 60   // of one element
	maxFaults   = 1000 // findings kept; more tell nobody anything
	maxWords    = 200  // letters kept of a text
	maxValue    = 1e12 // user units; a number beyond it is no coordinate
)

// namespace is that of SVG ("1.3 Namespaces").
const namespace = "http://www.w3.org/2000/svg"

const (
	// limitMM is how far anything in a file may lie from where it should: a
	// twentieth of what a laser can place.
	limitMM = 0.002
	// hairlineMM is the widest line that is cut along and not burnt as a strip,
	// mm: what a beam burns at its narrowest. Common practice, no source.
	hairlineMM = 0.1
)
