package draw

import (
	"starwright/geom"
	"starwright/geom/star"
	"starwright/post/picture"
)

// WoodLook is how one of the two woods of a star is drawn: the first one dark and
// hatched, so that it shows in black and white too.
func WoodLook(u *star.Unit, wood int) picture.Look {
	if u.TwoWoods() && wood == 0 {
		return picture.Dark
	}
	return picture.Part
}

// SegmentShapes draws segment k of a star, which lies as [star.Segment.Outline]
// before it is placed: whole, or in halves where they are of two woods.
func SegmentShapes(u *star.Unit, k int, at geom.Place) []picture.Shape {
	left, right := u.WoodsOf(k)
	if left == right {
		return []picture.Shape{{Contour: at.Contour(u.Segment.Outline()), Look: WoodLook(u, left)}}
	}
	v, tip := u.Segment.Valley(), geom.Pt(u.Segment.Length, 0)
	half := func(wood int, valley geom.Point) picture.Shape {
		return picture.Shape{Contour: at.Contour(geom.Polygon(geom.Point{}, tip, valley)).CCW(), Look: WoodLook(u, wood)}
	}
	return []picture.Shape{half(left, v), half(right, geom.Pt(v.X, -v.Y))}
}

// woodKeys are the woods of a star for the legend.
func woodKeys(u *star.Unit) []picture.Key {
	if !u.TwoWoods() {
		return []picture.Key{{Text: "wood", Look: picture.Part}}
	}
	return []picture.Key{{Text: u.Spec.Woods[0], Look: WoodLook(u, 0)}, {Text: u.Spec.Woods[1], Look: WoodLook(u, 1)}}
}
