package picture

import "starwright/geom"

// Brush is what a picture is drawn with: it puts ink on pixels or on paper. It is
// given places in the picture's own coordinates.
type Brush interface {
	// Fill paints the area within closed lines. Lines within others that run the
	// other way round leave holes.
	Fill(area []Run, c Color)
	// Stroke draws lines. Corners are round; ends are square unless the pen says
	// otherwise.
	Stroke(lines []Run, p Pen)
	// Write sets a word.
	Write(w Word)
}

// Run is one connected line. A closed one goes back from its last end to where
// it starts.
type Run struct {
	Curves []geom.Curve
	Closed bool
}

// DrawWith draws all that stands on the picture, in the order it was set.
func (s *Picture) DrawWith(b Brush) {
	for _, it := range s.items {
		switch {
		case it.word != nil:
			b.Write(*it.word)
		case it.fill:
			b.Fill(it.runs, it.pen.Color)
		default:
			b.Stroke(it.runs, it.pen)
		}
	}
}
