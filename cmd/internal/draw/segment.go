package draw

import (
	"fmt"

	"starwright/geom"
	"starwright/geom/star"
	"starwright/post/picture"
)

// Segment returns the picture of the main star's segment: in its blank with
// saw cuts and off-cuts, by itself with its dimensions and slots, and seen
// onto a facet. The notes, if any, are sentences on how the cuts are made.
func Segment(b *star.Batch, say picture.Say, title string, notes ...string) *picture.Sheet {
	seg := b.Main.Segment
	sub := fmt.Sprintf("%d for the batch, each from a blank %s long and %s wide. Saw settings count from a square cross-cut.",
		b.Segments(), say(b.Blank.Length), say(seg.Width))
	s := picture.NewPicture(title)
	s.Heading(title, sub)
	s.Draw(blankPanel(b, say), s.Body(104), say)
	segmentRow(s, b.Main, b.Thickness, say)
	s.Legend(segmentKeys(b.Main, true))
	s.Notes(notes...)
	s.Trim()
	return s
}

// OffcutSegment returns the picture of the second star's segment: in the two
// tip off-cuts glued along their board edges, by itself, and seen onto a
// facet. It is nil for a batch without a second star.
func OffcutSegment(b *star.Batch, say picture.Say, title string, notes ...string) *picture.Sheet {
	if b.Offcut == nil {
		return nil
	}
	sub := fmt.Sprintf("%d for the batch, each from the two tip off-cuts of one blank, glued along their board edges. Saw settings count from a square cross-cut.", b.Segments())
	s := picture.NewPicture(title)
	s.Heading(title, sub)
	s.Draw(gluedPanel(b, say), s.Body(96), say)
	segmentRow(s, *b.Offcut, b.Thickness, say)
	s.Legend(segmentKeys(*b.Offcut, true))
	s.Notes(notes...)
	s.Trim()
	return s
}

// segmentRow draws the segment by itself on the left and the facet, with the
// saw's settings, on the right.
func segmentRow(s *picture.Sheet, u star.Unit, thickness float64, say picture.Say) {
	row := s.Body(94)
	left, right := row, row
	left.Max.X = row.Min.X + 142
	right.Min.X = left.Max.X + 8
	s.Draw(segmentPanel(u, say), left, say)
	lower := s.Cursor()
	right.Min.Y = right.Max.Y - 58
	v := s.Draw(facetPanel(u, thickness), right, say)
	y := s.Facts(geom.Pt(right.Min.X, v.Used.Min.Y-3), right.W(), []picture.Fact{
		{Name: "Set the saw, from a square cross-cut"},
		{Name: "facet cuts, at the star's centre", Value: star.FormatAngle(u.Segment.CenterMiter())},
		{Name: "tip cuts", Value: star.FormatAngle(u.Segment.TipMiter())},
	})
	s.MoveCursor(min(lower, y))
}

// blankPanel shows the board with what the saw takes from it.
func blankPanel(b *star.Batch, say picture.Say) picture.Panel {
	seg, kerf, end := b.Main.Segment, b.Spec.Kerf, b.Blank.Length
	v, half := seg.Valley(), seg.Width/2
	p := picture.Panel{Name: "in the blank", Note: "show face up",
		Room: picture.Room{Left: 14, Right: 22, Above: 9, Below: 6}}
	first, second := star.Offcuts(seg, end, kerf)
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
	add(seg.Outline(), picture.Part)
	add(board, picture.Board)
	p.Shapes = append(p.Shapes, segmentSlots(b.Main)...)
	p.Lines = append(p.Lines,
		picture.Straight(v, geom.Pt(v.X, -v.Y), picture.Axis),
		picture.Straight(geom.Pt(0, 0), geom.Pt(end, 0), picture.Axis))
	p.Dims = []picture.Dim{
		{A: geom.Pt(0, -half), B: geom.Pt(v.X, -half), Side: picture.Above},
		{A: geom.Pt(0, -half), B: geom.Pt(seg.Length, 0), Side: picture.Below},
		{A: geom.Pt(0, -half), B: geom.Pt(end, -half), Side: picture.Below},
		{A: geom.Pt(end, -half), B: geom.Pt(end, half), Side: picture.Right},
	}
	p.Dims[0].A.Y, p.Dims[0].B.Y = half, half
	blankAngles(&p, seg)
	blankLabels(&p, b, first, second, say)
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
		picture.Angle{At: v, From: down - seg.CenterMiter(), To: down, R: 12, Text: star.FormatAngle(seg.CenterMiter())},
		picture.Angle{At: v, From: down, To: down + seg.TipMiter(), R: 12, Text: star.FormatAngle(seg.TipMiter())})
}

