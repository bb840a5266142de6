package draw

import (
	"starwright/geom"
	"starwright/geom/star"
	"starwright/post/picture"
)

// HangPanel shows the segment that points up with the hole that the star hangs by.
func HangPanel(u *star.Unit, say picture.Say) picture.Panel {
	h := u.Hang
	p := picture.Panel{Name: u.Words("segment") + " that points up", Note: "show face up", Room: picture.Room{Left: 14, Right: 14, Above: 4, Below: 2}}
	p.Shapes = append(SegmentShapes(u, 0, geom.Place{}), segmentSlots(u)...)
	p.Shapes = append(p.Shapes, picture.Shape{Contour: geom.Circle(geom.Pt(h.At, 0), h.Diameter/2), Look: picture.Hole})
	p.Lines = []picture.Path{picture.Straight(geom.Point{}, geom.Pt(u.Segment.Length, 0), picture.Axis)}
	p.Dims = []picture.Dim{{A: geom.Point{}, B: geom.Pt(h.At, 0), Side: picture.Below, Text: "from the centre " + say(h.At)}}
	p.Labels = []picture.Label{
		{At: geom.Pt(h.At, h.Diameter/2), Text: "hole", Mark: picture.Arrow, Away: geom.Pt(0.3, 1)},
		{At: geom.Point{}, Text: "star's\ncentre", Mark: picture.Near, Away: geom.Pt(-1, 0)},
	}
	return p
}
