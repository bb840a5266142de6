package shopsheet

import (
	"fmt"
	"slices"
	"strings"

	"starwright/cmd/internal/benchwork"
	"starwright/geom"
	"starwright/geom/bench/yard"
	"starwright/geom/route"
	"starwright/geom/star"
	"starwright/geom/words"
	"starwright/post/picture"
	"starwright/post/print"
)

// flat is how segments lie on boards for the CNC, nil where they are sawn.
func (m *maker) flat() *benchwork.Flat {
	if m.Bench == nil {
		return nil
	}
	return m.Bench.Flat
}

// flatFrom says what the segments of a star are cut from.
func (m *maker) flatFrom(u *star.Unit) string {
	return fmt.Sprintf("%s, cut on the CNC from boards %s thick", words.Count(u.Segments(), "segment", "segments"), m.say(u.Thickness()))
}

// flatRows are the pieces of board of the cut list.
func (m *maker) flatRows() [][]string {
	var rows [][]string
	for i, p := range m.flat().Pieces {
		what := "board for " + m.flat().Program(i) + "; the grain runs along its length"
		if u := p.Parts[0].Unit; u.TwoWoods() {
			what += "; " + p.Wood
		}
		rows = append(rows, []string{"", fmt.Sprint(p.Count), what, m.say(p.Length), m.say(p.Width), m.say(p.Thickness)})
	}
	return rows
}

// flatAlike is boards for the CNC that are cut in the same way.
type flatAlike struct {
	benchwork.FlatSawn
	first, count int
}

func (a flatAlike) name() string { return boardsOf(a.Bought, a.first, a.count) }

// flatPlan is the cut plan of boards for the CNC, drawn to scale with the segments
// that lie on them.
func (m *maker) flatPlan(f *print.Flow) {
	x := m.flat()
	if x == nil {
		return
	}
	f.Compact()
	f.Head("Stock plan")
	f.Text(x.Words() + fmt.Sprintf(" %.1f board feet are taken. Cut each board to the pieces that are drawn, from the left end on; each piece then lies on the CNC as its program says.", x.BoardFeet()))
	if buy := x.ToBuy(); len(buy) > 0 {
		var rows [][]string
		for _, b := range buy {
			rows = append(rows, []string{"", fmt.Sprint(b.Count), b.Wood, m.say(b.Length), m.say(b.Width), m.say(b.Thickness)})
		}
		f.Head("To buy")
		f.Table([]print.Column{{Tick: true}, {Head: "Boards", Right: true}, {Head: "Wood"}, {Head: "Length", Right: true, Wide: 1}, {Head: "Width", Right: true, Wide: 1}, {Head: "Thick", Right: true, Wide: 1}}, rows)
	}
	var groups []flatAlike
	for i, s := range x.Boards {
		if n := len(groups); n > 0 && groups[n-1].Bought == s.Bought && groups[n-1].Board == s.Board && slices.Equal(groups[n-1].Cuts, s.Cuts) {
			groups[n-1].count++
			continue
		}
		groups = append(groups, flatAlike{s, i + 1, 1})
	}
	long := 0.0
	for _, g := range groups {
		long = max(long, x.Board(g.FlatSawn).Length)
	}
	for rest := groups; len(rest) > 0; {
		n, high := m.boardsThatFit(rest, long)
		f.View(m.flatPanel(rest[:n], long), high, m.say)
		rest = rest[n:]
	}
	m.flatTable(f, groups)
}

// What a drawing of boards has beside them, in mm of the page.
const (
	flatWide  = 170.0 // as wide as the page
	flatMost  = 120.0 // high
	flatLabel = 14.0  // above each board
)

// boardsThatFit is how many boards one drawing takes, one below the other, and how
// high it is.
func (m *maker) boardsThatFit(groups []flatAlike, long float64) (n int, high float64) {
	high = 10
	for n < len(groups) {
		more := m.flat().Board(groups[n].FlatSawn).Width/long*flatWide + flatLabel
		if n > 0 && high+more > flatMost {
			break
		}
		n, high = n+1, high+more
	}
	return n, high
}

