package shopsheet

import (
	"starwright/geom"
	"starwright/post/picture"
)

// top is a view onto the saw from above. Places are given as the jigs have
// them, the fence's face on the X axis and the work above it; they are turned
// half round, so that the fence is at the top of the page and the maker at its
// foot. Directions of labels are the page's.
type top struct{ picture.Panel }

func turned(p geom.Point) geom.Point { return p.Mul(-1) }

func half() geom.Place { return geom.Place{Turn: 180 * geom.Degree} }

func (t *top) shape(c geom.Contour, l picture.Look) {
	if len(c) >= 3 {
		t.Shapes = append(t.Shapes, picture.Shape{Contour: half().Contour(c), Look: l})
	}
}

// holed is shape with openings in it.
func (t *top) holed(c geom.Contour, holes []geom.Contour, l picture.Look) {
	s := picture.Shape{Contour: half().Contour(c), Look: l}
	for _, h := range holes {
		s.Holes = append(s.Holes, half().Contour(h))
	}
	t.Shapes = append(t.Shapes, s)
	for _, h := range s.Holes {
		t.Shapes = append(t.Shapes, picture.Shape{Contour: h, Look: picture.Hole})
	}
}

func (t *top) line(a, b geom.Point, l picture.Look) {
	t.Lines = append(t.Lines, picture.Straight(turned(a), turned(b), l))
}

func (t *top) label(at geom.Point, text string, m picture.Mark, away geom.Point) {
	t.Labels = append(t.Labels, picture.Label{At: turned(at), Text: text, Mark: m, Away: away})
}

// within puts words into an area.
func (t *top) within(area geom.Contour, text string) {
	c := half().Contour(area)
	t.Labels = append(t.Labels, picture.Label{At: c.Bounds().Center(), Text: text, Mark: picture.On, In: c})
}

// aligned dimensions the way from a to b; off is mm on the page to the left of
// that way.
func (t *top) aligned(a, b geom.Point, off float64, text string) {
	t.Dims = append(t.Dims, picture.Dim{A: turned(a), B: turned(b), Side: picture.Aligned, Off: off, Text: text})
}

func (t *top) dim(a, b geom.Point, side picture.Side, text string) {
	t.Dims = append(t.Dims, picture.Dim{A: turned(a), B: turned(b), Side: side, Text: text})
}

// angle dimensions the angle at a place from one direction counter-clockwise to
// another, both in the saw's coordinates.
func (t *top) angle(at geom.Point, from, to geom.Angle, r float64, text string) {
	t.Angles = append(t.Angles, picture.Angle{At: turned(at), From: from + 180*geom.Degree, To: to + 180*geom.Degree, R: r, Text: text, Rays: true})
}

// saw draws fence and line of cut: the line meets the fence at x, leans by lean
// from square towards +X (the left of the page) and shows as far as long.
func (t *top) saw(x float64, lean geom.Angle, long float64, span [2]float64) {
	fenceDeep := (span[1] - span[0]) * 0.045
	const slot = 7 // mm, half the opening of the fence at the blade
	y := -fenceDeep
	t.shape(geom.Rect(geom.Box{Min: geom.Pt(span[0], y), Max: geom.Pt(x-slot, 0)}), picture.Kerf)
	t.shape(geom.Rect(geom.Box{Min: geom.Pt(x+slot, y), Max: geom.Pt(span[1], 0)}), picture.Kerf)
	d := geom.Pt(lean.Sin(), lean.Cos())
	foot := geom.Pt(x, 0)
	t.line(foot.Sub(d.Mul(fenceDeep*1.6)), foot.Add(d.Mul(long)), picture.Axis)
	t.label(foot.Add(d.Mul(long*0.97)), "line of cut", picture.Arrow, geom.Pt(1, -0.2))
	t.label(geom.Pt(span[1]*0.75+span[0]*0.25, y), "fence", picture.Near, geom.Pt(0, 1))
}

// band is the kerf beside a line of cut: from a to b, its width to the right of
// that way in the saw's coordinates.
func (t *top) band(a, b geom.Point, kerf float64) {
	n := b.Sub(a).Unit().Left().Mul(-kerf)
	t.shape(geom.Polygon(a, b, b.Add(n), a.Add(n)), picture.Kerf)
}

// clipLeft returns the part of a convex contour of straight lines with X below
// 0: the wood beyond a line of cut on the Y axis.
func clipLeft(c geom.Contour) geom.Contour {
	var out []geom.Point
	for i, a := range c {
		b := c[(i+1)%len(c)]
		if a.X <= 0 {
			out = append(out, a.Point)
		}
		if (a.X < 0) != (b.X < 0) && a.X != b.X {
			out = append(out, a.Lerp(b.Point, a.X/(a.X-b.X)))
		}
	}
	return geom.Polygon(out...)
}
