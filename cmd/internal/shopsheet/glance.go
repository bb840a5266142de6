package shopsheet

import (
	"fmt"

	"starwright/cmd/internal/benchwork"
	"starwright/cmd/internal/draw"
	"starwright/geom/bench/lumber"
	"starwright/geom/star"
	"starwright/geom/words"
	"starwright/post/print"
)

// glance is the first page: what the batch is.
func (m *maker) glance() {
	if m.Job.IsOrder() {
		m.glanceOrder()
		return
	}
	b := m.star
	f := m.doc.Section(m.Title)
	f.View(draw.StarPanel(b, m.say), 112, m.say)
	rows := [][2]string{
		{"Make", fmt.Sprintf("%s of %d points, %s from tip to tip", words.Count(b.Count(), "star", "stars"), b.Points, m.say(b.Width()))},
		{"From", m.woodWords()},
		{"Blanks", fmt.Sprintf("%d, each %s long", b.Blank.Count, m.say(b.Blank.Length))},
	}
	if x := m.flat(); x != nil {
		rows = append(rows[:1], [2]string{"From", m.flatFrom(b)}, [2]string{"Boards", x.Words()})
	}
	if sp := b.Spline; sp != nil {
		rows = append(rows, [2]string{"Splines", fmt.Sprintf("%d, %s by %s by %s", sp.Count, m.say(sp.Length), m.say(sp.Width), m.u.FormatSize(sp.Thickness))})
	} else {
		rows = append(rows, [2]string{"Joints", plainWords(b)})
	}
	if o := m.small; o != nil {
		rows = append(rows, [2]string{"And from the tip off-cuts", fmt.Sprintf("%s, %s from tip to tip", words.Count(b.Count(), "off-cut star", "off-cut stars"), m.say(o.Width()))})
		if sp := o.Spline; sp != nil {
			rows = append(rows, [2]string{"Their splines", fmt.Sprintf("%d, %s by %s", sp.Count, m.say(sp.Length), m.say(sp.Width))})
		}
	}
	facts(f, rows...)
	f.Compact()
	m.segmentTable(f)
}

// woodWords says what the boards are.
func (m *maker) woodWords() string {
	b := m.star
	s := fmt.Sprintf("boards %s wide and %s thick", m.say(b.Segment.Width), m.say(b.Thickness()))
	if x := m.strips(); x.Glued() && !x.Planned {
		s += fmt.Sprintf(", glued up from boards of %s", m.say(x.Ask.BoardWidth))
	}
	if b.TwoWoods() {
		return s + ", " + twoWoods(b)
	}
	if w := m.Job.Wood.Species; w != "" {
		s += ", " + w
	}
	return s
}

// plainWords says how joints without splines are held.
func plainWords(u *star.Unit) string {
	if u.Plate != nil {
		return "plain glued, with a plate on the back"
	}
	return "plain glued, no splines"
}

// plateRow is what the cut list says of the back plates.
func (m *maker) plateRow(u *star.Unit) []string {
	b := u.Plate.Outline().Bounds()
	return []string{"", fmt.Sprint(u.Count()), u.Words("back plates") + ", from sheet", m.say(b.W()), m.say(b.H()), m.say(m.Job.Sheet.Thickness)}
}

// twoWoods says how a star is of two woods.
func twoWoods(u *star.Unit) string {
	w := u.Spec.Woods
	if u.Halved() {
		return fmt.Sprintf("each point half %s and half %s, %s", w[0], w[1], u.Spec.Halves)
	}
	return fmt.Sprintf("points of %s and %s by turns", w[0], w[1])
}

// stripRow is what the cut list says of the strips that blanks are glued up from.
func (m *maker) stripRow(u *star.Unit, s *benchwork.Strips) []string {
	what := fmt.Sprintf("strips, ripped to this width; %d are glued up to each blank", s.PerBlank)
	if u.Spec.Name != "" {
		what = fmt.Sprintf("strips, %s, ripped to this width; %d are glued up to each blank", u.Spec.Name, s.PerBlank)
	}
	if w := u.Spec.Woods; u.TwoWoods() {
		what += fmt.Sprintf("; half of them %s, half %s", w[0], w[1])
	}
	return []string{"", fmt.Sprint(s.Total()), what, m.say(s.Ask.Length), m.say(s.StripWidth), m.say(u.Thickness())}
}