func blankLabels(p *picture.Panel, b *star.Batch, first, second star.Offcut, say picture.Say) {
	seg := b.Main.Segment
	v := seg.Valley()
	label := func(at geom.Point, text string, m picture.Mark, away geom.Point) {
		p.Labels = append(p.Labels, picture.Label{At: at, Text: text, Mark: m, Away: away})
	}
	center := func(c geom.Contour) geom.Point { return c.Bounds().Center() }
	h := seg.Tip / 2
	kerfAt := geom.Pt(v.X+b.Spec.Kerf/h.Sin()/2, v.Y).Add(geom.Polar(seg.Edge*0.55, -h))
	label(kerfAt, "kerf "+say(b.Spec.Kerf), picture.Arrow, geom.Pt(0, 1))
	if b.Blank.Length > seg.Length {
		label(geom.Pt(seg.Length, 0), "tip", picture.Near, geom.Pt(1, 0.3))
	}
	label(geom.Pt(0, 0), "star's\ncentre", picture.Near, geom.Pt(-1, 0))
	label(v, "valley", picture.Near, geom.Pt(0.3, 1))
	label(center(first.Wood).Lerp(first.End, 0.3), "tip off-cut 1", picture.Dot, geom.Pt(1, 0.5))
	label(center(second.Wood).Lerp(second.End, 0.3), "tip off-cut 2", picture.Dot, geom.Pt(1, -0.5))
}

// gluedPanel shows the second star's segment in the pair of off-cuts: both
// halves of the glue-up in the off-cuts' own wood.
func gluedPanel(b *star.Batch, say picture.Say) picture.Panel {
	main, small := b.Main.Segment, b.Offcut.Segment
	first, second := star.Offcuts(main, b.Blank.Length, b.Spec.Kerf)
	// The tip goes to the right, as in all pictures: the lower off-cut, its
	// apex on the left, is turned round; the upper one is its mirror image.
	upper := geom.Place{Mirror: true, Move: geom.Pt(small.Length+first.Apex.X, first.Apex.Y)}
	turn := func(c geom.Contour, o star.Offcut, up bool) geom.Contour {
		out := make(geom.Contour, len(c))
		for i, q := range c {
			out[i].Point = geom.Pt(small.Length-(q.X-o.Apex.X), q.Y-o.Apex.Y)
			if up {
				continue
			}
		}
		return out
	}
	_ = upper
	p := picture.Panel{Name: "in the glued off-cuts", Note: "show face up", Room: picture.Room{Left: 22, Right: 14, Above: 4, Below: 4}}
	low := turn(first.Wood, first, false) // hangs below its board edge
	top := turn(second.Wood, second, true)
	p.Shapes = append(p.Shapes,
		picture.Shape{Contour: top.CCW(), Look: picture.Waste}, picture.Shape{Contour: low.CCW(), Look: picture.Waste},
		picture.Shape{Contour: small.Outline(), Look: picture.Part})
	p.Shapes = append(p.Shapes, segmentSlots(*b.Offcut)...)
	box := top.Bounds().Union(low.Bounds())
	p.Lines = append(p.Lines, picture.Straight(geom.Pt(box.Min.X, 0), geom.Pt(small.Length, 0), picture.Joint))
	p.Dims = []picture.Dim{
		{A: geom.Pt(0, 0), B: geom.Pt(small.Length, 0), Side: picture.Below},
		{A: geom.Pt(box.Min.X, low.Bounds().Min.Y), B: geom.Pt(small.Length, 0), Side: picture.Below},
	}
	p.Labels = []picture.Label{
		{At: geom.Pt(small.Length*0.7, 0), Text: "glue line: the board edges", Mark: picture.Arrow, Away: geom.Pt(0.5, 1)},
		{At: top.Bounds().Center().Lerp(geom.Pt(box.Min.X, 0), 0.5), Text: "tip off-cut 2", Mark: picture.Dot, Away: geom.Pt(-0.5, 1)},
		{At: low.Bounds().Center().Lerp(geom.Pt(box.Min.X, 0), 0.5), Text: "tip off-cut 1", Mark: picture.Dot, Away: geom.Pt(-0.5, -1)},
	}
	return p
}

