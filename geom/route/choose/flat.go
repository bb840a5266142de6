package choose

import (
	"fmt"
	"slices"

	"starwright/geom"
	"starwright/geom/route"
)

// Flat is how segments are cut on the CNC, from boards that lie flat on it.
type Flat struct {
	Pieces []FlatPiece // of board, in the order in which their programs are run
	Bit    float64     // mm
}

// FlatPiece is a piece of board, and how many of them are cut.
type FlatPiece struct {
	Program                  string
	Length, Width, Thickness float64 // mm
	Count                    int
	Segments                 []int // on one piece, by the order's units
}

// byCNC is the advice to a shop without a mitre saw that has a CNC.
const byCNC = `, or cut = "cnc" under [segments]`

// flatMethods settles how the segments of all units are cut where the CNC does it.
func (m *maker) flatMethods() {
	how := "CNC, from boards that lie flat"
	m.choice(nil, "segments", how, "the job asks for it", "")
}

// sawNext says what a shop without a mitre saw would need to cut a face of a unit
// otherwise than by hand.
func (m *maker) sawNext(u *unit) string {
	next := "a mitre saw"
	for _, v := range m.units {
		if v.From != nil || v.Halved() {
			return next
		}
	}
	if m.Shop.CNC && u.strips == nil {
		next += byCNC
	}
	return next
}

// layFlat adds the set-ups that cut segments on the CNC: the boards to pieces, the
// pieces that make the first star of each kind, that star laid together, the others,
// and then the outer edges, on which the tabs stood.
func (m *maker) layFlat() {
	m.layPieces()
	first := m.firstRuns()
	m.layPrograms(first, route.FirstStar)
	for _, u := range m.boards() {
		m.layFlatTest(u)
	}
	rest := make([]int, len(first))
	for i, p := range m.Flat.Pieces {
		rest[i] = p.Count - first[i]
	}
	m.layPrograms(rest, route.Rest)
	for _, u := range m.boards() {
		m.layEdges(u)
	}
}

// firstRuns is how often each program is run until there are segments for one star of
// each kind.
func (m *maker) firstRuns() []int {
	runs := make([]int, len(m.Flat.Pieces))
	have := make([]int, len(m.units))
	for _, u := range m.units {
		for i, p := range m.Flat.Pieces {
			for runs[i] < p.Count && p.Segments[u.index] > 0 && have[u.index] < u.Points {
				runs[i]++
				for k, n := range p.Segments {
					have[k] += n
				}
			}
		}
	}
	return runs
}

// layPieces adds the set-up that cuts the boards to pieces.
func (m *maker) layPieces() {
	machine := m.cross()
	u := m.boards()[0]
	wide := 0.0
	for _, p := range m.Flat.Pieces {
		wide = max(wide, p.Width)
	}
	if !m.reaches(wide) {
		machine = route.Hand
	}
	s := m.setup(nil, route.Boards, machine, "boards to length", route.All)
	for _, p := range m.Flat.Pieces {
		s.Count += p.Count
		r := set(u.plain(route.ReadLength, p.Length))
		if !slices.ContainsFunc(s.Readings, func(q route.Reading) bool { return q.Printed == r.Printed }) {
			s.Readings = append(s.Readings, r)
		}
	}
	s.Of, s.Pieces = "pieces of board", s.Count
	thick := u.plain(route.ReadThick, u.Thickness())
	s.Readings = append(s.Readings, thick)
	s.SetUp = []string{"Plane the boards flat and to their thickness: what rocks on the machine is cut out of true."}
	s.Steps = []string{
		"Mark the bad places. Cut the boards to pieces as the stock plan shows them, from the left end on, both ends square.",
		"Write on each piece which program cuts it.",
	}
	s.Measure = []string{fmt.Sprintf("Each piece is as long as its program says, within %s.", u.FormatFine(1))}
}

// layPrograms adds the set-ups that run programs so often, one for each unit that
// comes of it.
func (m *maker) layPrograms(runs []int, stage route.Stage) {
	for _, u := range m.boards() {
		var cuts []route.SheetCut
		n := 0
		for i, p := range m.Flat.Pieces {
			if k := p.Segments[u.index]; k > 0 && runs[i] > 0 {
				cuts = append(cuts, route.SheetCut{Program: p.Program, Runs: runs[i], Each: k})
				n += runs[i] * k
			}
		}
		if n == 0 {
			continue
		}
		name := "segments"
		if n < u.Segments() {
			name += u.stageWords(stage)
		}
		m.layProgram(u, stage, name, n, cuts)
	}
}

