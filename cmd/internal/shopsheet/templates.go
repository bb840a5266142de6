package shopsheet

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

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
		t.Labels = append(t.Labels, blockLabel(j.Text)...)
		out = append(out, t)
	}
	return out
}

// blockLabel is the text of a jig as one label in the middle of it.
func blockLabel(text []jig.Label) []print.TemplateLabel {
	const letter = 0.6 // width of a letter, of its height
	box := geom.EmptyBox()
	var lines []string
	for _, l := range text {
		box = box.With(l.At).With(l.At.Add(geom.Polar(letter*l.Height*float64(utf8.RuneCountInString(l.Text)), l.Turn)))
		lines = append(lines, l.Text)
	}
	if len(lines) == 0 {
		return nil
	}
	return []print.TemplateLabel{{At: box.Center(), Text: strings.Join(lines, "\n")}}
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
	v := s.Valley()
	// As near to the tip as the word has room on either side of the middle line.
	const room, off = 11.0, 5.5 // mm
	near := math.Max(s.Length*0.72, s.Length-5-room*(s.Tip/2).Cot())
	t.Labels = []print.TemplateLabel{
		{At: geom.Pt(v.X*0.8, s.Width*0.15), Text: "star's centre"},
		{At: geom.Pt(v.X, s.Width*0.4), Text: "valley"},
		{At: geom.Pt(v.X, -s.Width*0.4), Text: "valley"},
		{At: geom.Pt(near, math.Min(off, s.Width*0.06)), Text: "tip"},
	}
	return t
}