// segmentSlots returns the slots of both facets, seen from the front.
func segmentSlots(u star.Unit) []picture.Shape {
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
func segmentPanel(u star.Unit, say picture.Say) picture.Panel {
	seg := u.Segment
	v, h := seg.Valley(), seg.Center/2
	p := picture.Panel{Name: "the segment", Room: picture.Room{Left: 12, Right: 3, Above: 14, Below: 7},
		Shapes: append([]picture.Shape{{Contour: seg.Outline(), Look: picture.Part}}, segmentSlots(u)...)}
	on := func(r float64) geom.Point { return geom.Polar(r, h) }
	p.Dims = []picture.Dim{
		{A: v, B: geom.Pt(seg.Length, 0), Side: picture.Aligned, Off: 7},
		{A: geom.Pt(0, 0), B: geom.Pt(seg.Length, 0), Side: picture.Below},
		{A: geom.Pt(v.X, -v.Y), B: v, Side: picture.Right},
	}
	if t := u.Slot; t != nil {
		p.Dims = append(p.Dims,
			picture.Dim{A: on(0), B: on(t.Start), Side: picture.Aligned, Off: 6},
			picture.Dim{A: on(0), B: on(t.End), Side: picture.Aligned, Off: 11.5},
			picture.Dim{A: on(0), B: v, Side: picture.Aligned, Off: 17})
		at := geom.Polar(t.End-(t.End-t.Start)*0.15, -h).Add(geom.Polar(t.Depth/2, 90*geom.Degree-h))
		p.Labels = append(p.Labels, picture.Label{At: at, Text: "slot " + say(t.Depth) + " deep", Mark: picture.Dot, Away: geom.Pt(1, 0.3)})
	} else {
		p.Dims = append(p.Dims, picture.Dim{A: on(0), B: v, Side: picture.Aligned, Off: 7})
	}
	clear := seg.Facet / 2
	if u.Slot != nil {
		clear = u.Slot.Start * 0.9
	}
	p.Angles = []picture.Angle{
		{At: geom.Pt(0, 0), From: -h, To: h, Within: clear, Text: star.FormatAngle(seg.Center)},
		{At: geom.Pt(seg.Length, 0), From: 180*geom.Degree - seg.Tip/2, To: 180*geom.Degree + seg.Tip/2, R: 11, Text: star.FormatAngle(seg.Tip)},
	}
	return p
}

// facetPanel shows a facet with its slot as the router sees it: x from the
// star's centre, y from the show face.
func facetPanel(u star.Unit, thickness float64) picture.Panel {
	f := u.Segment.Facet
	p := picture.Panel{Name: "onto the left facet", Room: picture.Room{Left: 3, Right: 3, Above: 7, Below: 7},
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
		{A: geom.Pt(0, 0), B: geom.Pt(0, t.FromFace), Side: picture.Left},
		{A: geom.Pt(f, lo), B: geom.Pt(f, hi), Side: picture.Right},
		{A: geom.Pt(f, 0), B: geom.Pt(f, thickness), Side: picture.Right},
	}
	p.Dims[2].B = geom.Pt(t.Start, t.FromFace)
	p.Dims[3].A, p.Dims[3].B = geom.Pt(t.End, lo), geom.Pt(t.End, hi)
	return p
}

func segmentKeys(u star.Unit, sawn bool) []picture.Key {
	keys := []picture.Key{{Text: "the segment", Look: picture.Part}}
	if sawn {
		keys = append(keys, picture.Key{Text: "off-cut", Look: picture.Waste}, picture.Key{Text: "kerf", Look: picture.Kerf})
	}
	if u.Slot != nil {
		keys = append(keys, picture.Key{Text: "slot, inside the wood", Look: picture.Slot})
	}
	return keys
}
