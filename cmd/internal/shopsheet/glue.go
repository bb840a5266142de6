package shopsheet

import (
	"fmt"
	"math"
	"slices"

	"starwright/geom"
	"starwright/geom/bench/fit"
	"starwright/geom/star"
	"starwright/post/picture"
	"starwright/post/sheet"
)

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

// testFit is the page that turns a gap into a correction.
func (m *maker) testFit() {
	seg := m.star.Segment
	s := fit.Ring{Points: m.star.Points, BoardWidth: seg.Width, Tip: seg.Tip}
	f := m.doc.Section("Test fit: what a gap says of the saw")
	f.Text(fmt.Sprintf("Lay the %d segments of one star together without glue, press all joints shut but one, and look at that last joint. One set-up cut all facets, so a small error adds up %d times in it.",
		s.Points, 2*s.Points))
	m.fitPanels(f)
	f.Head("Set the saw anew for the facets by")
	cols := []sheet.Column{{Head: "Gap in the last joint", Wide: 2}, {Head: "Open at the valley", Wide: 2.2, Right: true}, {Head: "Open at the centre", Wide: 2.2, Right: true}}
	var rows [][]string
	for _, g := range m.gaps() {
		row := []string{m.u.FormatSize(g)}
		for _, at := range []fit.Place{fit.Valley, fit.Centre} {
			r, err := s.Read(g, at, fit.LastJoint, m.say2())
			if err != nil {
				row = append(row, "measure again")
				continue
			}
			row = append(row, fmt.Sprintf("%.3f°, %s at %s", r.Move.By.Degrees(), m.fine(r.Move.At(m.arm())), m.say(m.arm())))
		}
		rows = append(rows, row)
	}
	f.Table(cols, rows)
	f.Points(
		"Open at the valley: the facets' angles are too small. Turn the saw towards square, or open the angle of the block.",
		"Open at the centre: the angles are too large. Turn the saw away from square, or close the block.",
		fmt.Sprintf("The second number is how far arm or block moves %s from its pivot: a strip of paper is about 0.1 mm or 0.004 in.", m.say(m.arm())),
	)
	if e, err := s.Finest(m.gaps()[0], fit.LastJoint, m.say2()); err == nil {
		f.Text(fmt.Sprintf("For a last joint below %s each facet must be within %.3f°. No saw is set that fine by its scale: cut, look, correct, and true the last joint as the next page says.",
			m.u.FormatSize(m.gaps()[0]), e.Degrees()))
	}
	f.Text("For other gaps and other ways to look: starwright fit --help")
}

func (m *maker) say2() func(float64) string { return m.u.FormatFine }

// fitPanels draws the last joint open at the valley and at the centre.
func (m *maker) fitPanels(f *sheet.Flow) {
	seg := m.star.Segment
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
	f.Beside(a, b, 0.5, 66, m.say)
}

// glueUp is the page of the order in which a star is glued, with the reasons.
func (m *maker) glueUp() {
	b := m.star
	n := b.Points
	f := m.doc.Section("Glue-up")
	small := n / 2
	big := n - small
	f.View(m.gluePanel(b), 104, m.say)
	splines := " with its spline"
	if b.Spline == nil {
		splines = ""
	}
	steps := []string{
		"Lay the star out dry" + splines + ", show faces up, and number the segments. Choose grain and colour now. All joints must close under the hands.",
		fmt.Sprintf("Glue the joints marked 1: two halves, one of %d segments and one of %d. Each joint%s, rubbed in, held with tape across the show face and a strap round the tips. Let them harden.",
			small, big, splines),
		"Lay the halves together dry. " + m.truing(),
		"Glue the joints marked 2, both in one go, on a flat board under paper, a weight on the middle.",
	}
	f.Steps(steps...)
	f.Head("Why in this order")
	f.Points(
		"The small errors of all facets come together in the joints that are closed last. There are two of them, they lie in one line or nearly so, and they can be trued; a single last joint in the round cannot.",
		"Two joints at a time leave the time that glue gives, and a strap pulls along the joints instead of across them.",
		"Facets are nearly end grain: brush thin glue on, wait a minute, brush again, then close.",
	)
}

