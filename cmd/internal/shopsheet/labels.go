package shopsheet

import (
	"fmt"

	"starwright/geom"
	"starwright/geom/star"
	"starwright/geom/words"
	"starwright/post/print"
)

// Sizes of labels, mm, and how many segments get one each: of larger batches each
// star gets one for all its segments.
const (
	labelsWide, labelsHigh = 160.0, 190.0
	labelWide, labelHigh   = 40.0, 19.0
	boxWide, boxHigh       = 80.0, 47.5
	mostLabelled           = 400
)

// Labels returns labels.pdf: what is cut out and stuck or tied to the pieces, so
// that those of several stars stay apart, pairs of off-cuts together, and each box
// says what is in it.
func Labels(in Input) ([]byte, error) {
	m, err := newMaker(in)
	if err != nil {
		return nil, err
	}
	for _, u := range m.Order.Units {
		name := u.Words("")
		if name == "" {
			name = "star"
		}
		if err := m.labelPages("Labels for segments, "+name, labelWide, labelHigh, segmentLabels(u)); err != nil {
			return nil, err
		}
		if u.IsOffcut() {
			if err := m.labelPages("Labels for pairs of off-cuts, "+name, labelWide, labelHigh, pairLabels(u)); err != nil {
				return nil, err
			}
		}
		if err := m.labelPages("Labels for boxes, "+name, boxWide, boxHigh, m.boxLabels(u, name)); err != nil {
			return nil, err
		}
	}
	return m.doc.Bytes()
}

// segmentLabels number the segments of each star.
func segmentLabels(u *star.Unit) []string {
	var out []string
	for i := range u.Count() {
		if u.Segments() > mostLabelled {
			out = append(out, fmt.Sprintf("%s%s %d\n%d segments", called(u), which(u), i+1, u.Points))
			continue
		}
		for k := range u.Points {
			out = append(out, fmt.Sprintf("%s%s %d\nsegment %d of %d%s", called(u), which(u), i+1, k+1, u.Points, woodOf(u, k)))
		}
	}
	return out
}

// woodOf is the wood of a segment where its neighbours differ from it: of one that is
// glued up that of its left half.
func woodOf(u *star.Unit, k int) string {
	if !u.Alternates() {
		return ""
	}
	left, _ := u.WoodsOf(k)
	if u.Halved() {
		return "\nleft half " + u.Spec.Woods[left]
	}
	return "\n" + u.Spec.Woods[left]
}

// called is the star's name in a line of its own, "" for the only star.
func called(u *star.Unit) string {
	if u.Spec.Name == "" {
		return ""
	}
	return u.Spec.Name + "\n"
}

// which tells a star from off-cuts from the one that they are of.
func which(u *star.Unit) string {
	if u.IsOffcut() {
		return "off-cut star"
	}
	return "star"
}

// pairLabels are two for each pair, for the two off-cuts of one blank.
func pairLabels(u *star.Unit) []string {
	var out []string
	if u.Segments() > mostLabelled {
		for i := range u.Count() {
			out = append(out, fmt.Sprintf("%s%s %d\n%d pairs", called(u), which(u), i+1, u.Points))
		}
		return out
	}
	for i := range u.Segments() {
		for _, which := range []string{"first", "second"} {
			out = append(out, fmt.Sprintf("%spair %d\n%s off-cut", called(u), i+1, which))
		}
	}
	return out
}

// boxLabels say what is in a box: star, size, wood, date.
func (m *maker) boxLabels(u *star.Unit, name string) []string {
	wood := m.Job.Wood.Species
	if u.TwoWoods() {
		wood = u.Spec.Woods[0] + " and " + u.Spec.Woods[1]
	}
	if wood == "" {
		wood = "wood: ______________"
	}
	date := m.Date
	if date == "" {
		date = "date: ______________"
	}
	text := fmt.Sprintf("%s\n%d points, %s from tip to tip\n%s thick\n%s\n%s", words.Capital(name), u.Points, m.say(u.Width()), m.say(u.Thickness()), wood, date)
	const most = 200
	out := make([]string, min(u.Count(), most))
	for i := range out {
		out[i] = text
	}
	return out
}

// labelPages lays labels out in true size, as many to a page as it holds.
func (m *maker) labelPages(title string, wide, high float64, texts []string) error {
	cols, rows := int(labelsWide/wide), int(labelsHigh/high)
	for len(texts) > 0 {
		n := min(len(texts), cols*rows)
		used := (n + cols - 1) / cols
		h := float64(used) * high
		t := print.Template{Title: title, Note: "Cut along the lines.", Outline: geom.Rect(geom.Box{Max: geom.Pt(labelsWide, h)})}
		for c := 1; c < cols; c++ {
			t.Axes = append(t.Axes, [2]geom.Point{geom.Pt(float64(c)*wide, 0), geom.Pt(float64(c)*wide, h)})
		}
		for r := 1; r < used; r++ {
			t.Axes = append(t.Axes, [2]geom.Point{geom.Pt(0, float64(r)*high), geom.Pt(labelsWide, float64(r)*high)})
		}
		for i, text := range texts[:n] {
			at := geom.Pt((float64(i%cols)+0.5)*wide, h-(float64(i/cols)+0.5)*high)
			t.Labels = append(t.Labels, print.TemplateLabel{At: at, Text: text})
		}
		if err := m.doc.Template(t); err != nil {
			return err
		}
		texts = texts[n:]
	}
	return nil
}
