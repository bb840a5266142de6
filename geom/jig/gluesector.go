package jig

import (
	"fmt"
	"math"

	"starwright/geom"
)

// sector makes the board in equal sectors, one a segment, that lie edge to edge
// on a base. The joints' reliefs are half in each sector:
//
//	                _________
//	        _______|         `-._
//	      /    joint's relief     `-.
//	   _ /       .  .                |
//	O | _      tip to the right      |
//	     \       .  .                |
//	      \_______          _.-'
//	              |______.-'
func (g glue) sector(p Params) Jig {
	s := g.star.Segment
	j := Jig{
		Key: "glue-board", File: "jig-glue-board-sector", Title: "glue-up board, sector of one segment",
		Outline: g.sectorOutline(), Marks: []geom.Contour{s.Outline()}, Quantity: g.star.Points, Screwed: true,
	}
	g.setPins(&j, []geom.Place{{}}, g.pin/2+g.meat, leastMeat)
	v, in := s.Valley(), g.meat+leastBore
	pins := j.Holes
	near := []geom.Point{geom.Pt(v.X, v.Y-in), geom.Pt(v.X, in-v.Y), geom.Pt(v.X/2, 0), geom.Pt(s.Length-in, 0)}
	a, rest := halves(g.star.Points)
	// On the smallest sectors all screws leave no room for words.
	for n := len(near); n >= 2 && len(j.Text) == 0; n-- {
		j.Holes = screws(j.Outline, pins[:len(pins):len(pins)], g.cutter, g.meat*0.75, near[:n]...)
		j.Text = letter(&j, geom.Pt(v.X*1.1, 0), "glue-up board",
			fmt.Sprintf("one of %d sectors", g.star.Points),
			fmt.Sprintf("1: glue A, %d segments", a), fmt.Sprintf("2: glue B, %d segments", rest), "3: true, glue A to B")
	}
	j = turnToFit(j, p)
	j.Build = g.how(&j)
	return j
}

// sectorOutline returns the sector with the segment's tip on +x.
func (g glue) sectorOutline() geom.Contour {
	s := g.star.Segment
	half := s.Center / 2
	ray, out := geom.Polar(1, -half), geom.Polar(1, -half).Left().Mul(-1) // lower joint, away from the segment
	nose := (sectorNose + g.relief/2/half.Cos()) / half.Tan()
	// The offset of the lower edge meets the joint's line here:
	corner := s.Facet + g.rim()/g.open.Sin()
	step := s.Facet + math.Min(3, g.rim()/3) + insideRadius(g.cutter) // free past the valley, corner's rounding included
	low := []geom.Point{ray.Mul(step).Add(out.Mul(-plateFree)), ray.Mul(corner).Add(out.Mul(-plateFree))}
	inner := []geom.Point{geom.Pt(nose, -sectorNose), ray.Mul(step).Add(out.Mul(-g.relief / 2))}
	// Facets too short for a nose between two reliefs lie over one round hole.
	if inner[0].Dot(ray)+insideRadius(g.cutter)+easing < step {
		low = append(inner, low...)
	}
	// The offsets of both edges meet at apex; the point is cut off beyond the
	// tip where that leaves a piece of the offset edges.
	apex := s.Length + g.rim()/(s.Tip/2).Sin()
	end := math.Max(s.Length+g.meat, ray.Mul(corner).X+2*easing)
	pts := low[:len(low):len(low)]
	if end < apex-2*easing {
		y := (apex - end) * (s.Tip / 2).Tan()
		pts = append(pts, geom.Pt(end, -y), geom.Pt(end, y))
	} else {
		pts = append(pts, geom.Pt(apex, 0))
	}
	for i := len(low) - 1; i >= 0; i-- {
		pts = append(pts, geom.Pt(low[i].X, -low[i].Y))
	}
	// Corners at which neighbours meet stay sharp.
	n, k := len(pts), len(low)
	return finish(geom.Polygon(pts...), g.cutter, nil, math.Min(easing, sectorNose/2), k-2, k-1, n-k, n-k+1)
}

// turnToFit turns a jig by whole degrees, a quarter turn at most, until it fits
// the room; one that never does stays as it is.
func turnToFit(j Jig, p Params) Jig {
	for d := 0; d <= 90; d++ {
		at := geom.Place{Turn: geom.Deg(float64(d))}
		if p.lies(at.Contour(j.Outline)) {
			return j.placed(at)
		}
	}
	return j
}

// placed returns the jig, which has no seats, turned and moved.
func (j Jig) placed(at geom.Place) Jig {
	out := j
	out.Outline = at.Contour(j.Outline)
	out.Holes, out.Text, out.Marks = nil, nil, nil
	for _, h := range j.Holes {
		out.Holes = append(out.Holes, Hole{h.Kind, at.Contour(h.Contour)})
	}
	for _, l := range j.Text {
		l.At, l.Turn = at.Point(l.At), l.Turn+at.Turn
		out.Text = append(out.Text, l)
	}
	for _, m := range j.Marks {
		out.Marks = append(out.Marks, at.Contour(m))
	}
	return out
}