// layProgram fills the set-up.
func (m *maker) layProgram(u *unit, stage route.Stage, name string, n int, cuts []route.SheetCut) {
	s := m.setup(u, route.Segments, route.CNC, name, stage)
	s.Count, s.Of, s.Pieces = n, "segments", n
	s.Method, s.Sheets = route.Program, cuts
	seg := u.Segment
	after := points(seg.Outline())
	box := seg.Outline().Bounds().Grow(m.Flat.Bit)
	s.Piece = &route.Piece{Kind: route.PieceSegment, After: after,
		Before: []geom.Point{box.Min, {X: box.Max.X, Y: box.Min.Y}, box.Max, {X: box.Min.X, Y: box.Max.Y}}}
	s.Readings = []route.Reading{set(printer{u.Spec.Unit}.size(route.ReadBit, m.Flat.Bit)),
		u.place(route.ReadLength, seg.Length, 1), u.place(route.ReadWidth, seg.Width, 1), u.plain(route.ReadThick, u.Thickness())}
	s.SetUp = []string{
		"Lay a flat spoilboard under the whole piece: the cutter goes through into it. Lay the piece on it, its grain along X, and hold it as the page of its program says.",
		"Set X0 Y0 over the lower left corner of the piece and Z0 on its top.",
	}
	s.Steps = []string{
		"Run each program once in the air. Then cut: " + runWords(cuts) + ".",
		"Mark the show faces. Saw the tabs through, and leave what is left of them on the outer edges for later. No tab stands on a facet: leave the facets as they are cut.",
	}
	s.Measure = []string{
		fmt.Sprintf("A segment is %s long and %s wide, and its two facets are of one length.", u.Format(seg.Length), u.Format(seg.Width)),
		"The facets stand square to the faces: a leaning spindle leaves the joint open on one face.",
	}
	s.Cautions = []string{"Keep hands clear until the spindle stands still."}
}

// runWords says how often each program is run.
func runWords(cuts []route.SheetCut) string {
	out := ""
	for i, c := range cuts {
		if i > 0 {
			out += "; "
		}
		out += fmt.Sprintf("%s %s, for %s", c.Program, times(c.Runs), plural(c.Each*c.Runs, "segment", "segments"))
	}
	return out
}

// times says how often.
func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

// layFlatTest adds the test fit of the first star that the CNC cut.
func (m *maker) layFlatTest(u *unit) {
	s := m.setup(u, route.TestFit, route.Hand, "test fit of the first star", route.FirstStar)
	s.Count, s.Of, s.Pieces = 1, "star", u.Points
	s.Steps = []string{
		"Lay the segments of the first star together dry on a flat board, show faces up.",
		"Press all joints shut but one, and look at that: shut all along, it is right.",
	}
	s.Steps = append(s.Steps, FlatFit()...)
	if round := u.roundWords(); round != "" {
		s.Steps = slices.Insert(s.Steps, 1, round)
	}
}

// FlatFit says what to do where the first star from the CNC does not close: there is
// no saw to be set anew.
func FlatFit() []string {
	return []string{
		"Open on one face alone: the spindle leans. Stand it square to the table.",
		"Open at the valley: Y moves too little for what X moves. Open at the centre: too far. Measure the length and the width of a segment, and set the steps of the axis that is off anew.",
		"Its two facets differ in length: X and Y are not at right angles. Square the machine.",
		"All of that is right: the cutter gives way. Take less depth a pass, or a thicker cutter.",
	}
}

// layEdges adds the set-up that cleans the outer edges of a unit.
func (m *maker) layEdges(u *unit) {
	s := m.setup(u, route.Edges, route.Hand, "tabs off, outer edges clean", route.All)
	s.Count, s.Of, s.Pieces = u.Segments(), "segments", u.Segments()
	s.Steps = []string{"Plane or sand the outer edges until nothing is left of the tabs. Keep off the facets: half a millimetre there opens the joint."}
}
