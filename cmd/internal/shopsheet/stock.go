package shopsheet

import (
	"fmt"
	"slices"
	"strings"

	"starwright/cmd/internal/benchwork"
	"starwright/geom"
	"starwright/geom/bench/stock"
	"starwright/geom/words"
	"starwright/post/picture"
	"starwright/post/print"
)

// alike is boards that are cut in the same way.
type alike struct {
	cut   stock.Sawn
	first int // number of the first of them in the plan, from 1
	count int
}

// stockPlan is the cut plan of the boards, drawn to scale.
func (m *maker) stockPlan(f *print.Flow) {
	if m.Bench == nil || m.Bench.Stock == nil {
		return
	}
	s := m.Bench.Stock
	groups := alikes(s.Taken())
	f.Compact()
	f.Head("Stock plan")
	f.Text(m.stockWords(s))
	const most = 6 // bars in a drawing
	long := 0.0
	for _, g := range groups {
		long = max(long, g.cut.Length)
	}
	for len(groups) > 0 {
		n := min(most, len(groups))
		p := m.barsPanel(groups[:n], long)
		f.View(p, 14+float64(n)*19, m.say)
		groups = groups[n:]
	}
	m.boardTable(f, alikes(s.Taken()))
	if idle := len(s.Plan.Boards) - len(s.Taken()); idle > 0 {
		f.Text(fmt.Sprintf("%s in the rack untouched.", words.Count(idle, "board stays", "boards stay")))
	}
}

// alikes gathers neighbouring boards that are cut alike.
func alikes(cuts []stock.Sawn) []alike {
	var out []alike
	for i, c := range cuts {
		if n := len(out); n > 0 && out[n-1].cut.Length == c.Length && slices.Equal(out[n-1].cut.Stretches, c.Stretches) {
			out[n-1].count++
			continue
		}
		out = append(out, alike{c, i + 1, 1})
	}
	return out
}

// name says which boards of the plan they are.
func (a alike) name() string { return boardsOf(false, a.first, a.count) }

func (m *maker) stockWords(s *benchwork.Stock) string {
	p := s.Plan
	text := fmt.Sprintf("%s of the rack give %s for %s", words.Count(len(s.Taken()), "board", "boards"), "blanks", words.Count(p.Stars, "star", "stars"))
	switch {
	case s.Strips.Glued():
		text = fmt.Sprintf("Rip first, then cut to length: %s give %s, each %s long, for %s", words.Count(len(s.Taken()), "ripped board", "ripped boards"),
			s.What(p.Pieces[0]), m.say(s.Blank), words.Count(p.Stars, "star", "stars"))
	case s.Strips != nil && s.Strips.Across > 1:
		text = fmt.Sprintf("Rip first, then cut to length: each board gives %d lengths side by side, which the plan counts as boards. %s give blanks for %s",
			s.Strips.Across, words.Count(len(s.Taken()), "length", "lengths"), words.Count(p.Stars, "star", "stars"))
	}
	if s.Spare > 0 {
		text += fmt.Sprintf(" and %s", words.Count(s.Spare, "spare blank", "spare blanks"))
	}
	if short := m.star.Points - s.Spare; short > 0 && !s.Strips.Glued() {
		text += fmt.Sprintf(", %d fewer than the cut list has", short)
	}
	switch {
	case p.Stars < s.Wanted && p.Exact:
		text += fmt.Sprintf(". The batch has %d; these boards give no more however they are cut", s.Wanted)
	case p.Stars < s.Wanted:
		text += fmt.Sprintf(". The batch has %d; no plan gives more than %d", s.Wanted, p.StarsBound)
	case p.Exact:
		text += ". No plan takes less board"
	}
	return text + fmt.Sprintf(". Waste %.0f %%, kerfs and ends counted; %.1f board feet are taken.", s.WastePercent(), p.BoardFeet)
}

// barsPanel draws boards below each other to one scale.
func (m *maker) barsPanel(groups []alike, long float64) picture.Panel {
	p := picture.Panel{Name: "cut from the left", Note: "hatched: trimmed or bad", Room: picture.Room{Left: 2, Right: 2, Above: 6}}
	// Bars are drawn higher than boards are wide where these are long: what
	// counts is their length.
	high := long * 0.062
	pitch := high * 2.3
	for i, g := range groups {
		y := -float64(i) * pitch
		n := 0
		for _, s := range g.cut.Stretches {
			c := geom.Rect(geom.Box{Min: geom.Pt(s.Start, y-high), Max: geom.Pt(s.End, y)})
			p.Shapes = append(p.Shapes, picture.Shape{Contour: c, Look: lookOf(s.Kind)})
			if s.Kind == stock.Piece {
				n++
				p.Labels = append(p.Labels, picture.Label{At: c.Bounds().Center(), Text: fmt.Sprint(n), Mark: picture.On, In: c})
			}
		}
		p.Labels = append(p.Labels, picture.Label{At: geom.Pt(min(long, g.cut.Length)/2, y), Text: g.name() + ", " + m.say(g.cut.Length), Away: geom.Pt(0, 1)})
	}
	// The longest board of the plan sets the scale of every drawing.
	p.Lines = append(p.Lines, picture.Straight(geom.Pt(long, 0), geom.Pt(long, 0), picture.Axis))
	return p
}

func lookOf(k stock.Kind) picture.Look {
	switch k {
	case stock.Piece:
		return picture.Part
	case stock.Kerf:
		return picture.Kerf
	case stock.Rest:
		return picture.Board
	}
	return picture.Waste
}

// boardTable says each board in words, in the order of its cuts.
func (m *maker) boardTable(f *print.Flow, groups []alike) {
	var rows [][]string
	pieces := "Blanks"
	if m.strips().Glued() {
		pieces = "Strips"
	}
	for _, g := range groups {
		rows = append(rows, []string{"", g.name(), m.say(g.cut.Length), fmt.Sprint(g.cut.Pieces(-1)), m.cutWords(g.cut)})
	}
	f.Table([]print.Column{{Tick: true}, {Head: "Board"}, {Head: "Length", Right: true}, {Head: pieces, Right: true}, {Head: "From the left end", Wide: 1}}, rows)
}

// cutWords says the stretches of a board in turn. The saw cut that frees a
// trim or a bad place counts as part of it.
func (m *maker) cutWords(c stock.Sawn) string {
	var parts []string
	blanks := 0
	flush := func() {
		if blanks > 0 {
			parts = append(parts, m.Bench.Stock.What(blanks))
		}
		blanks = 0
	}
	for i, s := range c.Stretches {
		from, to := s.Start, s.End
		if i > 0 && c.Stretches[i-1].Kind == stock.Kerf {
			from = c.Stretches[i-1].Start
		}
		if i+1 < len(c.Stretches) && c.Stretches[i+1].Kind == stock.Kerf {
			to = c.Stretches[i+1].End
		}
		switch s.Kind {
		case stock.Piece:
			blanks++
		case stock.Trim:
			flush()
			parts = append(parts, "trim "+m.say(m.Job.Stock.Trim))
		case stock.Bad:
			flush()
			parts = append(parts, fmt.Sprintf("leave out %s to %s", m.say(from), m.say(to)))
		case stock.Rest:
			flush()
			parts = append(parts, m.say(s.End-s.Start)+" left over")
		}
	}
	flush()
	return strings.Join(parts, ", ")
}
