package draw

import (
	"fmt"

	"starwright/geom"
	"starwright/geom/star"
	"starwright/post/picture"
)

// Plate returns the picture of a star's back plate in its place, with dimensions.
// thickness is that of the sheet it is cut from, mm.
func Plate(u *star.Unit, thickness float64, unit geom.Unit, title string) *picture.Picture {
	w := lengthsIn(unit)
	s := picture.NewPicture(title)
	s.Heading(title, fmt.Sprintf("%d of sheet %s thick. Seen from behind.", u.Count(), w.say(thickness)))
	s.Draw(PlatePanel(u, w.say), s.Body(160), w.say)
	s.Legend([]picture.Key{{Text: "plate", Look: picture.Part}, {Text: "outer edge of the star", Look: picture.Edge}, {Text: "joint", Look: picture.Joint}})
	s.Notes("Screws hold each segment on its middle line, along the grain, where the wood hardly moves.")
	s.Trim()
	return s
}

// PlatePanel shows a plate on the back of its star, of which the joints and the
// valleys are drawn. The plate is its own mirror image, and so is the star.
func PlatePanel(u *star.Unit, say picture.Say) picture.Panel {
	t := u.Plate
	p := picture.Panel{Name: u.Words("back plate"), Note: "on the star, seen from behind", Room: picture.Room{Left: 9, Right: 9, Above: 2, Below: 2}}
	turn := upright()
	const shown = 0.25 // of an outer edge, from its valley: where the plate must not show
	for k := range u.Points {
		at := turn
		at.Turn += 2 * t.Half * geom.Angle(k)
		tip, v := at.Point(geom.Pt(u.Segment.Length, 0)), u.Segment.Valley()
		for _, valley := range []geom.Point{at.Point(v), at.Point(geom.Pt(v.X, -v.Y))} {
			p.Lines = append(p.Lines, picture.Straight(valley, valley.Lerp(tip, shown), picture.Edge))
		}
		way := at.Turn + t.Half
		p.Lines = append(p.Lines, picture.Straight(geom.Polar(t.Side, way), geom.Polar(u.Segment.Facet, way), picture.Joint))
	}
	p.Shapes = append(p.Shapes, picture.Shape{Contour: turn.Contour(t.Outline()), Look: picture.Part})
	for _, h := range t.Holes() {
		p.Shapes = append(p.Shapes, picture.Shape{Contour: turn.Contour(h), Look: picture.Hole})
	}
	b := turn.Contour(t.Outline()).Bounds()
	p.Dims = []picture.Dim{
		{A: b.Min, B: geom.Pt(b.Max.X, b.Min.Y), Side: picture.Below, Text: "plate " + say(b.W())},
		{A: geom.Point{}, B: geom.Pt(0, t.Outer), Side: picture.Right, Text: "outer screws " + say(t.Outer)},
		{A: geom.Point{}, B: geom.Pt(0, t.KeyAt), Side: picture.Left, Text: "keyhole " + say(t.KeyAt)},
	}
	inner := geom.Polar(t.Inner, turn.Turn+2*t.Half)
	p.Labels = []picture.Label{{At: inner, Text: "inner screws " + say(t.Inner), Mark: picture.Arrow, Away: geom.Pt(-1, -1)}}
	return p
}
