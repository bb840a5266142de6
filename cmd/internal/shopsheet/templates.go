package shopsheet

import (
	"fmt"

	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/star"
	"starwright/geom/words"
	"starwright/post/print"
)

// Templates returns templates.pdf: segment, off-cut segment and angle blocks in
// true size, with check bars.
func Templates(in Input) ([]byte, error) {
	m, err := newMaker(in)
	if err != nil {
		return nil, err
	}
	for _, t := range m.templates() {
		if err := m.doc.Template(t); err != nil {
			// Too large for paper: the drawing of the packet serves instead.
			f := m.doc.Section(t.Title)
			f.Text(err.Error() + ". Use the drawing in the packet.")
		}
	}
	return m.doc.Bytes()
}

func (m *maker) templates() []print.Template {
	var out []print.Template
	for _, u := range m.Order.Units {
		out = append(out, m.segmentTemplate("Template: "+u.Words("segment"), u))
		if p := u.Plate; p != nil {
			out = append(out, print.Template{Title: "Template: " + u.Words("back plate"), Outline: p.Outline(), Holes: p.Holes(),
				Note: fmt.Sprintf("%s from sheet %s thick. The keyhole points to a tip.", words.Count(u.Count(), "piece", "pieces"), m.say(m.Job.Sheet.Thickness))})
		}
	}
	// For paper the block needs no reliefs and no sheet limits it.
	kit, problems := jig.Kit(m.Order, jig.Params{MaxMiter: m.Job.Saw.MaxMiter, Thickness: m.Job.Sheet.Thickness}, jig.Named([]string{"angle-block"}))
	if len(problems) > 0 { // no cut needs one
		return out
	}
	for _, j := range kit {
		t := print.Template{Title: "Template: " + j.Title, Outline: j.Outline,
			Note: fmt.Sprintf("%s, sheet %s thick. The fence lies along the long straight side, the board along the sloping one.", words.Count(j.Quantity, "piece", "pieces"), m.say(m.Job.Sheet.Thickness))}
		for _, h := range j.Holes {
			t.Holes = append(t.Holes, h.Contour)
		}
		t.Labels = append(t.Labels, print.TemplateLabel{At: j.Outline.Bounds().Center(), Text: j.Title, Point: true, Inside: true})
		out = append(out, t)
	}
	return out
}

// segmentTemplate is a segment with its slots and its axis as guides.
func (m *maker) segmentTemplate(title string, u *star.Unit) print.Template {
	s := u.Segment
	t := print.Template{Title: title, Outline: s.Outline(), Note: fmt.Sprintf("%d pieces, %s long, %s wide, %s thick; %s at the centre, %s at the tip.",
		u.Segments(), m.say(s.Length), m.say(s.Width), m.say(u.Thickness()), deg(s.Center), deg(s.Tip))}
	t.Axes = [][2]geom.Point{{{}, geom.Pt(s.Length, 0)}}
	if u.Slot != nil {
		rect := geom.Rect(geom.Box{Min: geom.Pt(u.Slot.Start, -u.Slot.Depth), Max: geom.Pt(u.Slot.End, 0)})
		at := geom.Place{Turn: s.Center / 2}.Contour(rect)
		t.Guides = append(t.Guides, at, geom.Place{Mirror: true}.Contour(at))
		t.Note += " Dashed: middle line and slots, never cut."
	}
	if h := u.Hang; h != nil {
		t.Guides = append(t.Guides, geom.Circle(geom.Pt(h.At, 0), h.Diameter/2))
		t.Note += " The hanging hole is drilled in one segment of each star alone."
	}
	v := s.Valley()
	for _, l := range []print.TemplateLabel{
		{At: geom.Pt(0, 0), Text: "star's centre"}, {At: geom.Pt(s.Length, 0), Text: "tip"},
		{At: v, Text: "valley"}, {At: geom.Pt(v.X, -v.Y), Text: "valley"},
	} {
		l.Point = true
		t.Labels = append(t.Labels, l)
	}
	return t
}
