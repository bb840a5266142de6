package shopsheet

import (
	"math"

	"starwright/cmd/internal/draw"
	"starwright/geom"
	"starwright/geom/route"
	"starwright/geom/star"
	"starwright/post/picture"
)

// gluePanel shows which joints are glued first and which last.
func (m *maker) gluePanel(u *star.Unit) picture.Panel {
	n := u.Points
	p := picture.Panel{Name: "1 glued first, 2 glued last", Note: "seen from the front", Room: picture.Room{Left: 4, Right: 4, Above: 2, Below: 2}}
	turn := geom.Place{Turn: 90 * geom.Degree}
	// The halves are drawn a little apart: the smaller one to the right.
	small := n / 2
	apart := u.Segment.Width * 0.11
	mid := geom.Deg(360 / float64(n) * (float64(small) - 1) / 2)
	first := geom.Angle(0)
	start := turn.Turn - mid // so that the smaller half points up
	for k := range n {
		a := start + first + geom.Deg(360*float64(k)/float64(n))
		at := geom.Place{Turn: a}
		if k < small {
			at.Move = geom.Pt(0, apart)
		} else {
			at.Move = geom.Pt(0, -apart)
		}
		p.Shapes = append(p.Shapes, draw.SegmentShapes(u, k, at)...)
		joint, name := a+u.Segment.Center/2, "1"
		where := at.Move
		if k == small-1 || k == n-1 {
			name, where = "2", geom.Point{}
		}
		q := where.Add(geom.Polar(u.Segment.Facet*0.62, joint))
		p.Labels = append(p.Labels, picture.Label{At: q, Text: name, Mark: pickMark(name), Away: geom.Polar(1, joint)})
	}
	return p
}

func pickMark(name string) picture.Mark {
	if name == "2" {
		return picture.On
	}
	return picture.Dot
}

// joinPanel draws the pieces of a glue-up as they come to lie beside each other.
func (m *maker) joinPanel(s *route.Setup) (picture.Panel, bool) {
	p := picture.Panel{Name: "the pieces laid together", Note: "show faces up", Room: picture.Room{Left: 14, Right: 14, Above: 2, Below: 2}}
	for i, part := range s.Join.Parts {
		o := m.outlineOf(part.Kind, s)
		if len(o) < 3 {
			continue
		}
		c := part.At.Contour(geom.Polygon(o...)).CCW()
		p.Shapes = append(p.Shapes, picture.Shape{Contour: c, Look: picture.Part})
		if i == 0 || len(s.Join.Parts) <= 2 {
			p.Labels = append(p.Labels, picture.Label{At: c.Bounds().Center(), Text: part.Kind, Mark: picture.On, In: c, Spare: true})
		}
	}
	return p, len(p.Shapes) > 0
}

// outlineOf returns the outline of a kind of piece as the route leaves it before
// a set-up.
func (m *maker) outlineOf(kind string, before *route.Setup) []geom.Point {
	var out []geom.Point
	u := m.Order.Units[before.Unit]
	for i := range m.Route.Setups {
		s := &m.Route.Setups[i]
		if s == before {
			break
		}
		if of := m.Order.Units[s.Unit]; of != u && of != u.From {
			continue
		}
		if s.Piece != nil && s.Piece.Kind == kind {
			out = s.Piece.After
		}
		if s.Join != nil && s.Join.Makes == kind {
			out = s.Join.After
		}
	}
	return out
}

// linePanel draws a cut by hand: the piece with the line on it, and the marks from
// which the line is drawn.
func (m *maker) linePanel(s *route.Setup) picture.Panel {
	p := picture.Panel{Name: short(s) + ", show face up", Room: picture.Room{Left: 14, Right: 8, Above: 2, Below: 2}}
	before, after := geom.Polygon(s.Piece.Before...).CCW(), geom.Polygon(s.Piece.After...).CCW()
	p.Shapes = []picture.Shape{{Contour: before, Look: picture.Waste}, {Contour: after, Look: picture.Part}}
	p.Labels = []picture.Label{
		{At: after.Bounds().Center(), Text: "stays", Mark: picture.On, In: after},
	}
	p.Dims = markDims(s, before, after)
	return p
}

// markDims are the marks of a line by hand where they are measured: along the edge
// and across the end of a blank from its squared end, along the outer edge and the
// joint of a pair from its tip, along the middle line to a tip.
func markDims(s *route.Setup, before, after geom.Contour) []picture.Dim {
	side := 1.0 // on which the waste lies
	if after.Bounds().Center().Y > before.Bounds().Center().Y || lost(before, after) < 0 {
		side = -1
	}
	mm := func(name string) float64 { return reading(s, name) }
	box := before.Bounds()
	edge, under := side*math.Max(box.Max.Y, -box.Min.Y), picture.Above
	if side < 0 {
		under = picture.Below
	}
	switch s.Kind {
	case route.Blanks:
		return []picture.Dim{{A: geom.Pt(0, box.Max.Y), B: geom.Pt(mm(route.ReadLength), box.Max.Y), Side: picture.Above, Text: printed(s, route.ReadLength)}}
	case route.Facet:
		return []picture.Dim{
			{A: geom.Pt(0, edge), B: geom.Pt(mm(route.ReadAlong), edge), Side: under, Text: printed(s, route.ReadAlong)},
			{A: geom.Pt(0, edge), B: geom.Pt(0, edge-side*mm(route.ReadAcross)), Side: picture.Left, Text: printed(s, route.ReadAcross)}}
	case route.Tip:
		other := picture.Below
		if side < 0 {
			other = picture.Above
		}
		return []picture.Dim{{A: geom.Pt(0, 0), B: geom.Pt(mm(route.ReadAxis), 0), Side: other, Text: printed(s, route.ReadAxis)}}
	case route.PairFacet:
		tip := geom.Pt(box.Max.X, 0)
		valley := s.Piece.After[1]
		for _, q := range s.Piece.After {
			if side*q.Y > side*valley.Y {
				valley = q
			}
		}
		off := -7.0 * side
		return []picture.Dim{
			{A: tip, B: tip.Add(valley.Sub(tip).Unit().Mul(mm(route.ReadAlong))), Side: picture.Aligned, Off: off, Text: printed(s, route.ReadAlong)},
			{A: tip, B: geom.Pt(tip.X-mm(route.ReadAxis), 0), Side: picture.Below, Text: printed(s, route.ReadAxis)}}
	}
	return nil
}

// lost is above zero where a cut takes more of the upper half of a piece than of
// its lower one.
func lost(before, after geom.Contour) float64 {
	const stays = 1e-3 // mm; a corner so near to what is left was not cut off
	sum := 0.0
	for _, v := range before {
		if after.DistTo(v.Point) > stays && !after.Contains(v.Point) {
			sum += v.Y
		}
	}
	return sum
}
