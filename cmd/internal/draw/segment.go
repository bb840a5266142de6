package draw

import (
	"fmt"
	"slices"

	"starwright/geom"
	"starwright/geom/star"
	"starwright/post/picture"
)

// Segment returns the picture of a unit's segment: in its wood, by itself with
// its dimensions and slots, and seen onto a facet. The notes, if any, are
// sentences on how the cuts are made.
func Segment(u *star.Unit, unit geom.Unit, title string, notes ...string) *picture.Picture {
	w := lengthsIn(unit)
	var from string
	var panel picture.Panel
	var high float64
	if u.IsOffcut() {
		from, panel, high = "the two tip off-cuts of one blank, glued along their board edges", gluedPanel(u, w), 96
	} else {
		from = fmt.Sprintf("a blank %s long and %s wide", w.say(u.Blank.Length), w.say(u.Segment.Width))
		panel, high = blankPanel(u, w), 98
	}
	s := picture.NewPicture(title)
	s.Heading(title, fmt.Sprintf("%d for the batch, each from %s. Saw settings count from a square cross-cut.", u.Segments(), from))
	s.Draw(panel, s.Body(high), w.say)
	segmentRow(s, u, w, sawFacts(u)...)
	s.Legend(segmentKeys(u))
	s.Notes(notes...)
	s.Trim()
	return s
}

// FlatSegment is [Segment] for one that a CNC cuts from a board that lies flat: no
// saw is set.
func FlatSegment(u *star.Unit, unit geom.Unit, title string) *picture.Picture {
	w := lengthsIn(unit)
	s := picture.NewPicture(title)
	s.Heading(title, fmt.Sprintf("%d for the batch, cut on the CNC from boards %s thick, the grain from the star's centre to the tip.", u.Segments(), w.say(u.Thickness())))
	segmentRow(s, u, w, picture.Head("Cut on the CNC"),
		picture.Fact{Name: "tabs", Value: "on the outer edges alone"},
		picture.Fact{Name: "facets", Value: "left as they are cut"})
	sawn := func(k picture.Key) bool { return k.Look == picture.Waste || k.Look == picture.Kerf }
	s.Legend(slices.DeleteFunc(segmentKeys(u), sawn))
	s.Trim()
	return s
}

// sawFacts are the saw's settings for a segment.
func sawFacts(u *star.Unit) []picture.Fact {
	return []picture.Fact{
		picture.Head("Set the saw, from a square cross-cut"),
		{Name: "facet cuts, at the star's centre", Value: star.FormatAngle(u.Segment.CenterMiter())},
		{Name: "tip cuts", Value: star.FormatAngle(u.Segment.TipMiter())},
	}
}

// segmentRow draws the segment by itself on the left and the facet, with facts of how
// it is cut, on the right.
func segmentRow(s *picture.Picture, u *star.Unit, w lengths, how ...picture.Fact) {
	row := s.Body(94)
	left, right := row, row
	left.Max.X = row.Min.X + 136
	right.Min.X = left.Max.X + 4
	s.Draw(segmentPanel(u, w), left, w.say)
	lower := s.Cursor()
	right.Min.Y = right.Max.Y - 58
	v := s.Draw(facetPanel(u, u.Thickness()), right, w.say)
	y := s.Facts(geom.Pt(right.Min.X, v.Used.Min.Y-3), right.W(), how)
	s.MoveCursor(min(lower, y))
}

// blankPanel shows the board with what the saw takes from it.
func blankPanel(u *star.Unit, w lengths) picture.Panel {
	seg, kerf, end := u.Segment, u.Spec.Kerf, u.Blank.Length
	v, half := seg.Valley(), seg.Width/2
	p := picture.Panel{Name: "in the blank", Note: "show face up",
		Room: picture.Room{Left: 14, Right: 14, Above: 1}}
	first, second := u.Offcuts()
	add := func(c geom.Contour, l picture.Look) {
		if len(c) >= 3 {
			p.Shapes = append(p.Shapes, picture.Shape{Contour: c, Look: l})
		}
	}
	board := geom.Rect(geom.Box{Min: geom.Pt(0, -half), Max: geom.Pt(end, half)})
	add(board, picture.Kerf) // what nothing below covers went to the saw
	for _, mirror := range []bool{false, true} {
		add(geom.Place{Mirror: mirror}.Contour(facetWaste(seg, kerf)), picture.Waste)
	}
	add(first.Wood, picture.Waste)
	add(second.Wood, picture.Waste)
	p.Shapes = append(p.Shapes, SegmentShapes(u, 0, geom.Place{})...)
	add(board, picture.Board)
	p.Shapes = append(p.Shapes, segmentSlots(u)...)
	p.Lines = append(p.Lines,
		picture.Straight(v, geom.Pt(v.X, -v.Y), picture.Axis),
		picture.Straight(geom.Pt(0, 0), geom.Pt(end, 0), picture.Axis))
	p.Dims = []picture.Dim{
		{A: geom.Pt(0, half), B: geom.Pt(v.X, half), Side: picture.Above, Text: "to the valleys " + w.say(v.X)},
		{A: geom.Pt(0, -half), B: geom.Pt(seg.Length, 0), Side: picture.Below, Text: "centre to tip " + w.say(seg.Length)},
		{A: geom.Pt(0, -half), B: geom.Pt(end, -half), Side: picture.Below, Text: "blank " + w.say(end)},
		{A: geom.Pt(end, -half), B: geom.Pt(end, half), Side: picture.Right, Text: "board " + w.say(seg.Width)},
	}
	blankAngles(&p, seg)
	blankLabels(&p, u, first, second, w)
	return p
}

