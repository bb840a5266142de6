package draw

import (
	"fmt"

	"starwright/geom"
	"starwright/geom/star"
	"starwright/post/picture"
)

// gluedPanel shows a segment in its pair of off-cuts. Both are
// turned by half a turn from where they lay in the blank, so that the tip
// points to the right as in all pictures; the show face stays up.
func gluedPanel(u *star.Unit, w lengths) picture.Panel {
	small := u.Segment
	first, second := u.From.Offcuts()
	turn := func(o star.Offcut) geom.Contour {
		return geom.Place{Turn: 180 * geom.Degree, Move: o.Apex.Add(geom.Pt(small.Length, 0))}.Contour(o.Wood).CCW()
	}
	upper, lower := turn(first), turn(second)
	box := upper.Bounds().Union(lower.Bounds())
	p := picture.Panel{Name: "in the glued off-cuts", Note: "show face up", Room: picture.Room{Left: 24, Right: 14, Above: 3, Below: 0}}
	p.Shapes = []picture.Shape{
		{Contour: upper, Look: picture.Waste}, {Contour: lower, Look: picture.Waste},
	}
	p.Shapes = append(p.Shapes, SegmentShapes(u, 0, geom.Place{})...)
	p.Shapes = append(p.Shapes, segmentSlots(u)...)
	p.Lines = []picture.Path{picture.Straight(geom.Pt(box.Min.X, 0), geom.Pt(small.Length, 0), picture.Joint)}
	p.Dims = []picture.Dim{{A: geom.Pt(0, 0), B: geom.Pt(small.Length, 0), Side: picture.Below, Text: "centre to tip " + w.say(small.Length)}}
	const same = 0.05 // mm
	if box.Min.X < -same {
		p.Dims = append(p.Dims, picture.Dim{A: geom.Pt(box.Min.X, 0), B: geom.Pt(small.Length, 0), Side: picture.Below, Text: "glue line " + w.say(small.Length-box.Min.X)})
	}
	p.Labels = []picture.Label{{At: geom.Pt(small.Length*0.6, 0), Text: "glue line: the board edges", Mark: picture.Arrow, Away: geom.Pt(0.5, 1)}}
	v := small.Valley()
	for i, wood := range []geom.Contour{upper, lower} {
		up := float64(1 - 2*i)
		// The corner beside the star's centre: what the facet cut will take.
		far := geom.Pt(box.Min.X, max(-wood.Bounds().Min.Y, wood.Bounds().Max.Y)*up)
		waste := geom.Polygon(geom.Point{}, geom.Pt(v.X, v.Y*up), far).CCW()
		p.Labels = append(p.Labels, picture.Label{At: middle(waste), Text: fmt.Sprintf("tip off-cut %d", i+1),
			Mark: picture.On, In: waste, Away: geom.Pt(-1, 0.5*up)})
	}
	return p
}
