package shopsheet

import (
	"fmt"
	"slices"
	"strings"

	"starwright/geom"
	"starwright/geom/bench/fit"
	"starwright/geom/route"
	"starwright/geom/route/choose"
	"starwright/geom/star"
	"starwright/post/picture"
	"starwright/post/print"
)

// gapRow is a gap in the last joint of a star with what it asks for: the set-up
// that cuts the facets as it is then.
type gapRow struct {
	mm  float64
	at  fit.End
	off geom.Angle // of each facet
	set route.Setup
}

// gapRows are gaps at the valley and then at the centre, as far as they can come
// from the setting, with the corrections that `fit` gives.
func (m *maker) gapRows(unit int, gaps []float64) []gapRow {
	u := m.Order.Units[unit]
	ring := fit.Ring{Points: u.Points, BoardWidth: u.Segment.Width, Tip: u.Segment.Tip}
	var rows []gapRow
	var by []geom.Angle
	for _, at := range []fit.End{fit.Valley, fit.Centre} {
		for _, g := range gaps {
			r, err := ring.Read(g, at, fit.LastJoint, m.u.FormatFine)
			if err != nil { // no saw is off by so much
				continue
			}
			rows = append(rows, gapRow{mm: g, at: at, off: r.Move.By})
			by = append(by, -r.Error)
		}
	}
	if m.Corrected == nil {
		return nil
	}
	all, err := m.Corrected(unit, by...)
	if err != nil || len(all) == 0 || len(all[0]) == 0 { // no saw is set for them
		return nil
	}
	for i := range rows {
		rows[i].set = all[i][0]
	}
	return rows
}

// fitTables turn a gap in the last joint of a star into what is set anew, for the
// way in which this route cuts the facets.
func (m *maker) fitTables(f *print.Flow, g *group) {
	var done []int
	shimmed := false
	for _, x := range g.setups {
		if slices.Contains(done, x.Unit) {
			continue
		}
		done = append(done, x.Unit)
		u, rows := m.Order.Units[x.Unit], m.gapRows(x.Unit, m.gaps())
		if len(rows) == 0 {
			continue
		}
		head := "What the gap asks for"
		if len(g.setups) > 1 {
			head += ", " + u.Words("star")
		}
		if i := slices.IndexFunc(rows, func(r gapRow) bool { return printed(&r.set, route.ReadShim) != "" }); i >= 0 {
			head, shimmed = head+": a shim "+choose.ShimPlace(rows[i].set.Method), true
		}
		m.fitTable(f, head, rows)
	}
	if shimmed {
		f.Text(fmt.Sprintf("A shim goes so far from the line of cut, on the side that stays. Paper is about %s a sheet (common practice); leaves of a feeler gauge are finer.", m.fine(0.1)))
	}
}

// change says in a few words what a row sets anew.
func (m *maker) change(r gapRow) string {
	s := &r.set
	shim := printed(s, route.ReadShim)
	switch {
	case s.Method == route.ByHand && printed(s, route.ReadAxis) != "":
		return printed(s, route.ReadAxis) + " along the middle line"
	case s.Method == route.ByHand:
		return printed(s, route.ReadAlong) + " along the edge"
	case shim == "":
		return "saw to " + printed(s, route.ReadSaw)
	case reading(s, route.ReadShim) < choose.LeastShim:
		return "too little to set"
	}
	return "shim " + shim + " at " + printed(s, route.ReadShimAt)
}

func (m *maker) fitTable(f *print.Flow, head string, rows []gapRow) {
	cols := []print.Column{{Head: "Gap"}, {Head: "Open at the"}, {Head: "Facets off by", Right: true}, {Head: "Change", Right: true, Wide: 1}}
	cells := make([][]string, len(rows))
	for i, r := range rows {
		cells[i] = []string{m.u.FormatSize(r.mm), r.at.String(), fmt.Sprintf("%.3f°", r.off.Degrees()), m.change(r)}
	}
	then := func(head, name string) {
		cols = append(cols, print.Column{Head: head, Right: true})
		for i := range rows {
			cells[i] = append(cells[i], printed(&rows[i].set, name))
		}
	}
	switch rows[0].set.Method {
	case route.OnBlock:
		then("Nose then", route.ReadNose)
	case route.Direct, route.OnEdge:
		then("Stop then", route.ReadStop)
	}
	const row = 5.6 // mm
	f.Need(f.HeadTall() + row*float64(len(rows)+1))
	f.Head(head)
	f.SmallTable(cols, cells)
}

// gaps are the gaps of the table, in steps that feeler gauges and rules show.
func (m *maker) gaps() []float64 {
	if m.u == geom.Inch {
		return []float64{25.4 / 128, 25.4 / 64, 25.4 / 32, 25.4 / 16}
	}
	return []float64{0.2, 0.5, 1, 2}
}

// fineGaps are those of the field on the phone.
func (m *maker) fineGaps() []float64 {
	var out []float64
	step, n := 0.1, 20
	if m.u == geom.Inch {
		step, n = geom.MMPerInch/128, 12
	}
	for i := range n {
		out = append(out, float64(i+1)*step)
	}
	return out
}

// adviceOf is what a row says in words.
func adviceOf(r gapRow) string { return strings.Join(choose.Advice(&r.set), " ") }

// fine prints a small length: inches to a thousandth beside their fraction.
func (m *maker) fine(mm float64) string { return m.u.FormatFine(mm) }

// fitPanels draws the last joint open at the valley and at the centre.
func (m *maker) fitPanels(f *print.Flow, u *star.Unit) {
	seg := u.Segment
	panel := func(open geom.Angle, name string) picture.Panel {
		p := picture.Panel{Name: name, Room: picture.Room{Left: 8, Right: 24, Above: 1, Below: 1}}
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
	const shown, high = 9 * geom.Degree, 27.0
	a, b := panel(shown, "open at the valley"), panel(-shown, "open at the centre")
	gap := 2 * seg.Facet * (shown / 2).Sin()
	a.Labels = []picture.Label{{At: geom.Pt(0, seg.Facet*0.9), Text: "gap here", Mark: picture.Dot, Away: geom.Pt(0.3, 1)}}
	b.Labels = []picture.Label{{At: geom.Pt(0, gap*0.2), Text: "gap here", Mark: picture.Dot, Away: geom.Pt(1, -0.4)}}
	f.Beside(a, b, 0.5, high, m.say)
}
