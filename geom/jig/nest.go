package jig

import (
	"fmt"

	"starwright/geom"
	"starwright/geom/problem"
	"starwright/geom/star"
)

// nestPlay is the play of a segment in its nest, square to the edges and both
// sides together, mm: it drops in by hand and an error of half a millimetre
// shows. Common practice, no source.
const nestPlay = 0.2

// makeSegmentNest makes a plate with a window into which a whole segment drops.
func makeSegmentNest(u *star.Unit, p Params) ([]Jig, problem.List) {
	const key, name = "segment-nest", "segment nest"
	s := u.Segment
	valley := 180*geom.Degree - s.Center/2 - s.Tip/2
	if ps := entry(u, p.Cutter, name, key,
		hold{s.Facet, []geom.Angle{s.Center, valley}}, hold{s.Edge, []geom.Angle{s.Tip, valley}}); ps != nil {
		return nil, ps
	}
	window := relieveHole(grown(s.Outline(), nestPlay/2), []int{0, 1, 2, 3}, p.Cutter)
	m := fullMeat
	plate := geom.Rect(window.Bounds().Grow(m))
	j := Jig{
		Key: key, File: "jig-" + key, Title: name,
		Outline: ease(plate, easing), Quantity: 1,
		Holes: []Hole{{"window", window}},
	}
	j.Seats = []Seat{{What: "segment", Work: s.Outline(), Edges: facing(s.Outline(), window, nestPlay/2), Play: nestPlay}}
	o := j.Outline.Bounds()
	j.Holes = screws(j.Outline, j.Holes, p.Cutter, leastMeat, geom.Pt(o.Min.X+m, o.Max.Y-m))
	j.Text = inscribe(j.Outline, j.Holes, geom.Pt(o.Min.X, o.Min.Y), 0, name,
		fmt.Sprintf("%d points, tip %s", u.Points, star.FormatAngle(s.Tip)))
	return []Jig{j}, nil
}

// grown returns a convex polygon, counter-clockwise, with every side moved out
// by d mm.
func grown(c geom.Contour, d float64) geom.Contour {
	out := make(geom.Contour, len(c))
	n := len(c)
	for i, v := range c {
		in, way := v.Sub(c[(i+n-1)%n].Point).Unit(), c[(i+1)%n].Sub(v.Point).Unit()
		// Both sides' lines moved out meet on the corner's bisector.
		out[i].Point = v.Add(in.Left().Add(way.Left()).Mul(-d / (1 + in.Dot(way))))
	}
	return out
}

// facing returns the pieces of a window's straight sides that lie square across
// from the sides of the work, at the given gap.
func facing(work, window geom.Contour, gap float64) []geom.Curve {
	var out []geom.Curve
	for _, e := range window.Curves() {
		if e.IsArc() {
			continue
		}
		for _, w := range work.Curves() {
			// The work's side moved out by the gap runs along the window's.
			off := w.B.Sub(w.A).Unit().Left().Mul(-gap)
			out = append(out, shared(e, geom.Curve{A: w.A.Add(off), B: w.B.Add(off)})...)
		}
	}
	return out
}