// flatPanel draws boards below each other to one scale.
func (m *maker) flatPanel(groups []flatAlike, long float64) picture.Panel {
	x := m.flat()
	p := picture.Panel{Name: "cut from the left", Note: "below each piece its program; hatched: trimmed or bad", Room: picture.Room{Left: 2, Right: 2, Above: 6, Below: 6}}
	box := func(x0, x1, y0, y1 float64) geom.Contour {
		return geom.Rect(geom.Box{Min: geom.Pt(x0, y0), Max: geom.Pt(x1, y1)})
	}
	top, line := 0.0, flatLabel/flatWide*long*0.25 // where words lie, off a board's edge
	for _, g := range groups {
		b := x.Board(g.FlatSawn)
		low := top - b.Width
		p.Shapes = append(p.Shapes, picture.Shape{Contour: box(0, b.Length, low, top), Look: picture.Board})
		for _, c := range g.Cuts {
			one := x.Pieces[c.Piece]
			p.Shapes = append(p.Shapes, picture.Shape{Contour: box(c.Start, c.End, low, top), Look: picture.Facet})
			for _, part := range one.Parts {
				p.Shapes = append(p.Shapes, picture.Shape{Contour: geom.Place{Move: geom.Pt(c.Start, low)}.Contour(part.Part.Outline), Look: picture.Part})
			}
			p.Labels = append(p.Labels, picture.Label{At: geom.Pt((c.Start+c.End)/2, low-line), Text: fmt.Sprint(c.Piece + 1)})
		}
		waste := append([]yard.Span{{Start: 0, End: x.Trim}, {Start: b.Length - x.Trim, End: b.Length}}, b.Bad...)
		for _, s := range waste {
			if s.End-s.Start > leastDrawnMM {
				p.Shapes = append(p.Shapes, picture.Shape{Contour: box(s.Start, s.End, low, top), Look: picture.Waste})
			}
		}
		name := ofWood(g.name(), b.Wood)
		p.Labels = append(p.Labels, picture.Label{At: geom.Pt(long*0.15, top+line/2), Text: name + fmt.Sprintf(", %s x %s", m.say(b.Length), m.say(b.Width)), Away: geom.Pt(0, 1)})
		top = low - flatLabel/flatWide*long
	}
	p.Lines = append(p.Lines, picture.Straight(geom.Pt(long, 0), geom.Pt(long, 0), picture.Axis))
	return p
}

// flatTable says each board in words: its pieces in turn.
func (m *maker) flatTable(f *print.Flow, groups []flatAlike) {
	x := m.flat()
	var rows [][]string
	for _, g := range groups {
		b := x.Board(g.FlatSawn)
		var parts []string
		end := x.Trim
		for _, c := range g.Cuts {
			for _, s := range b.Bad {
				if s.End <= c.Start+geom.Touch && s.End > end-geom.Touch {
					parts = append(parts, fmt.Sprintf("leave out %s to %s", m.say(s.Start), m.say(s.End)))
				}
			}
			from := ""
			if c.Start > end+x.Kerf+geom.Touch {
				from = " from " + m.say(c.Start)
			}
			parts = append(parts, fmt.Sprintf("piece %d%s, %s", c.Piece+1, from, m.say(c.End-c.Start)))
			end = c.End
		}
		if rest := b.Length - x.Trim - end - x.Kerf; rest > 0 {
			parts = append(parts, m.say(rest)+" left over")
		}
		rows = append(rows, []string{"", ofWood(g.name(), b.Wood), m.say(b.Length), m.say(b.Width), strings.Join(parts, ", ")})
	}
	f.Table([]print.Column{{Tick: true}, {Head: "Board"}, {Head: "Length", Right: true}, {Head: "Width", Right: true}, {Head: "Pieces, numbered as their programs, from the left end", Wide: 1}}, rows)
}

// flatFacts say which programs a set-up of segments runs, and how often in all.
func (m *maker) flatFacts(s *route.Setup) [][2]string {
	var rows [][2]string
	for _, c := range s.Sheets {
		rows = append(rows, [2]string{"Program", c.Program + m.runs(c.Program)})
	}
	return rows
}

// piecePanel shows the piece of board of the first program that a set-up runs.
func (m *maker) piecePanel(s *route.Setup) (picture.Panel, bool) {
	for _, x := range m.Sheets {
		if x.Path == s.Sheets[0].Program {
			return m.sheetPanel(x), true
		}
	}
	return picture.Panel{}, false
}
