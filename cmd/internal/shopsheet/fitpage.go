package shopsheet

import (
	"fmt"
	"strings"

	"starwright/geom"
	"starwright/geom/bench/fit"
	"starwright/geom/route"
	"starwright/geom/star"
	"starwright/post/picture"
	"starwright/post/print"
)

// fitTables turn a gap in the last joint of a star into what is set anew, for the
// way in which this route cuts the facets.
func (m *maker) fitTables(f *print.Flow, g *group) {
	said := ""
	for _, x := range g.setups {
		u := m.Order.Units[x.Unit]
		head := "What the gap asks for"
		if len(g.setups) > 1 {
			head += ", " + u.Words("star")
		}
		f.Head(head)
		m.fitTable(f, u)
		turns := m.turns(u)
		if words := strings.Join(turns, " "); words != said {
			f.Points(turns...)
			said = words
		}
	}
	f.Text(fmt.Sprintf("The paper goes where jig or board then leaves the fence, %s from where it still touches. One sheet is about 0.1 mm or 0.004 in (common practice).", m.say(m.arm())))
}

func (m *maker) fitTable(f *print.Flow, u *star.Unit) {
	s := fit.Ring{Points: u.Points, BoardWidth: u.Segment.Width, Tip: u.Segment.Tip}
	cols := []print.Column{{Head: "Gap in the last joint", Wide: 2}, {Head: "Each facet is off by", Right: true, Wide: 2}, {Head: "Paper at " + m.say(m.arm()), Right: true, Wide: 2}}
	var rows [][]string
	for _, g := range m.gaps() {
		r, err := s.Read(g, fit.Valley, fit.LastJoint, m.say2())
		if err != nil {
			rows = append(rows, []string{m.u.FormatSize(g), "measure again", ""})
			continue
		}
		rows = append(rows, []string{m.u.FormatSize(g), fmt.Sprintf("%.3f°", r.Move.By.Degrees()), m.fine(r.Move.At(m.arm()))})
	}
	f.SmallTable(cols, rows)
}

// turns says which way the correction goes, by how the route holds the work.
func (m *maker) turns(u *star.Unit) []string {
	method := route.ByHand
	for _, s := range m.Route.Setups {
		if (s.Kind == route.Facet || s.Kind == route.PairFacet) && m.Order.Units[s.Unit] == u {
			method = s.Method
			break
		}
	}
	small, large := "Open at the valley, angles too small: ", "Open at the centre, angles too large: "
	switch method {
	case route.OnBlock:
		return []string{
			small + "the board must lie flatter to the fence. Paper between fence and block, at the block's end by the blade.",
			large + "paper between fence and block, at its end away from the blade.",
		}
	case route.Direct, route.OnEdge, route.OnFacet:
		return []string{small + "turn the saw towards square.", large + "turn the saw away from square."}
	case route.Cradled:
		return []string{
			small + "paper between fence and cradle, at its end away from the blade.",
			large + "paper between fence and cradle, at its end by the blade.",
		}
	}
	return []string{small + "plane less off at the centre's end of each facet.", large + "plane more off at the centre's end of each facet."}
}

// gaps are the gaps of the table, in steps that feeler gauges and rules show.
func (m *maker) gaps() []float64 {
	if m.u == geom.Inch {
		return []float64{25.4 / 128, 25.4 / 64, 25.4 / 32, 25.4 / 16}
	}
	return []float64{0.2, 0.5, 1, 2}
}

// arm is where the correction is given as a length, mm from the saw's pivot.
func (m *maker) arm() float64 {
	if m.u == geom.Inch {
		return 12 * geom.MMPerInch
	}
	return 300
}

// fine prints a small length: inches to a thousandth beside their fraction.
func (m *maker) fine(mm float64) string { return m.u.FormatFine(mm) }

func (m *maker) say2() func(float64) string { return m.u.FormatFine }

// fitPanels draws the last joint open at the valley and at the centre.
func (m *maker) fitPanels(f *print.Flow, u *star.Unit) {
	seg := u.Segment
	panel := func(open geom.Angle, name string) picture.Panel {
		p := picture.Panel{Name: name, Room: picture.Room{Left: 8, Right: 8, Above: 2}}
		for _, side := range []float64{1, -1} {
			at := geom.Place{Turn: 90*geom.Degree + geom.Angle(side)*(seg.Center/2+open/2)}
			if open < 0 { // about the valley instead of the centre
				v := geom.Polar(seg.Facet, 90*geom.Degree)
				to := at.Point(geom.Polar(seg.Facet, -geom.Angle(side)*seg.Center/2))
				at.Move = v.Sub(to)
			}
			p.Shapes = append(p.Shapes, picture.Shape{Contour: at.Contour(seg.Outline()), Look: picture.Part})
		}
		return p
	}
	const shown = 9 * geom.Degree
	a, b := panel(shown, "open at the valley"), panel(-shown, "open at the centre")
	gap := 2 * seg.Facet * (shown / 2).Sin()
	a.Labels = []picture.Label{{At: geom.Pt(0, seg.Facet*0.9), Text: "gap here", Mark: picture.Dot, Away: geom.Pt(0, 1)}}
	b.Labels = []picture.Label{{At: geom.Pt(0, gap*0.2), Text: "gap here", Mark: picture.Dot, Away: geom.Pt(0, -1)}}
	b.Room.Below = 8
	f.Beside(a, b, 0.5, 30, m.say)
}
