package choose

import (
	"fmt"

	"starwright/geom"
	"starwright/geom/route"
	"starwright/geom/star"
)

// layJigs adds the set-up that makes the jigs.
func (m *maker) layJigs() {
	if len(m.out.Kit) == 0 {
		return
	}
	machine, how := route.Hand, "from the printed templates or the drawings, with a bandsaw or jigsaw, and trued with a plane"
	switch {
	case m.Shop.CNC:
		machine, how = route.CNC, "with the sheet programs"
	case m.Shop.Laser:
		machine, how = route.Laser, "from the drawings"
	}
	next := ""
	if machine == route.Hand {
		next = "a CNC or a laser, or the drawings taken to a makerspace"
	}
	m.choice(nil, "jigs", machine.Word()+", "+how, fmt.Sprintf("%s are used", plural(len(m.out.Kit), "drawing", "drawings")), next)
	s := m.setup(nil, route.CutJigs, machine, "make the jigs", route.All)
	for i := range m.out.Kit {
		j := &m.out.Kit[i]
		s.Count += j.Quantity
		s.Jigs = append(s.Jigs, route.JigUse{Key: j.Key, Title: j.Title, Path: drawing(j.File), Plates: j.Quantity})
	}
	s.Of, s.Pieces = "plates", s.Count
	s.Method = route.Drawing
	if machine == route.CNC {
		s.Method = route.Program
		m.sheetBit(s)
	}
	s.Steps = []string{"Cut the plates " + how + ".", "Screw each jig together as its page shows."}
}

// sheetBit says which bit cuts the sheets, where it is not the one of the slots.
func (m *maker) sheetBit(s *route.Setup) {
	if d := m.Given.Jigs.Cutter; d > 0 && d != m.Order.Cutter {
		s.Readings = append(s.Readings, set(printer{m.Order.Units[0].Spec.Unit}.size(route.ReadBit, d)))
	}
}

// layRip adds the set-ups that bring boards to the width of a unit.
func (m *maker) layRip(u *unit) {
	if u.strips != nil {
		m.layStrips(u, u.Blank.Count+Spare(u.Unit))
	}
}

// layWood adds the set-up that cuts the blanks of a unit.
func (m *maker) layWood(u *unit) {
	spare := Spare(u.Unit)
	n := u.Blank.Count + spare
	long := fmt.Sprintf("%d for the stars and %d to cut the first star again if it does not close", u.Blank.Count, spare)
	machine := m.cross()
	if !m.reaches(u.Segment.Width) {
		machine = route.Hand
	}
	s := m.setup(u, route.Blanks, machine, "blanks to length", route.All)
	s.Count, s.Of, s.Pieces = n, "blanks", n
	l, h := u.Blank.Length, u.Segment.Width/2
	board := 2*l + u.Spec.Kerf
	if u.strips != nil && u.strips.Strips > 1 {
		board = u.strips.Raw
	}
	before := []geom.Point{{X: 0, Y: -h}, {X: board, Y: -h}, {X: board, Y: h}, {X: 0, Y: h}}
	c := cutting{piece: route.PieceSegment, before: before, line: line{geom.Pt(l, -h), geom.Pt(l, h)}, final: tidy(blankOf(u.Unit))}
	if err := m.sawn(s, u, c, m.square(u, c)); err != nil {
		m.errs = append(m.errs, err)
	}
	s.Readings = append(s.Readings, u.plain(route.ReadWidth, u.Segment.Width), u.plain(route.ReadThick, u.Thickness()))
	m.sawWords(u, s)
	s.SetUp = append(s.SetUp,
		fmt.Sprintf("Plane the boards to %s wide and %s thick, edges straight and parallel: the width sets the size of the star.", u.Format(u.Segment.Width), u.Format(u.Thickness())),
		"Look whether the saw cuts square: turn the piece over on its edge and cut again; the two cuts stay parallel.")
	s.Steps = []string{
		"Square the end of the board and push it against the stop.",
		fmt.Sprintf("Cut %s: %s.", plural(n, "blank", "blanks"), long),
		"Mark the show face and the squared end: it becomes the star's centre.",
	}
	if mark := u.markWords(); mark != "" {
		s.Steps = append(s.Steps, mark)
	}
	s.Measure = []string{fmt.Sprintf("Blanks of one star differ by less than %s in length and width.", u.FormatFine(0.5))}
}

// cross is the machine for a square cut.
func (m *maker) cross() route.Machine {
	if m.Shop.MitreSaw {
		return route.MitreSaw
	}
	return route.Hand
}

// square holds a board for a square cut to length: its squared end, the star's
// centre, at the stop on the right.
func (m *maker) square(u *unit, c cutting) held {
	l, h := u.Blank.Length, u.Segment.Width/2
	stop := u.place(route.ReadStop, l, 1)
	if !m.Shop.MitreSaw || !m.reaches(u.Segment.Width) {
		stop.Name = route.ReadLength
		x := *stop.MM
		d := drawn(u, c, h, geom.Pt(x, h), geom.Pt(x, -h))
		d.readings = []route.Reading{set(stop)}
		return d
	}
	at := func(stop float64) geom.Place {
		return geom.Place{Turn: 180 * geom.Degree, Move: geom.Pt(stop, -h)}
	}
	return held{
		method: route.Direct, exact: at(l), place: at(*stop.MM),
		readings: []route.Reading{set(angle(route.ReadSaw, 0, 1)), set(stop)},
		contacts: []contact{onEdge(route.TouchFence, geom.Pt(0, -h), geom.Pt(l, -h)), onEdge(route.TouchStop, geom.Pt(0, -h), geom.Pt(0, h))},
	}
}

