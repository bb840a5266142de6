package jig

import (
	"unicode/utf8"

	"starwright/geom"
)

// Sizes of lettering, as parts of its height; engraving fonts with one stroke
// are a little narrower than this. Common practice, no source.
const (
	letterWidth = 0.65
	letterDrop  = 0.25 // below the baseline
	lineStep    = 1.6
)

// label makes a line of text.
func label(at geom.Point, height float64, turn geom.Angle, text string) Label {
	return Label{At: at, Height: height, Turn: turn, Text: text}
}

// textBox returns the room a label takes, counter-clockwise.
func textBox(l Label) geom.Contour {
	w := letterWidth * l.Height * float64(utf8.RuneCountInString(l.Text))
	box := geom.Rect(geom.Box{Min: geom.Pt(0, -letterDrop*l.Height), Max: geom.Pt(w, l.Height)})
	return geom.Place{Turn: l.Turn, Move: l.At}.Contour(box)
}

// inside reports whether a shape lies in the wood of an outline with holes,
// clear of every edge by margin mm.
func inside(shape, outline geom.Contour, holes []Hole, margin float64) bool {
	return newWood(outline, holes).holds(shape, margin)
}

// clear reports whether two contours' lines keep apart by at least d mm.
func clear(a, b geom.Contour, d float64) bool { return newWood(b, nil).clear(a, d) }

// inscribe finds room for lines of text, one below the other, in the wood of an
// outline, near the place wanted and as tall as it can be between 3 and 8 mm.
// Lines that find no room are left out, the last ones first. The text runs in
// direction turn.
func inscribe(outline geom.Contour, holes []Hole, near geom.Point, turn geom.Angle, lines ...string) []Label {
	s := newSeeker(newWood(outline, holes), near)
	defer s.free()
	return s.inscribe(turn, lines...)
}

// inscribe is the package's inscribe about the seeker's place.
func (s *seeker) inscribe(turn geom.Angle, lines ...string) []Label {
	heights := [...]float64{8, 6, 5, 4, 3}
	for n := len(lines); n > 0; n-- {
		if _, ok := s.text(turn, lines[:n], heights[len(heights)-1]); !ok {
			continue // nor is there room for taller letters
		}
		for _, h := range heights {
			if at, ok := s.text(turn, lines[:n], h); ok {
				return block(at, turn, h, lines[:n])
			}
		}
	}
	return nil
}

// block sets lines of text from the baseline of the first.
func block(at geom.Point, turn geom.Angle, h float64, lines []string) []Label {
	var out []Label
	for i, s := range lines {
		down := geom.Place{Turn: turn}.Point(geom.Pt(0, -lineStep*h*float64(i)))
		out = append(out, label(at.Add(down), h, turn, s))
	}
	return out
}

// text looks for the nearest place at which all lines have room; it returns the
// start of the first baseline.
func (s *seeker) text(turn geom.Angle, lines []string, h float64) (geom.Point, bool) {
	const margin = 2 // mm to every edge
	longest := 0
	for _, l := range lines {
		longest = max(longest, utf8.RuneCountInString(l))
	}
	w := letterWidth * h * float64(longest)
	tall := lineStep*h*float64(len(lines)-1) + (1+letterDrop)*h
	// The box of all lines about its middle, and the first baseline from there.
	box := geom.Place{Turn: turn}.Contour(geom.Rect(geom.Box{Min: geom.Pt(-w/2, -tall/2), Max: geom.Pt(w/2, tall/2)}))
	first := geom.Place{Turn: turn}.Point(geom.Pt(-w/2, tall/2-h))
	m, ok := s.spot(box, margin)
	return m.Add(first), ok
}
