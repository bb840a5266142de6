package shopsheet

import (
	"fmt"

	"starwright/cmd/internal/draw"
	"starwright/geom/star"
	"starwright/geom/words"
	"starwright/post/print"
)

// glanceOrder is the first page of an order: what it is, star by star.
func (m *maker) glanceOrder() {
	f := m.doc.Section(m.Title)
	large := m.star
	for _, u := range m.Order.FromBoards() {
		if u.Width() > large.Width() {
			large = u
		}
	}
	f.View(draw.StarPanel(large, m.say), 96, m.say)
	f.Text(fmt.Sprintf("The largest of them, %s. What is set up once serves all stars that it fits: keep to the order of the pages.", large.Words("star")))
	f.Compact()
	var made, sizes [][]string
	for _, u := range m.Order.Units {
		from := "the tip off-cuts"
		if u.Blank != nil {
			from = fmt.Sprintf("%s of %s x %s x %s", words.Count(u.Blank.Count, "blank", "blanks"), m.say(u.Blank.Length), m.say(u.Segment.Width), m.say(u.Thickness()))
		}
		joint := "plain glued"
		if sp := u.Spline; sp != nil {
			joint = fmt.Sprintf("%s, %s x %s", words.Count(sp.Count, "spline", "splines"), m.say(sp.Length), m.say(sp.Width))
		}
		made = append(made, []string{u.Words(""), fmt.Sprint(u.Count()), fmt.Sprint(u.Points), m.say(u.Width()), from, joint})
		s := u.Segment
		sizes = append(sizes, []string{u.Words(""), fmt.Sprint(u.Segments()), m.say(s.Length), m.say(s.Width), m.say(s.Facet), m.say(s.Edge), deg(s.Center), deg(s.Tip)})
	}
	f.Table([]print.Column{{Head: "Star", Wide: 1}, {Head: "Stars", Right: true}, {Head: "Points", Right: true}, {Head: "Tip to tip", Right: true}, {Head: "From", Wide: 2}, {Head: "Joints", Wide: 1}}, made)
	f.Head("Their segments")
	f.Table([]print.Column{{Head: "Star", Wide: 1}, {Head: "Pieces", Right: true}, {Head: "Centre to tip", Right: true}, {Head: "Width", Right: true},
		{Head: "Facet", Right: true}, {Head: "Edge", Right: true}, {Head: "Centre", Right: true}, {Head: "Tip", Right: true}}, sizes)
}

// orderPieces lists every piece of wood of an order.
func (m *maker) orderPieces() [][]string {
	num := func(n int) string { return fmt.Sprint(n) }
	var rows [][]string
	for _, u := range m.Order.FromBoards() {
		rows = append(rows, []string{"", num(u.Blank.Count + u.Points),
			fmt.Sprintf("blanks, %s; %d of them to try the set-ups with", u.Spec.Name, u.Points), m.say(u.Blank.Length), m.say(u.Segment.Width), m.say(u.Thickness())})
	}
	for _, u := range m.Order.Units {
		if u.IsOffcut() {
			rows = append(rows, []string{"", num(2 * u.Segments()), fmt.Sprintf("tip off-cuts, %s, kept in pairs: no new wood", u.Spec.Name), "", "", m.say(u.Thickness())})
		}
	}
	spline := func(u *star.Unit, s *star.Spline) []string {
		return []string{"", num(s.Count), u.Words("splines") + "; the grain runs along their width", m.say(s.Length), m.say(s.Width), m.u.FormatFine(s.Thickness)}
	}
	for _, u := range m.Order.Units {
		if u.Spline != nil {
			rows = append(rows, spline(u, u.Spline))
		}
	}
	return rows
}