// layStrips adds the set-ups that make boards of the star's width from boards of
// another one.
func (m *maker) layStrips(u *unit, blanks int) {
	t := u.strips
	if t.Strips <= 1 {
		s := m.setup(u, route.Rip, route.Hand, "boards to width", route.All)
		s.Count, s.Of, s.Pieces = blanks, "blanks' length of board", blanks
		s.Readings = []route.Reading{set(u.plain(route.ReadWidth, t.Rip))}
		s.Steps = []string{fmt.Sprintf("Rip the boards to %s, %s from each width, and plane the edges straight.", u.Format(t.Rip), plural(t.Across, "strip", "strips"))}
		if t.Across == 0 {
			s.Steps = []string{fmt.Sprintf("Rip the strips of this star to %s as the stock plan shows them, and plane the edges straight.", u.Format(t.Rip))}
		}
		return
	}
	n := blanks * t.Strips
	s := m.setup(u, route.Rip, route.Hand, "boards to strips", route.All)
	s.Count, s.Of, s.Pieces = n, "strips", n
	s.Readings = []route.Reading{set(u.plain(route.ReadWidth, t.Rip))}
	s.Steps = []string{
		ripWords(u, n),
		fmt.Sprintf("Plane %s off each edge that is glued, and leave the two outer edges of each board as they are.", u.FormatSize(t.Joint)),
	}
	s.Cautions = []string{"Rip on a machine that is made for it, by its manual; a mitre saw does not rip."}
	g := m.setup(u, route.Laminate, route.Hand, "strips to boards", route.All)
	g.Count, g.Of, g.Pieces = blanks, "boards", blanks
	g.Readings = []route.Reading{u.plain(route.ReadLength, t.Raw), u.plain(route.ReadWidth, u.Segment.Width)}
	g.Steps = []string{
		fmt.Sprintf("Cut the strips to about %s: the boards are cut to their length, both ends square, after the glue has set.", u.Format(t.Raw)),
		fmt.Sprintf("Glue %s edge to edge for each board, with %s, by turns over and under it.", gluedOf(u), plural(t.Clamps, "clamp", "clamps")),
		fmt.Sprintf("The glued board is %s wide: plane both edges alike, until it is %s.", u.Format(t.Glued), u.Format(u.Segment.Width)),
	}
	g.Measure = []string{"The middle joint lies on the middle line, as near as the eye can tell."}
	if u.Halved() {
		g.Measure = append(g.Measure, "The two woods meet in that joint: each of them is as wide as the other within "+u.FormatFine(evenHalves)+".")
	}
}

// evenHalves is by how much the halves of a segment may differ before the eye
// catches it at the tip, mm. Common practice, no source.
const evenHalves = 0.5

// ripWords says how strips are ripped, so many of each wood.
func ripWords(u *unit, n int) string {
	t := u.strips
	from := fmt.Sprintf("%s from each width", plural(t.Across, "strip", "strips"))
	if t.Across == 0 {
		from = "as the stock plan shows them"
		if !t.Plan {
			from = "whatever the width of a board gives"
		}
	}
	of := ""
	if w := u.Spec.Woods; u.TwoWoods() {
		of = fmt.Sprintf("%d of %s and %d of %s, ", n/2, w[0], n/2, w[1])
	}
	return fmt.Sprintf("Rip the boards into strips %s wide, %s%s.", u.Format(t.Rip), of, from)
}

// gluedOf says what is glued to one board.
func gluedOf(u *unit) string {
	t, w := u.strips, u.Spec.Woods
	switch {
	case !u.TwoWoods():
		return plural(t.Strips, "strip", "strips")
	case !u.Halved():
		return plural(t.Strips, "strip", "strips") + " of one wood"
	case t.Strips == 2:
		return fmt.Sprintf("a strip of %s and one of %s", w[0], w[1])
	}
	return fmt.Sprintf("%d strips of %s and beside them %d of %s", t.Strips/2, w[0], t.Strips/2, w[1])
}

// markWords says how the woods of blanks lie when they are marked.
func (u *unit) markWords() string {
	w := u.Spec.Woods
	switch {
	case !u.TwoWoods():
		return ""
	case u.Spec.Halves == star.Whole:
		return fmt.Sprintf("Half of the blanks are %s and half %s: keep them apart.", w[0], w[1])
	case u.Spec.Halves == star.Mirrored:
		return fmt.Sprintf("Seen with the star's centre towards you and the show face up, half of the blanks have %s on the left and half %s: square the other end of those.", w[0], w[1])
	}
	return fmt.Sprintf("Square that end that leaves %s on the left when it lies towards you, the show face up: the same for every blank.", w[0])
}

// roundWords says how the segments of two woods come to lie in the star.
func (u *unit) roundWords() string {
	w := u.Spec.Woods
	switch {
	case !u.TwoWoods():
		return ""
	case u.Spec.Halves == star.Whole:
		return fmt.Sprintf("Lay %s and %s by turns.", w[0], w[1])
	case u.Spec.Halves == star.Mirrored:
		return fmt.Sprintf("Lay the two kinds of segment by turns: %s meets %s and %s meets %s at every joint.", w[0], w[0], w[1], w[1])
	}
	return fmt.Sprintf("Look at the show face: every segment has %s on the left and %s on the right, and at every joint the one meets the other.", w[0], w[1])
}
