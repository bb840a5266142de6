package choose

import (
	"fmt"
	"slices"

	"starwright/geom/jig"
	"starwright/geom/route"
)

const drillGuide = "drill-guide"

// guided reports whether the hole of a star is bored through a guide.
func (m *maker) guided(u *unit) bool { return u.Hang != nil && m.pays(u, drillGuide) }

// hangMethod settles how the holes that stars hang by are bored.
func (m *maker) hangMethod() {
	for _, u := range m.units {
		if u.Hang == nil {
			continue
		}
		worth := m.worthOf(u, drillGuide)
		switch {
		case m.guided(u):
			why := worth.Why
			if m.named(drillGuide) {
				why = "the job asks for the guide"
			}
			m.choice(u, "hanging hole", "through the drilling guide", why, "")
			m.want(jig.Want{Key: drillGuide, Unit: u.index})
		default:
			next := drillGuide + " in the list under [jigs] make"
			if worth.From > 0 {
				next = fmt.Sprintf("%d stars: the drilling guide pays from then on", worth.From)
			}
			m.choice(u, "hanging hole", "marked out and bored", "a rule and a square do as well", next)
		}
	}
}

// layHang adds the set-up that bores the hole a star hangs by.
func (m *maker) layHang(u *unit) {
	h := u.Hang
	if h == nil {
		return
	}
	s := m.setup(u, route.Hang, route.Hand, "bore the hanging hole", route.All)
	s.Count, s.Of, s.Pieces = u.Count(), "stars", u.Count()
	s.Readings = []route.Reading{u.fine(route.ReadHole, h.Diameter), u.plain(route.ReadAxis, h.At)}
	s.Steps = []string{
		"Choose the segment that is to point up, and lay the star on waste, show face up.",
		fmt.Sprintf("Mark the hole on the segment's middle line, %s from the star's centre.", u.Format(h.At)),
		"Bore through, square to the face, and stop before the bit breaks out where there is no waste behind it.",
	}
	if m.guided(u) {
		for i := range m.out.Kit {
			if j := &m.out.Kit[i]; j.Key == drillGuide && slices.Contains(j.For, u.Unit) {
				s.Jigs = append(s.Jigs, m.use(j, "puts the hole in its place"))
			}
		}
		s.Steps[1] = "Lay the drilling guide on it, tip on tip, both edges flush with the outer edges, and clamp it."
		s.Steps[2] = "Bore through the guide."
	}
	s.Measure = []string{fmt.Sprintf("The hole keeps %s of wood to joints, edges and slots.", u.Format(u.Spec.Unit.Floor(h.Wood)))}
}