// truing says how the halves are trued.
func (m *maker) truing() string {
	if m.star.Points%2 == 0 {
		return "If the two joints do not close, shoot each half's two facets together to one straight edge, with a plane or sandpaper on a flat board, until they do."
	}
	return "If the two joints do not close, fit the smaller half: take a thin wedge off its two facets where they touch first, with a plane or sandpaper on a flat board."
}

// gluePanel shows which joints are glued first and which last.
func (m *maker) gluePanel(u *star.Unit) picture.Panel {
	n := u.Points
	p := picture.Panel{Name: "1 glued first, 2 glued last", Note: "seen from the front", Room: picture.Room{Left: 4, Right: 4, Above: 2, Below: 2}}
	turn := geom.Place{Turn: 90 * geom.Degree}
	// The halves are drawn a little apart: the smaller one to the right.
	small := n / 2
	apart := u.Segment.Width * 0.11
	mid := geom.Deg(360 / float64(n) * (float64(small) - 1) / 2)
	first := geom.Angle(0)
	start := turn.Turn - mid // so that the smaller half points up
	for k := range n {
		a := start + first + geom.Deg(360*float64(k)/float64(n))
		at := geom.Place{Turn: a}
		if k < small {
			at.Move = geom.Pt(0, apart)
		} else {
			at.Move = geom.Pt(0, -apart)
		}
		c := at.Contour(u.Segment.Outline())
		p.Shapes = append(p.Shapes, picture.Shape{Contour: c, Look: picture.Part})
		joint, name := a+u.Segment.Center/2, "1"
		where := at.Move
		if k == small-1 || k == n-1 {
			name, where = "2", geom.Point{}
		}
		q := where.Add(geom.Polar(u.Segment.Facet*0.62, joint))
		p.Labels = append(p.Labels, picture.Label{At: q, Text: name, Mark: pickMark(name), Away: geom.Polar(1, joint)})
	}
	return p
}

func pickMark(name string) picture.Mark {
	if name == "2" {
		return picture.On
	}
	return picture.Dot
}

// finish is the page of what is done and looked at at the end.
func (m *maker) finish() {
	b := m.star
	f := m.doc.Section("Finishing and checks")
	f.Head("Checks on the way")
	boards := fmt.Sprintf("Boards: %s wide, both edges parallel within %s.", m.say(b.Segment.Width), m.tol(0.2))
	if s := m.strips(); s.Glued() {
		boards = fmt.Sprintf("Glued-up blanks: %s wide, both edges parallel within %s, no joint open, the middle joint on the centre line; each tip comes out on it.", m.wide(s.Ask.Width), m.tol(0.2))
	}
	f.Ticks(
		boards,
		fmt.Sprintf("Blanks: all %s long within %s.", m.say(b.Blank.Length), m.tol(0.5)),
		fmt.Sprintf("Facets: meet in a point, %s between them, square to the faces.", deg(b.Segment.Center)),
		fmt.Sprintf("Segments: %s from centre to tip within %s; put two on each other, they must cover.", m.say(b.Segment.Length), m.tol(1)),
	)
	if s := b.Slot; s != nil {
		f.Ticks(fmt.Sprintf("Slots: %s deep, %s from the show face to their middle, the same in the left and the right facet.", m.say(s.Depth), m.say(s.FromFace)))
	}
	f.Ticks(fmt.Sprintf("Dry star: last joint open by no more than %s.", m.tol(0.5)),
		fmt.Sprintf("Glued star: %s from tip to tip, the same within %s whichever two tips are measured.", m.say(b.Width()), m.tol(math.Max(1.5, math.Round(b.Width()*0.004)))))
	if m.small != nil {
		f.Ticks(fmt.Sprintf("Small star: %s from tip to tip.", m.say(m.small.Width())))
	}
	f.Head("Finishing")
	f.Steps(
		"Scrape the glue off when it is leathery; level the faces with a plane or a sanding block, from the valleys to the tips and never across a joint.",
		"Sand 120, 180 along each segment. Break all edges with two strokes; leave the joints' arrises at the valleys crisp.",
		"Seal the end grain at the tips and the valleys twice. Finish all faces alike, the back too, or the star cups.",
		"Hang it from two holes in the back near a tip, drilled with a stop: half the thickness at most, and never into a spline.",
	)
}