// blankWords says what blanks a unit takes: of two woods that are not glued up,
// half of each.
func blankWords(u *star.Unit, what string) string {
	if !u.TwoWoods() {
		return what
	}
	if u.Halved() {
		return what + ", of two woods"
	}
	return fmt.Sprintf("%s; half of them %s, half %s", what, u.Spec.Woods[0], u.Spec.Woods[1])
}

// cutList lists every piece of wood.
func (m *maker) cutList() *print.Flow {
	b := m.star
	f := m.doc.Section("Cut list")
	f.Compact()
	w, t, fine := b.Segment.Width, b.Thickness(), m.u.FormatFine
	cols := []print.Column{{Tick: true}, {Head: "Pieces", Right: true}, {Head: "Part", Wide: 3}, {Head: "Length", Right: true}, {Head: "Width", Right: true}, {Head: "Thick", Right: true}}
	num := func(n int) string { return fmt.Sprint(n) }
	if m.Job.IsOrder() {
		f.Table(cols, m.orderPieces())
		m.woodNeeded(f)
		return f
	}
	rows := [][]string{
		{"", num(b.Blank.Count), blankWords(b, "blanks for the segments"), m.say(b.Blank.Length), m.say(w), m.say(t)},
		{"", fmt.Sprint(b.Points), "spare blanks, to cut the first star again, of the same board", m.say(b.Blank.Length), m.say(w), m.say(t)},
	}
	if m.flat() != nil {
		rows = m.flatRows()
	}
	if s := m.strips(); s.Glued() {
		rows = append([][]string{m.stripRow(b, s)}, rows...)
	}
	spline := func(what string, s *star.Spline) {
		if s != nil {
			rows = append(rows, []string{"", num(s.Count), what + "; the grain runs along their width", m.say(s.Length), m.say(s.Width), fine(s.Thickness)})
		}
	}
	for _, u := range m.units() {
		if u.Plate != nil {
			rows = append(rows, m.plateRow(u))
		}
	}
	spline("splines", b.Spline)
	if o := m.small; o != nil {
		rows = append(rows, []string{"", num(2 * b.Segments()), "tip off-cuts, kept in pairs: no new wood", "", "", m.say(t)})
		spline("splines of the off-cut stars", o.Spline)
	}
	f.Table(cols, rows)
	m.woodNeeded(f)
	return f
}

// woodNeeded adds up the blanks.
func (m *maker) woodNeeded(f *print.Flow) {
	if m.flat() != nil { // the stock plan says it
		return
	}
	run, feet := 0.0, 0.0
	for _, b := range m.Order.FromBoards() {
		long := float64(b.Blank.Count+b.Points) * (b.Blank.Length + m.Job.Saw.Kerf)
		run, feet = run+long, feet+lumber.BoardFeet(long, b.Segment.Width, b.Thickness())
	}
	const mmPerM, mmPerFoot = 1000.0, 304.8
	f.Text(fmt.Sprintf("Blanks with their kerfs, end to end: %.1f m or %.1f ft of board, %.1f board feet by its finished size. Knots, splits and bad ends come on top.",
		run/mmPerM, run/mmPerFoot, feet))
}

// segmentTable gives the sizes of the segments of both stars.
func (m *maker) segmentTable(f *print.Flow) {
	cols := []print.Column{{Head: "", Wide: 2}, {Head: "Stars", Right: true, Wide: 1}}
	if m.small != nil {
		cols = append(cols, print.Column{Head: "Small stars", Right: true, Wide: 1})
	}
	row := func(name string, of func(*star.Unit) string) []string {
		r := []string{name}
		for _, u := range m.units() {
			r = append(r, of(u))
		}
		return r
	}
	f.Table(cols, [][]string{
		row("segments", func(u *star.Unit) string { return fmt.Sprint(u.Segments()) }),
		row("length, centre to tip", func(u *star.Unit) string { return m.say(u.Segment.Length) }),
		row("width, valley to valley", func(u *star.Unit) string { return m.say(u.Segment.Width) }),
		row("facet, centre to valley", func(u *star.Unit) string { return m.say(u.Segment.Facet) }),
		row("edge, valley to tip", func(u *star.Unit) string { return m.say(u.Segment.Edge) }),
		row("angle at the centre", func(u *star.Unit) string { return deg(u.Segment.Center) }),
		row("angle at the tip", func(u *star.Unit) string { return deg(u.Segment.Tip) }),
		row("finished star, tip to tip", func(u *star.Unit) string { return m.say(u.Width()) }),
	})
}
