package shopsheet

import (
	"fmt"
	"reflect"
	"strings"

	"starwright/cmd/internal/draw"
	"starwright/geom"
	"starwright/geom/bench/yard"
	"starwright/geom/words"
	"starwright/post/picture"
	"starwright/post/print"
)

// sawnAlike is boards of an order that are cut in the same way.
type sawnAlike struct {
	yard.Sawn
	first, count int
}

// rackPlan is the cut plan of an order, drawn to scale: each board with its strips
// and what is cut from them.
func (m *maker) rackPlan(f *print.Flow) {
	if m.Bench == nil || m.Bench.Rack == nil {
		return
	}
	r := m.Bench.Rack
	f.Compact()
	f.Head("Stock plan")
	f.Text(r.Words() + fmt.Sprintf(" Waste %.0f %%, kerfs, trims and rests counted; %.1f board feet are taken. Rip each board along its whole length into the strips that are drawn, then cut them to length from the left.",
		r.WastePercent(), r.BoardFeet()))
	if buy := r.Buy(); len(buy) > 0 {
		var rows [][]string
		for _, b := range buy {
			rows = append(rows, []string{"", fmt.Sprint(b.Count), b.Wood, m.say(b.Length), m.say(b.Width), m.say(b.Thickness)})
		}
		f.Head("To buy")
		f.Table([]print.Column{{Tick: true}, {Head: "Boards", Right: true}, {Head: "Wood"}, {Head: "Length", Right: true, Wide: 1}, {Head: "Width", Right: true, Wide: 1}, {Head: "Thick", Right: true, Wide: 1}}, rows)
	}
	var groups []sawnAlike
	for i, s := range r.Plan.Boards {
		if n := len(groups); n > 0 && groups[n-1].Bought == s.Bought && reflect.DeepEqual(r.Board(groups[n-1].Sawn), r.Board(s)) && reflect.DeepEqual(groups[n-1].Strips, s.Strips) {
			groups[n-1].count++
			continue
		}
		groups = append(groups, sawnAlike{s, i + 1, 1})
	}
	long := 0.0
	for _, g := range groups {
		long = max(long, r.Board(g.Sawn).Length)
	}
	const most = 5 // boards in a drawing
	for rest := groups; len(rest) > 0; {
		n := min(most, len(rest))
		p := m.sawnPanel(rest[:n], long)
		f.View(p, 12+float64(n)*26, m.say)
		rest = rest[n:]
	}
	m.sawnTable(f, groups)
}

func (a sawnAlike) name() string { return boardsOf(a.Bought, a.first, a.count) }

// boardsOf says which boards of the plan some are: "boards 1 and 2".
func boardsOf(bought bool, first, count int) string {
	what := "board"
	if bought {
		what = "bought board"
	}
	switch count {
	case 1:
		return fmt.Sprintf("%s %d", what, first)
	case 2:
		return fmt.Sprintf("%ss %d and %d", what, first, first+1)
	}
	return fmt.Sprintf("%ss %d to %d", what, first, first+count-1)
}

// ofWood is a board's name with its wood.
func ofWood(name, wood string) string { return strings.TrimSuffix(name+", "+wood, ", ") }

