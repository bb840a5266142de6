package shopsheet

import (
	"slices"

	"starwright/cmd/internal/draw"
	"starwright/geom/route"
	"starwright/post/picture"
	"starwright/post/print"
)

// views draws the set-ups that differ, two beside each other.
func (m *maker) views(f *print.Flow, g *group) {
	var panels []picture.Panel
	var drawn []*route.Setup
	for _, s := range g.setups {
		if slices.ContainsFunc(drawn, func(d *route.Setup) bool { return sameView(d, s) }) {
			continue
		}
		if p, ok := m.panel(s); ok {
			drawn = append(drawn, s)
			panels = append(panels, p)
		}
	}
	if g.setups[0].Slot != nil && len(panels) > 1 {
		panels = panels[:1]
		panels[0].Name += ", left; the right one the other way round"
	}
	if g.setups[0].Kind == route.Blanks && len(panels) > 1 {
		panels = panels[:1]
		panels[0].Name += "; the others likewise, each with its own stop"
	}
	for len(panels) > 0 {
		high := m.viewHigh(f, g, len(panels))
		if len(panels) == 1 {
			f.View(panels[0], high, m.say)
			return
		}
		f.Beside(panels[0], panels[1], 0.5, high, m.say)
		panels = panels[2:]
	}
}

// viewHigh is how high a row of drawings is, mm: what leaves room for the words.
func (m *maker) viewHigh(f *print.Flow, g *group, panels int) float64 {
	const most, least, row, slack = 118.0, 36.0, 6.6, 8.0
	words := wordsOf(g).tall(f) + row*float64(rowsOf(g)) + slack
	rows := float64((panels + 1) / 2)
	return max(least, min(most, (f.Left()-words)/rows))
}

// sameView reports whether two set-ups look alike: the rest of a batch is cut as
// the first star was.
func sameView(a, b *route.Setup) bool {
	switch {
	case a.Cut != nil && b.Cut != nil && a.Hold != nil && b.Hold != nil:
		return a.Machine == b.Machine && *a.Hold == *b.Hold && *a.Cut == *b.Cut && slices.Equal(a.Piece.Before, b.Piece.Before)
	case a.Slot != nil && b.Slot != nil:
		return *a.Slot == *b.Slot
	}
	glue := func(k route.Kind) bool { return k == route.GlueHalves || k == route.GlueLast }
	return (a.Kind == b.Kind && (a.Unit == b.Unit || a.Kind != route.Plate && a.Kind != route.Hang) || glue(a.Kind) && glue(b.Kind)) && a.Cut == nil && b.Cut == nil && a.Slot == nil && b.Slot == nil
}

// panel draws a set-up; false where there is nothing to draw.
func (m *maker) panel(s *route.Setup) (picture.Panel, bool) {
	switch {
	case s.Cut != nil && s.Hold != nil && s.Machine == route.MitreSaw:
		return m.sawPanel(s, short(s)), true
	case s.Cut != nil:
		return m.linePanel(s), true
	case len(s.Sheets) > 0:
		return m.piecePanel(s)
	case s.Slot != nil && s.Machine == route.RouterTable:
		return m.routerPanel(m.Order.Units[s.Unit], s.Slot.Hand == route.Right), true
	case s.Slot != nil:
		return m.machinePanel(m.Order.Units[s.Unit], s.Slot.Hand == route.Right), true
	case s.Join != nil && len(s.Join.Parts) > 0:
		return m.joinPanel(s)
	case s.Kind == route.GlueHalves || s.Kind == route.GlueLast:
		return m.gluePanel(m.Order.Units[s.Unit]), true
	case s.Kind == route.Hang:
		return draw.HangPanel(m.Order.Units[s.Unit], m.say), true
	case s.Kind == route.Plate:
		return draw.PlatePanel(m.Order.Units[s.Unit], m.say), true
	case s.Kind == route.Splines:
		return m.splinePanel(m.Order.Units[s.Unit])
	case m.stripsFor(s).Glued() && s.Kind == route.Laminate:
		return m.clampPanel(m.Order.Units[s.Unit], m.stripsFor(s)), true
	case m.stripsFor(s) != nil && s.Kind == route.Rip:
		return m.ripPanel(m.stripsFor(s)), true
	}
	return picture.Panel{}, false
}
