package shopsheet

import (
	"fmt"
	"strings"

	"starwright/cmd/internal/draw"
	"starwright/geom/route"
	"starwright/geom/route/choose"
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
		if m.flat() != nil {
			from = m.flatFrom(u)
		} else if u.Blank != nil {
			from = fmt.Sprintf("%s of %s x %s x %s", words.Count(u.Blank.Count, "blank", "blanks"), m.say(u.Blank.Length), m.say(u.Segment.Width), m.say(u.Thickness()))
		}
		joint := "plain glued"
		if u.Plate != nil {
			joint = "a plate on the back"
		}
		if sp := u.Spline; sp != nil {
			joint = fmt.Sprintf("%s, %s x %s", words.Count(sp.Count, "spline", "splines"), m.say(sp.Length), m.say(sp.Width))
		}
		if u.TwoWoods() {
			from += "; " + twoWoods(u)
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
	if m.flat() != nil {
		rows = m.flatRows()
	}
	for _, u := range m.Order.FromBoards() {
		if m.flat() != nil {
			break
		}
		if s := m.Bench.StripsOf(u); s.Glued() {
			rows = append(rows, m.stripRow(u, s))
		}
		rows = append(rows, []string{"", num(u.Blank.Count + u.Points),
			blankWords(u, fmt.Sprintf("blanks, %s; %d of them to try the set-ups with", u.Spec.Name, u.Points)), m.say(u.Blank.Length), m.say(u.Segment.Width), m.say(u.Thickness())})
	}
	for _, u := range m.Order.Units {
		if u.IsOffcut() {
			rows = append(rows, []string{"", num(2 * u.Segments()), fmt.Sprintf("tip off-cuts, %s, kept in pairs: no new wood", u.Spec.Name), "", "", m.say(u.Thickness())})
		}
	}
	spline := func(u *star.Unit, s *star.Spline) []string {
		return []string{"", num(s.Count), u.Words("splines") + "; the grain runs along their width", m.say(s.Length), m.say(s.Width), m.u.FormatSize(s.Thickness)}
	}
	for _, u := range m.Order.Units {
		if u.Plate != nil {
			rows = append(rows, m.plateRow(u))
		}
		if u.Spline != nil {
			rows = append(rows, spline(u, u.Spline))
		}
	}
	return rows
}

// settings lists the set-ups of the machines of an order: what a machine is set
// to, and below it the stars that go through before it is set anew.
func (m *maker) settings() {
	if len(m.Order.FromBoards()) < 2 {
		return
	}
	f := m.doc.Section("Set once, for all sizes")
	f.Compact()
	f.Text("What the machines are set to, in the order of work. Within one setting only stops are moved, and the jigs that hold the work are changed.")
	var rows [][]string
	head := ""
	flush := func() {
		if len(rows) > 0 {
			f.Head(head)
			f.SmallTable([]print.Column{{Tick: true}, {Head: "Set-up", Wide: 3}, {Head: "Set", Wide: 2}, {Head: "Pieces", Right: true}, {Head: "Page", Right: true}}, rows)
		}
		rows = nil
	}
	for i := range m.Route.Setups {
		s := &m.Route.Setups[i]
		if s.Machine == route.Hand || s.Machine == route.Laser || s.Kind == route.CutJigs {
			continue
		}
		if s.Keeps == "" {
			flush()
			head = strings.TrimSuffix(words.Capital(places[s.Machine])+": "+choose.Setting(s), ": ")
		}
		rows = append(rows, []string{"", s.Name, strings.Join(stops(s), ", "), fmt.Sprintf("%d %s", s.Count, s.Of), fmt.Sprint(s.Page)})
	}
	flush()
}

// stops are the readings that are set beside the machine's own setting.
func stops(s *route.Setup) []string {
	var out []string
	for _, r := range s.Readings {
		switch r.Name {
		case route.ReadStop, route.ReadNose, route.ReadStopStart, route.ReadStopEnd:
			out = append(out, r.Name+" "+r.Printed)
		}
	}
	if len(out) == 0 && len(s.Jigs) > 0 {
		out = append(out, s.Jigs[0].Title)
	}
	return out
}
