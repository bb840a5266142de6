package shopsheet

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/geom/words"
	"starwright/post/print"
)

// checks is what is looked at on the way to the stars, with their sizes.
func (m *maker) checks(f *print.Flow) {
	f.Head("Checks on the way")
	for _, u := range m.Order.FromBoards() {
		if m.flat() != nil {
			f.Ticks(fmt.Sprintf("%s: %s wide within %s, both facets of one length within %s.", words.Capital(u.Words("segment")), m.say(u.Segment.Width), m.tol(0.2), m.tol(0.2)))
			continue
		}
		width := fmt.Sprintf("Boards: %s wide, both edges parallel within %s.", m.say(u.Segment.Width), m.tol(0.2))
		if s := m.Bench.StripsOf(u); s.Glued() {
			width = fmt.Sprintf("Glued-up blanks: %s wide, both edges parallel within %s, the middle joint on the centre line.", m.wide(s.Ask.Width), m.tol(0.2))
		}
		f.Ticks(width, fmt.Sprintf("Blanks: all %s long within %s.", m.say(u.Blank.Length), m.tol(0.5)))
	}
	for _, u := range m.Order.Units {
		size := fmt.Sprintf("%s: facets %s apart, square to the faces; %s from centre to tip within %s",
			words.Capital(u.Words("segment")), deg(u.Segment.Center), m.say(u.Segment.Length), m.tol(1))
		if s := u.Slot; s != nil {
			size += fmt.Sprintf("; slots %s deep, %s from the show face to their middle", m.say(s.Depth), m.say(s.FromFace))
		}
		if h := u.Hang; h != nil {
			f.Ticks(fmt.Sprintf("Hanging hole of the %s: %s through, on the middle line of the segment that points up, %s from the star's centre; it keeps %s of wood to joints, edges and slots. Drill it before the finish, from the show face, on waste.",
				u.Words("star"), m.u.FormatSize(h.Diameter), m.say(h.At), m.say(m.u.Floor(h.Wood))))
		}
		f.Ticks(size+".", fmt.Sprintf("%s: last joint dry open by no more than %s; glued %s from tip to tip, the same within %s whichever two tips you measure.",
			words.Capital(u.Words("star")), m.tol(0.5), m.say(u.Width()), m.tol(math.Max(leastAcross, math.Round(u.Width()*acrossPart)))))
	}
}

// How far a star's widths from tip to tip may differ: a part of its width, and so
// many mm of a small one. Common practice, no source.
const (
	acrossPart  = 0.004
	leastAcross = 1.5
)

// tol prints a tolerance: in inches down to a line of the rule where it spans
// one, else to the hundredth.
func (m *maker) tol(mm float64) string {
	if m.u != geom.Inch {
		return m.fine(mm)
	}
	const inchRule = geom.MMPerInch / 32
	if mm >= inchRule {
		return m.say(math.Floor(mm/inchRule) * inchRule)
	}
	return m.fine(mm)
}