// tol prints a tolerance: in inches down to a line of the rule where it spans
// one, else to the hundredth.
func (m *maker) tol(mm float64) string {
	if m.u != geom.Inch {
		return m.fine(mm)
	}
	const inchRule = geom.MMPerInch / 32
	if mm >= inchRule {
		return m.say(math.Floor(mm/inchRule) * inchRule)
	}
	return m.fine(mm)
}

// cautions is the page of what hurts people.
func (m *maker) cautions() {
	f := m.doc.Section("Before you switch on")
	f.Strong("This sheet gives numbers, not permission: the machine's own manual and your instruction on it come first.")
	f.Head("Mitre saw")
	f.Points(
		"Blade off, plug out, while blocks, cradles and stops are fixed. Turn the blade by hand past block, screws and clamps before the first cut.",
		"Short pieces are clamped, never held. Hands stay outside the width of a spread hand from the line of cut.",
		"No stop on the side that falls off: a piece caught between blade and stop is thrown.",
		"Let the blade come to speed, cut slowly, wait until it stands before you lift it or reach for an off-cut.",
		"A block that turns the work leaves a gap at the fence: check that the guard closes over it.",
	)
	if slices.ContainsFunc(m.Order.Units, func(u *star.Unit) bool { return u.Slot != nil }) {
		f.Head("Router table")
		f.Points(
			"Feed against the bit's rotation: from right to left, the fence behind. The other way the bit pulls the work out of your hands.",
			"The work rides in its carriage, both hands on the grip, a guard over the bit.",
			"Lower work onto a bit only against the right stop. Never back up in a cut that has begun: stop the router first.",
		)
		f.Head("CNC")
		f.Points(
			"Every first run is an air cut. A hand stays at the stop button until the first segment is done.",
			"Clamps and screws stay outside of the travel and below the safe height. Nothing hangs into the spindle.",
		)
	}
	f.Head("You and the wood")
	f.Points(
		"Eye and ear protection; no gloves, sleeves or strings near anything that turns. Dust is drawn off where it is made, and a mask worn: some woods, cedar among them, harm the lungs.",
		"Look each board over for nails and stones before it meets a blade.",
		"Finishes: air and no flame. Oily rags are spread out flat outdoors: they catch fire by themselves.",
	)
}

// files lists what the packet holds for machines.
func (m *maker) files() {
	if len(m.Programs)+len(m.Drawings) == 0 {
		return
	}
	f := m.doc.Section("Files for the machines")
	if len(m.Programs) > 0 {
		f.Head("Programs")
		var rows [][]string
		for _, p := range m.Programs {
			rows = append(rows, []string{"", p.Path, p.Use, fmt.Sprint(p.Quantity), fmt.Sprintf("%.1f", p.Minutes)})
		}
		f.SmallTable([]sheet.Column{{Tick: true}, {Head: "File"}, {Head: "What it does", Wide: 1}, {Head: "Runs", Right: true}, {Head: "min each", Right: true}}, rows)
	}
	if len(m.Drawings) > 0 {
		f.Head("Drawings")
		var rows [][]string
		for _, p := range m.Drawings {
			use := p.Use
			for _, j := range m.Jigs {
				if jigPath(j) == p.Path {
					use = j.Title
				}
			}
			rows = append(rows, []string{p.Path, use, fmt.Sprint(p.Quantity)})
		}
		f.SmallTable([]sheet.Column{{Head: "File"}, {Head: "What it shows", Wide: 1}, {Head: "Cut", Right: true}}, rows)
	}
}
