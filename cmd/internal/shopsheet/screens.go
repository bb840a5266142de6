package shopsheet

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"starwright/geom/route"
	"starwright/geom/words"
	"starwright/post/picture"
	"starwright/post/screens"
)

// Screens returns bench.html: the route on a phone, one set-up a screen.
func Screens(in Input) ([]byte, error) {
	m, err := newMaker(in)
	if err != nil {
		return nil, err
	}
	p := screens.Page{Title: in.Title, Lead: m.lead()}
	p.Screens = append(p.Screens, screens.Screen{Title: "Before you switch on", Cautions: m.care()})
	for _, g := range groups(m.Route) {
		s, err := m.screen(g)
		if err != nil {
			return nil, err
		}
		p.Screens = append(p.Screens, s)
	}
	var b bytes.Buffer
	if err := screens.Build(&b, p); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// lead says what is made.
func (m *maker) lead() string {
	var parts []string
	for _, u := range m.Order.Units {
		parts = append(parts, fmt.Sprintf("%s of %d points, %s from tip to tip", words.Count(u.Count(), "star", "stars"), u.Points, m.say(u.Width())))
	}
	return strings.Join(parts, "; ") + "."
}

// screen is the set-ups of one page on one screen.
func (m *maker) screen(g *group) (screens.Screen, error) {
	first := g.setups[0]
	s := screens.Screen{Title: g.title, Where: places[first.Machine], Face: face(g)}
	all := values(g)
	for _, v := range all {
		n := screens.Number{Name: named(v, all), Value: v.Printed}
		if v.Set && !slices.Contains(small, v.Name) {
			s.Numbers = append(s.Numbers, n)
		} else {
			s.Facts = append(s.Facts, n)
		}
	}
	for _, x := range g.setups {
		for _, r := range m.programFacts(x) {
			s.Facts = append(s.Facts, screens.Number{Name: r[0], Value: r[1]})
		}
		s.Counts = append(s.Counts, screens.Count{Name: x.Name, Of: counted(x), N: x.Count})
	}
	for _, j := range jigWords(g) {
		s.Facts = append(s.Facts, screens.Number{Name: "Jig", Value: j})
	}
	w := wordsOf(g)
	s.Steps, s.Measure, s.Cautions = w.steps, w.measure, w.care
	if first.Machine == route.CNC {
		s.Before = m.checklist(first)
	}
	if first.Kind == route.TestFit {
		s.Fits = m.fitFields(g)
	}
	err := m.pictures(g, &s)
	return s, err
}

// face says which face is up in the set-ups of a page, where it is the same.
func face(g *group) string {
	up, down := false, false
	for _, s := range g.setups {
		if s.Hold != nil && s.Machine == route.MitreSaw {
			up, down = up || !s.Hold.ShowFaceDown, down || s.Hold.ShowFaceDown
		}
	}
	switch {
	case up && down:
		return "first show face up, then show face DOWN"
	case down:
		return "show face DOWN"
	case up:
		return "show face up"
	}
	return ""
}

// checklist is what is looked at before a program is started.
func (m *maker) checklist(s *route.Setup) []string {
	out := []string{"The bit is the one that the page names, and it is tight."}
	if s.Slot != nil {
		out = append(out,
			"Zero is set: X0 at the star's centre end of the facet, Y0 at the show face, Z0 on the facet.",
			"There is room below the facet, and all clamps are lower than "+m.clampHeight()+" over it.")
	} else if len(s.Sheets) > 0 {
		out = append(out,
			"Zero is set: X0 Y0 at the lower left corner of the piece of board, Z0 on its top; the grain lies along X.",
			"The piece lies flat on a spoilboard and is held as the page of its program says, clamps lower than "+m.clampHeight()+" over it.")
	} else {
		out = append(out,
			"Zero is set: X0 Y0 at the lower left corner of the sheet, Z0 on its top.",
			"The sheet lies flat on a spoilboard and is held: screws only in the hatched squares, clamps lower than "+m.clampHeight()+" over it.")
		for _, s := range m.Sheets[:min(1, len(m.Sheets))] {
			if len(s.Screws) == 0 {
				out[len(out)-1] = "The sheet lies flat on a spoilboard and is held all over by tape or a vacuum; clamps are lower than " + m.clampHeight() + " over it."
			}
		}
	}
	return append(out, "An air cut is done, Z0 set too high, one hand at the stop.", "Dust is drawn off; eyes and ears are covered.")
}

// fitFields are what the fields of the test fit need to answer, one for each kind
// of star.
func (m *maker) fitFields(g *group) []screens.Fit {
	var out []screens.Fit
	var done []int
	for _, s := range g.setups {
		rows := m.gapRows(s.Unit, m.fineGaps())
		if slices.Contains(done, s.Unit) || len(rows) == 0 {
			continue
		}
		done = append(done, s.Unit)
		f := screens.Fit{UnitMM: m.u.MM(), Unit: m.u.String()}
		if len(g.setups) > 1 {
			f.Star = m.Order.Units[s.Unit].Words("star")
		}
		for _, r := range rows {
			f.Rows = append(f.Rows, screens.FitRow{Wide: r.mm, Gap: m.u.FormatSize(r.mm), At: r.at.String(), Do: adviceOf(r)})
		}
		out = append(out, f)
	}
	return out
}

// pictures draws the set-ups that differ.
func (m *maker) pictures(g *group, s *screens.Screen) error {
	var drawn []*route.Setup
	for _, x := range g.setups {
		if slices.ContainsFunc(drawn, func(d *route.Setup) bool { return sameView(d, x) }) {
			continue
		}
		p, ok := m.panel(x)
		if !ok {
			continue
		}
		drawn = append(drawn, x)
		svg, err := m.svg(p)
		if err != nil {
			return err
		}
		s.Pictures = append(s.Pictures, screens.Picture{SVG: svg, Text: m.told(x)})
	}
	return nil
}

// svg draws a panel by itself.
func (m *maker) svg(p picture.Panel) ([]byte, error) {
	const wide, high = 130.0, 110.0 // mm: a phone held upright shows its words at their size
	p.Name, p.Note = "", ""
	s := picture.NewPage(wide, high, "")
	s.Draw(p, s.Page(), m.say)
	return s.SVG()
}

// told says in words what a picture of a set-up shows, with its numbers.
func (m *maker) told(s *route.Setup) string {
	words := []string{s.Name}
	if s.Hold != nil {
		f := "show face up"
		if s.Hold.ShowFaceDown {
			f = "show face down"
		}
		words = append(words, f)
	}
	for _, r := range s.Readings {
		words = append(words, names[r.Name]+" "+r.Printed)
	}
	return strings.Join(words, ", ")
}