// facetWaste returns the corner that the upper facet cut takes off the blank,
// beyond the kerf: empty where the kerf takes it all.
func facetWaste(seg star.Segment, kerf float64) geom.Contour {
	v, h := seg.Valley(), seg.Center/2
	x, y := v.X-kerf/h.Sin(), kerf/h.Cos()
	if x <= 0 || y >= v.Y {
		return nil
	}
	return geom.Polygon(geom.Pt(0, y), geom.Pt(x, v.Y), geom.Pt(0, v.Y))
}

// blankAngles shows both saw settings from the square line across the valleys.
func blankAngles(p *picture.Panel, seg star.Segment) {
	v := seg.Valley()
	down := 270 * geom.Degree
	p.Angles = append(p.Angles,
		picture.AngleDim{At: v, From: down - seg.CenterMiter(), To: down, R: 12, Text: star.FormatAngle(seg.CenterMiter())},
		picture.AngleDim{At: v, From: down, To: down + seg.TipMiter(), R: 12, Text: star.FormatAngle(seg.TipMiter())})
}

func blankLabels(p *picture.Panel, u *star.Unit, first, second star.Offcut, w lengths) {
	seg := u.Segment
	v := seg.Valley()
	label := func(at geom.Point, text string, m picture.Mark, away geom.Point) {
		p.Labels = append(p.Labels, picture.Label{At: at, Text: text, Mark: m, Away: away})
	}
	h := seg.Tip / 2
	kerfAt := geom.Pt(v.X+u.Spec.Kerf/h.Sin()/2, v.Y).Add(geom.Polar(seg.Edge*0.55, -h))
	label(kerfAt, "kerf "+w.exact(u.Spec.Kerf), picture.Arrow, geom.Pt(0, 1))
	if u.Blank.Length > seg.Length {
		label(geom.Pt(seg.Length, 0), "tip", picture.Near, geom.Pt(1, 0.3))
	}
	label(geom.Pt(0, 0), "star's\ncentre", picture.Near, geom.Pt(-1, 0))
	label(v, "valley", picture.Near, geom.Pt(0.3, 1))
	for i, o := range []star.Offcut{first, second} {
		if len(o.Wood) > 2 {
			p.Labels = append(p.Labels, picture.Label{At: middle(o.Wood).Lerp(o.End, 0.2), Text: fmt.Sprintf("tip off-cut %d", i+1),
				Mark: picture.On, In: o.Wood, Away: geom.Pt(1, 0.5-float64(i))})
		}
	}
}

// segmentSlots returns the slots of both facets, seen from the front.
func segmentSlots(u *star.Unit) []picture.Shape {
	if u.Slot == nil {
		return nil
	}
	rect := geom.Rect(geom.Box{Min: geom.Pt(u.Slot.Start, -u.Slot.Depth), Max: geom.Pt(u.Slot.End, 0)})
	var out []picture.Shape
	for _, mirror := range []bool{false, true} {
		at := geom.Place{Turn: u.Segment.Center / 2}.Contour(rect)
		out = append(out, picture.Shape{Contour: geom.Place{Mirror: mirror}.Contour(at), Look: picture.Slot})
	}
	return out
}

