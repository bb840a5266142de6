package shopsheet

import (
	"fmt"

	"starwright/cmd/internal/benchwork"
	"starwright/geom"
	"starwright/geom/words"
	"starwright/post/picture"
	"starwright/post/sheet"
)

// strips is how the star's boards are made from those on the rack; nil where
// they are as wide.
func (m *maker) strips() *benchwork.Strips {
	if m.Bench == nil {
		return nil
	}
	return m.Bench.Strips
}

// stripsPage is the page of blanks that are glued up from strips, or of boards
// that are ripped to the star's width.
func (m *maker) stripsPage() {
	s := m.strips()
	switch {
	case s == nil:
		return
	case !s.Glued():
		m.ripPage(s)
		return
	}
	f := m.doc.Section("Strips for the blanks")
	f.Text(fmt.Sprintf("The boards on the rack are %s wide, the star takes %s: each blank is glued up from %d strips. The middle joint lies on the segment's centre line and runs through its tip.",
		m.say(s.Ask.BoardWidth), m.say(s.Ask.Width), s.PerBlank))
	f.View(m.blankJoints(s), 92, m.say)
	f.View(m.ripPanel(s), 56, m.say)
	facts(f,
		[2]string{"Strips", fmt.Sprintf("%d: %d for each of %d blanks, %d of those to cut the first star again", s.Total(), s.PerBlank, s.Blanks, m.star.Points)},
		[2]string{"Rip", fmt.Sprintf("to %s, one from each board; %s of its width is left", m.wide(s.StripWidth), m.say(s.Offcut))},
		[2]string{"Plane", fmt.Sprintf("both edges, %s off each: each strip is %s wide when it is glued", m.wide(s.Ask.Jointing), m.wide(s.Planed))},
		[2]string{"Cut to", fmt.Sprintf("%s, as the blanks, after ripping", m.say(s.Ask.Length))},
	)
}

// stripsToLength is the set-up of the saw for strips, in place of the one for
// blanks.
func (m *maker) stripsToLength(f *sheet.Flow, s *benchwork.Strips) {
	l := s.Ask.Length
	facts(f,
		[2]string{"Saw at", "0°, a square cut"},
		[2]string{"Stop", m.say(l) + " from the line of cut, on the same side as the work that stays"},
		[2]string{"To the fence", "either edge"},
		[2]string{"Cut", fmt.Sprintf("%d strips, %d for each blank", s.Total(), s.PerBlank)})
	f.View(m.blankPanel("strip", s.StripWidth), 78, m.say)
	f.Steps(
		"Look whether the saw cuts square, both ways: turn the piece over on its edge and cut again; the two cuts must stay parallel.",
		"Square the end of the ripped board, push it against the stop, hold, cut, wait until the blade stands, lift it.",
		"Keep the strips of one blank together, side by side as they came from one board where that goes, and mark the show face and the square end.",
	)
}

// gluingPage tells how the strips become blanks.
func (m *maker) gluingPage(s *benchwork.Strips) {
	f := m.doc.Section("Gluing the blanks up")
	f.View(m.clampPanel(s), 92, m.say)
	facts(f,
		[2]string{"Glue", m.glueWords(s)},
		[2]string{"Clamps", fmt.Sprintf("%d for each blank, over and under it by turns (common practice)", s.Clamps)},
	)
	f.Steps(
		"Plane the edges straight and square. Two strips held together against the light show none.",
		"Turn the growth rings of neighbours opposite ways, and let the grain of their show faces rise the same way.",
		"Brush glue on one edge of each joint. Close it with ends and show faces flush, the joints along the whole length.",
		"Tighten the clamps from the middle outwards until small beads of glue stand along the joint, not until it runs dry.",
		"Scrape the glue off when it is leathery. Plane both faces flat, or the facets will not be square to them.",
		fmt.Sprintf("Bring each blank to %s in width, as much from one edge as from the other: the joint stays in its middle, and the star's tips lie on it.", m.wide(s.Ask.Width)),
		"Square one end of each blank: it becomes the star's centre. Stack the blanks with that end one way and mark the show face.",
	)
	f.Text(fmt.Sprintf("Blanks of which the widths differ by more than %s make stars of which the facets do not meet at one point.", m.u.FormatFine(0.5)))
}

// ripPage is the page of boards that are wider than the star's.
func (m *maker) ripPage(s *benchwork.Strips) {
	f := m.doc.Section("Boards to rip")
	f.Text(fmt.Sprintf("The boards on the rack are %s wide, the star takes %s. Rip them before they are cut to length.",
		m.say(s.Ask.BoardWidth), m.say(s.Ask.Width)))
	f.View(m.ripPanel(s), 92, m.say)
	facts(f,
		[2]string{"Rip to", m.wide(s.StripWidth)},
		[2]string{"From each board", fmt.Sprintf("%s side by side, %s of its width is left", words.Count(s.Across, "length", "lengths"), m.say(s.Offcut))},
	)
}

// wide prints a width that is set at a saw or a plane: inches to a
// thousandth where they lie on no 1/32.
func (m *maker) wide(mm float64) string { return m.u.FormatSize(mm) }