// sawnPanel draws boards below each other to one scale along their length; across
// they are drawn wider than they are, so that narrow strips show.
func (m *maker) sawnPanel(groups []sawnAlike, long float64) picture.Panel {
	var stars []string
	for i := range m.Bench.Rack.Units {
		stars = append(stars, fmt.Sprintf("%d %s", i+1, m.Bench.Rack.Name(i)))
	}
	p := picture.Panel{Name: "cut from the left", Note: strings.Join(stars, ", ") + "; hatched: trimmed or bad", Room: picture.Room{Left: 2, Right: 2, Above: 6}}
	high := long * 0.09
	pitch := high * 1.75
	box := func(x0, x1, y0, y1 float64) geom.Contour {
		return geom.Rect(geom.Box{Min: geom.Pt(x0, y0), Max: geom.Pt(x1, y1)})
	}
	r := m.Bench.Rack
	for i, g := range groups {
		b := r.Board(g.Sawn)
		top := -float64(i) * pitch
		across := func(mm float64) float64 { return top - mm/b.Width*high }
		p.Shapes = append(p.Shapes, picture.Shape{Contour: box(0, b.Length, top-high, top), Look: picture.Board})
		waste := append([]yard.Span{{Start: 0, End: r.Ask.EndTrim}, {Start: b.Length - r.Ask.EndTrim, End: b.Length}}, b.Bad...)
		for _, s := range waste {
			if s.End-s.Start > leastDrawnMM {
				p.Shapes = append(p.Shapes, picture.Shape{Contour: box(s.Start, s.End, top-high, top), Look: picture.Waste})
			}
		}
		for _, strip := range g.Strips {
			for _, c := range strip.Cuts {
				one := r.Ask.Pieces[c.Piece]
				shape := box(c.Start, c.End, across(strip.Across.Start+one.Width), across(strip.Across.Start))
				look := picture.Part
				if u := r.Units[c.Piece]; u.TwoWoods() && r.First(c.Piece) {
					look = draw.WoodLook(u, 0)
				}
				p.Shapes = append(p.Shapes, picture.Shape{Contour: shape, Look: look})
				p.Labels = append(p.Labels, picture.Label{At: shape.Bounds().Center(), Text: fmt.Sprint(c.Piece + 1), Mark: picture.On, In: shape, Spare: true})
			}
		}
		p.Labels = append(p.Labels, picture.Label{At: geom.Pt(min(long, b.Length)/2, top), Text: ofWood(g.name(), b.Wood) + fmt.Sprintf(", %s x %s", m.say(b.Length), m.say(b.Width)), Away: geom.Pt(0, 1)})
	}
	p.Lines = append(p.Lines, picture.Straight(geom.Pt(long, 0), geom.Pt(long, 0), picture.Axis))
	return p
}

// sawnTable says each board in words: its strips, and the blanks of each.
func (m *maker) sawnTable(f *print.Flow, groups []sawnAlike) {
	r := m.Bench.Rack
	var rows [][]string
	for _, g := range groups {
		b := r.Board(g.Sawn)
		var strips []string
		for _, s := range g.Strips {
			strips = append(strips, fmt.Sprintf("%s wide: %s", m.say(s.Across.End-s.Across.Start), m.stripWords(s, b)))
		}
		rows = append(rows, []string{"", ofWood(g.name(), b.Wood), m.say(b.Length), m.say(b.Width), strings.Join(strips, "; ")})
	}
	f.Table([]print.Column{{Tick: true}, {Head: "Board"}, {Head: "Length", Right: true}, {Head: "Width", Right: true}, {Head: "Strips, and the blanks of each from its left end", Wide: 1}}, rows)
}

// stripWords lists the blanks of a strip in turn.
func (m *maker) stripWords(s yard.Strip, b yard.Board) string {
	r := m.Bench.Rack
	var parts []string
	for i := 0; i < len(s.Cuts); {
		n, k := 0, i
		for ; i < len(s.Cuts) && s.Cuts[i].Piece == s.Cuts[k].Piece; i++ {
			n++
		}
		name := r.Name(s.Cuts[k].Piece)
		if r.Strip[s.Cuts[k].Piece] {
			name += strings.TrimPrefix(words.Count(n, " strip", " strips"), fmt.Sprint(n, " "))
		}
		parts = append(parts, fmt.Sprintf("%d %s", n, name))
	}
	text := strings.Join(parts, ", ")
	for _, bad := range b.Bad {
		text += fmt.Sprintf(", leave out %s to %s", m.say(bad.Start), m.say(bad.End))
	}
	return words.OneLine(text)
}
