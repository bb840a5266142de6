package jig

import (
	"math"

	"starwright/geom"
	"starwright/geom/problem"
	"starwright/geom/star"
)

// hasHang is for stars with a hole to hang them by.
func hasHang(u *star.Unit, _ Params) bool { return u.Hang != nil }

// makeDrillGuide makes a plate in the shape of a segment's outer end, with the hole
// that the star hangs by. It lies on the segment with its edges flush with the outer
// edges of the wood, tip over tip: that puts the hole in its place. A hole that the
// cutter is too wide for is scribed, and bored through the plate with the bit that
// bores the stars.
func makeDrillGuide(u *star.Unit, p Params) ([]Jig, problem.List) {
	const key, name = "drill-guide", "drilling guide"
	s, at, r := u.Segment, u.Hang.At, u.Hang.Diameter/2
	// Back behind the hole with wood round it, and far enough for edges that a finger
	// feels flush; no further than the star's centre.
	const leastEdge = 60.0 // mm of outer edge
	back := math.Min(at-r-fullMeat, s.Length-leastEdge*(s.Tip/2).Cos())
	back = math.Max(back, s.Length/10)
	file, title := "jig-"+key, name
	if u.IsOffcut() {
		file, title = file+"-offcut", title+", off-cut segment"
	}
	j := Jig{Key: key, File: file, Title: title, Outline: behind(s, back), Quantity: 1,
		Marks: []geom.Contour{s.Outline()}}
	hole := geom.Circle(geom.Pt(at, 0), r)
	const scribe = 0.1 // mm that a hole has to be wider than the bit that mills it
	if p.Cutter == 0 || 2*r >= p.Cutter+scribe {
		j.Holes = []Hole{{"drill", hole}}
	} else {
		j.Marks = append(j.Marks, hole)
	}
	// A plate that is too small for its name reaches further back.
	const step = 10.0 // mm
	for {
		for _, words := range []string{name, "guide"} {
			if j.Text == nil {
				j.Text = inscribe(j.Outline, []Hole{{"drill", hole}}, geom.Pt(back+easing, 0), 0, words)
			}
		}
		if j.Text != nil || back <= s.Length/10 {
			break
		}
		back = math.Max(back-step, s.Length/10)
		j.Outline = behind(s, back)
	}
	return []Jig{j}, nil
}

// behind returns what of a segment lies beyond x, towards its tip.
func behind(s star.Segment, x float64) geom.Contour {
	v := s.Valley()
	if x >= v.X {
		y := (s.Length - x) * (s.Tip / 2).Tan()
		return geom.Polygon(geom.Pt(x, -y), geom.Pt(s.Length, 0), geom.Pt(x, y))
	}
	y := x * (s.Center / 2).Tan()
	return geom.Polygon(geom.Pt(x, -y), geom.Pt(v.X, -v.Y), geom.Pt(s.Length, 0), v, geom.Pt(x, y))
}