// segmentPanel shows the segment alone with the dimensions along its facet.
func segmentPanel(u *star.Unit, w lengths) picture.Panel {
	seg := u.Segment
	v, h := seg.Valley(), seg.Center/2
	room := picture.Room{Left: 3, Right: 3}
	if seg.Facet < seg.Length/4 { // too short for words along it
		room.Left = 26
	}
	p := picture.Panel{Name: "the segment", Room: room,
		Shapes: append(SegmentShapes(u, 0, geom.Place{}), segmentSlots(u)...)}
	on := func(r float64) geom.Point { return geom.Polar(r, h) }
	p.Dims = []picture.Dim{
		{A: v, B: geom.Pt(seg.Length, 0), Side: picture.Aligned, Off: 7, Text: "edge " + w.say(seg.Edge)},
		{A: geom.Pt(0, 0), B: geom.Pt(seg.Length, 0), Side: picture.Below},
		{A: geom.Pt(v.X, -v.Y), B: v, Side: picture.Right},
	}
	if t := u.Slot; t != nil {
		p.Dims = append(p.Dims,
			picture.Dim{A: on(0), B: on(t.Start), Side: picture.Aligned, Off: 6},
			picture.Dim{A: on(0), B: on(t.End), Side: picture.Aligned, Off: 11.5, Text: "slot to " + w.say(t.End)},
			picture.Dim{A: on(0), B: v, Side: picture.Aligned, Off: 17, Text: "facet " + w.say(seg.Facet)})
		at := geom.Polar(t.End-(t.End-t.Start)*0.15, -h).Add(geom.Polar(t.Depth/2, 90*geom.Degree-h))
		p.Labels = append(p.Labels, picture.Label{At: at, Text: "slot " + w.say(t.Depth) + " deep", Mark: picture.Dot, Away: geom.Pt(1, 0.3)})
	} else {
		p.Dims = append(p.Dims, picture.Dim{A: on(0), B: v, Side: picture.Aligned, Off: 7, Text: "facet " + w.say(seg.Facet)})
	}
	clear := seg.Facet / 2
	if u.Slot != nil {
		clear = u.Slot.Start * 0.9
	}
	p.Angles = []picture.AngleDim{
		{At: geom.Pt(0, 0), From: -h, To: h, Within: clear, Text: star.FormatAngle(seg.Center)},
		{At: geom.Pt(seg.Length, 0), From: 180*geom.Degree - seg.Tip/2, To: 180*geom.Degree + seg.Tip/2, R: 11, Text: star.FormatAngle(seg.Tip)},
	}
	return p
}

// facetPanel shows a facet with its slot as the router sees it: x from the
// star's centre, y from the show face.
func facetPanel(u *star.Unit, thickness float64) picture.Panel {
	f := u.Segment.Facet
	p := picture.Panel{Name: "onto the left facet", Room: picture.Room{Left: 12, Right: 10, Above: 7, Below: 1},
		Shapes: []picture.Shape{{Contour: geom.Rect(geom.Box{Max: geom.Pt(f, thickness)}), Look: picture.Part}},
		Labels: []picture.Label{
			{At: geom.Pt(f/2, 0), Text: "show face", Away: geom.Pt(0, -1)},
			{At: geom.Pt(0, thickness), Text: "star's centre", Away: geom.Pt(1, 1.5)},
			{At: geom.Pt(f, thickness), Text: "valley", Away: geom.Pt(-1, 1.5)},
		}}
	t := u.Slot
	if t == nil {
		p.Dims = []picture.Dim{
			{A: geom.Pt(0, 0), B: geom.Pt(f, 0), Side: picture.Below},
			{A: geom.Pt(f, 0), B: geom.Pt(f, thickness), Side: picture.Right},
		}
		return p
	}
	lo, hi := t.FromFace-t.Width/2, t.FromFace+t.Width/2
	p.Shapes = append(p.Shapes, picture.Shape{Contour: t.Outline(), Look: picture.Hole})
	p.Lines = append(p.Lines, picture.Straight(geom.Pt(t.Start, t.FromFace), geom.Pt(t.End, t.FromFace), picture.Axis))
	p.Dims = []picture.Dim{
		{A: geom.Pt(0, 0), B: geom.Pt(t.Start, t.FromFace), Side: picture.Below},
		{A: geom.Pt(0, 0), B: geom.Pt(t.End, t.FromFace), Side: picture.Below},
		{A: geom.Pt(0, 0), B: geom.Pt(t.Start, t.FromFace), Side: picture.Left},
		{A: geom.Pt(t.End, lo), B: geom.Pt(t.End, hi), Side: picture.Right},
		{A: geom.Pt(f, 0), B: geom.Pt(f, thickness), Side: picture.Right},
	}
	return p
}

func segmentKeys(u *star.Unit) []picture.Key {
	keys := []picture.Key{{Text: "the segment", Look: picture.Part}}
	if u.TwoWoods() {
		keys = woodKeys(u)
	}
	keys = append(keys, picture.Key{Text: "off-cut", Look: picture.Waste})
	if !u.IsOffcut() {
		keys = append(keys, picture.Key{Text: "kerf", Look: picture.Kerf})
	}
	if u.Slot != nil {
		keys = append(keys, picture.Key{Text: "slot, inside the wood", Look: picture.Slot})
	}
	return keys
}
