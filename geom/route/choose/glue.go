package choose

import (
	"fmt"
	"slices"

	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/route"
)

// glueMethod settles how stars are glued up.
func (m *maker) glueMethod() {
	boards := m.boards()
	if len(boards) == 1 {
		m.glueStar(boards[0], nil, jig.AllUnits)
		return
	}
	for _, u := range boards {
		m.glueStar(u, u, u.index)
	}
}

// glueStar settles how one star is glued up; named is that star where the order
// has several.
func (m *maker) glueStar(u, named *unit, of int) {
	const flat, board = "on a flat board, joints taped", "on the glue-up board, with pins and wedges"
	worth := m.worthOf(u, "glue-board")
	switch {
	case m.named("glue-board"):
		m.choice(named, "glue-up", board, "the job asks for the board", "")
	case worth.Make:
		m.choice(named, "glue-up", board, worth.Why, "")
	default:
		next := "glue-board in the list under [jigs] make"
		if worth.From > 0 {
			next = fmt.Sprintf("%d stars: the glue-up board pays from then on", worth.From)
		}
		m.choice(named, "glue-up", flat, "tape holds a star as well", next)
		return
	}
	m.want(jig.Want{Key: "glue-board", Unit: of})
}

// laySplines adds the set-up that makes the splines of a unit.
func (m *maker) laySplines(u *unit) {
	sp := u.Spline
	if u.Slot == nil || sp == nil {
		return
	}
	machine, method, how := m.cross(), route.Direct, "rip strips %s wide and cut them to %s"
	switch {
	case m.Shop.CNC:
		machine, method, how = route.CNC, route.Program, "cut them with the sheet programs, %s wide and %s long, grain along the %[1]s"
	case m.Shop.Laser:
		machine, method, how = route.Laser, route.Drawing, "cut them from the drawing, %s wide and %s long"
	case !m.Shop.MitreSaw:
		method = route.ByHand
	}
	s := m.setup(u, route.Splines, machine, "splines", route.All)
	s.Method = method
	s.Count, s.Of, s.Pieces = sp.Count, "splines", sp.Count
	s.Readings = []route.Reading{set(u.plain(route.ReadLength, sp.Length)), set(u.plain(route.ReadWidth, sp.Width)), u.fine(route.ReadThick, sp.Thickness)}
	if machine == route.CNC {
		m.sheetBit(s)
		how = "cut them with the sheet programs: %s wide and %s long"
	}
	s.Steps = []string{
		fmt.Sprintf("Take plywood that a spline slides home with a finger's push, %s thick, and "+how+".", u.FormatSize(sp.Thickness), u.Format(sp.Width), u.Format(sp.Length)),
		"Try one in the slots of two segments before you cut the rest.",
	}
	m.choice(u, "splines", machine.Word(), "", "")
}

// layGlue adds the set-ups from the dry fit to the finish of a unit.
func (m *maker) layGlue(u *unit) {
	n := u.Count()
	if u.Slot != nil {
		s := m.setup(u, route.DryFit, route.Hand, "dry fit with splines", route.All)
		s.Count, s.Of, s.Pieces = n, "stars", u.Segments()
		s.Steps = []string{
			"Lay each star together dry with its splines, show faces down on a flat board.",
			"All joints shut? Number the segments in this order. A spline that holds a joint open is too wide: plane its edge.",
		}
	}
	small := u.Points / 2
	for _, h := range []int{u.Points - small, small} {
		if h < 2 {
			continue
		}
		s := m.setup(u, route.GlueHalves, route.Hand, fmt.Sprintf("glue %d segments to a half", h), route.All)
		s.Count, s.Of, s.Pieces = n, "halves", n*h
		if u.Points%2 == 0 {
			s.Count, s.Pieces = 2*n, 2*n*h
		}
		s.Steps = []string{
			"Work on a flat board covered with baking paper, show faces down.",
			"Spread glue on both facets" + orSlots(u) + ", rub the joint once, and push the points at the centre level.",
			"Draw tape across each joint at the centre and at the valley, both faces; then press the half flat under a board and a weight.",
			"Pull nothing tight round the tips: such a strap opens the joints at the centre.",
		}
		if u.TwoWoods() {
			s.Steps = slices.Insert(s.Steps, 1, "Lay the segments out, show faces up, before you turn them. "+u.roundWords())
		}
		if u.Segment.Center >= maxAlongGrain {
			s.Steps = append([]string{fmt.Sprintf("The facets lie at %s to the grain and drink glue: size them with a thin coat, and let it dry to the touch.", deg(u.Segment.Center/2))}, s.Steps...)
		}
		if uses := m.plateUses("glue-board", u); m.pays(u, "glue-board") && len(uses) > 0 {
			s.Jigs = uses
			s.Steps[len(s.Steps)-2] = "Lay the half between the pins of the glue-up board and drive the wedges, a little each in turn; then a weight on top."
		} else if u.from != nil && m.pays(u.from, "glue-board") {
			s.Steps[len(s.Steps)-2] = "The off-cut star goes without the glue-up board: draw tape across each joint at the centre and at the valley, both faces; then press the half flat under a board and a weight."
		}
		if u.Points%2 == 0 {
			break
		}
	}
	t := m.setup(u, route.TrueHalves, route.Hand, "true the halves", route.All)
	t.Count, t.Of, t.Pieces = n, "stars", 2*n
	t.Steps = []string{
		"Push the two halves together dry. Both joints shut: go on.",
		"Else shoot the open facets until they close, a shaving at a time, the same from each.",
	}
	if u.Points%2 == 0 {
		t.Steps[1] = "Else shoot both open facets of each half to one straight edge."
	}
	g := m.setup(u, route.GlueLast, route.Hand, "glue the halves", route.All)
	g.Count, g.Of, g.Pieces = n, "stars", 2*n
	g.Steps = []string{
		"Spread glue on both joints" + orSlots(u) + ". Push the halves together along the middle line of the star.",
		"Press across both joints at once, at the valleys beside the joints and not at the tips: a batten screwed down on either side of the star, and a pair of wedges between batten and half.",
		"Look at both faces before the glue grabs: level, and shut at the centre.",
	}
	m.layHang(u)
	f := m.setup(u, route.Finish, route.Hand, "flush and finish", route.All)
	f.Count, f.Of, f.Pieces = n, "stars", n
	f.Steps = []string{"Plane or sand both faces flush along the joints, break the edges, and finish all faces alike, so that the star stays flat."}
	m.layPlate(u)
}

func orSlots(u *unit) string {
	if u.Slot != nil {
		return ", in the slots and on the splines"
	}
	return ""
}

// maxAlongGrain is the centre angle below which the facets lie nearly along the
// grain and need no size. Common practice, no source.
const maxAlongGrain = 40 * geom.Degree