func (m *maker) glueWords(s *benchwork.Strips) string {
	area := fmt.Sprintf("%.0f cm²", s.GlueMM2All()/100)
	if m.u == geom.Inch {
		area = fmt.Sprintf("%.0f sq in", s.GlueMM2All()/(geom.MMPerInch*geom.MMPerInch))
	}
	return fmt.Sprintf("%s in each blank, %s of joint in all; about %.0f g of glue at %.0f g/m² (common practice)",
		words.Count(s.Joints, "joint", "joints"), area, s.GlueG(), benchwork.GluePerM2)
}

// blankJoints shows the segment in its blank with the joints.
func (m *maker) blankJoints(s *benchwork.Strips) picture.Panel {
	seg, end := m.star.Segment, s.Ask.Length
	half := seg.Width / 2
	p := picture.Panel{Name: "the segment in its blank", Note: "show face up", Room: picture.Room{Left: 8, Right: 8, Above: 3}}
	for i := range s.PerBlank {
		y := -half + float64(i)*s.Planed
		p.Shapes = append(p.Shapes, picture.Shape{Contour: geom.Rect(geom.Box{Min: geom.Pt(0, y), Max: geom.Pt(end, y+s.Planed)}), Look: picture.Board})
	}
	p.Shapes = append(p.Shapes, picture.Shape{Contour: seg.Outline(), Look: picture.Part})
	for _, at := range s.JointsAt() {
		p.Lines = append(p.Lines, picture.Straight(geom.Pt(0, at-half), geom.Pt(end, at-half), picture.Joint))
	}
	p.Dims = []picture.Dim{
		{A: geom.Pt(0, -half), B: geom.Pt(end, -half), Side: picture.Below, Text: "blank " + m.say(end)},
		{A: geom.Pt(0, -half), B: geom.Pt(0, -half+s.Planed), Side: picture.Left, Text: "strip " + m.wide(s.Planed)},
		{A: geom.Pt(end, -half), B: geom.Pt(end, half), Side: picture.Right, Text: "board " + m.say(seg.Width)},
	}
	p.Labels = []picture.Label{
		{At: geom.Pt(seg.Length*0.55, 0), Text: "joint on the centre line", Mark: picture.Arrow, Away: geom.Pt(0.4, 1)},
		{At: geom.Pt(seg.Length, 0), Text: "tip", Mark: picture.Near, Away: geom.Pt(0.6, 1)},
	}
	return p
}

// ripPanel shows what a board's width is ripped into, seen onto its end.
func (m *maker) ripPanel(s *benchwork.Strips) picture.Panel {
	wide, thick := s.Ask.BoardWidth, s.Ask.Thickness
	p := picture.Panel{Name: "a board of the rack", Note: "seen onto its end", Room: picture.Room{Left: 4, Right: 4, Above: 2}}
	rect := func(from, to float64, l picture.Look) {
		if to-from > leastDrawnMM {
			p.Shapes = append(p.Shapes, picture.Shape{Contour: geom.Rect(geom.Box{Min: geom.Pt(from, 0), Max: geom.Pt(to, thick)}), Look: l})
		}
	}
	at := 0.0
	for range s.Across {
		rect(at, at+s.StripWidth, picture.Part)
		p.Dims = append(p.Dims, picture.Dim{A: geom.Pt(at, thick), B: geom.Pt(at+s.StripWidth, thick), Side: picture.Above, Text: "rip " + m.wide(s.StripWidth)})
		at += s.StripWidth
		rect(at, min(at+s.Ask.RipKerf, wide), picture.Kerf)
		at += s.Ask.RipKerf
	}
	rect(at, wide, picture.Waste)
	p.Dims = append(p.Dims, picture.Dim{A: geom.Pt(0, 0), B: geom.Pt(wide, 0), Side: picture.Below, Text: "board " + m.say(wide)})
	return p
}

// leastDrawnMM is the narrowest piece of wood that a drawing shows.
const leastDrawnMM = 0.05

// clampPanel shows the glue-up with its clamps, seen onto its face.
func (m *maker) clampPanel(s *benchwork.Strips) picture.Panel {
	end, wide := s.Ask.Length, s.Ask.Width
	p := picture.Panel{Name: "the glue-up", Note: "seen from above", Room: picture.Room{Left: 3, Right: 3, Above: 7}}
	for i := range s.PerBlank {
		y := float64(i) * s.Planed
		p.Shapes = append(p.Shapes, picture.Shape{Contour: geom.Rect(geom.Box{Min: geom.Pt(0, y), Max: geom.Pt(end, y+s.Planed)}), Look: picture.Part})
	}
	reach := wide * 0.12
	at := s.Ask.ClampsAt(s.Clamps)
	for i, x := range at {
		look, where := picture.Seat, "clamp above"
		if i%2 == 1 {
			look, where = picture.Slot, "clamp below"
		}
		p.Labels = append(p.Labels, picture.Label{At: geom.Pt(x, wide+reach), Text: where, Mark: picture.Near, Away: geom.Pt(0, 1)})
		p.Lines = append(p.Lines, picture.Straight(geom.Pt(x, -reach), geom.Pt(x, wide+reach), look))
	}
	p.Dims = []picture.Dim{{A: geom.Pt(0, 0), B: geom.Pt(at[0], 0), Side: picture.Below}}
	if len(at) > 1 {
		p.Dims = append(p.Dims, picture.Dim{A: geom.Pt(at[0], 0), B: geom.Pt(at[1], 0), Side: picture.Below})
	}
	return p
}
