package jig

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/geom/star"
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
func (g glue) sector(b *star.Batch, p Params) Jig {
	s := g.star.Segment
	j := Jig{
		Key: "glue-board", File: "jig-glue-board-sector", Title: "glue-up board, sector of one segment",
		Outline: g.sectorOutline(), Marks: []geom.Contour{s.Outline()}, Quantity: g.star.Points,
		Use: fmt.Sprintf("Lay the %d sectors edge to edge on a flat base and screw them down, heads sunk; wax them. Lay the segments on them, show face down; set the pins, and wedges between pins and wood. %s",
			g.star.Points, order(b)),
	}
	pin := geom.Circle(geom.Point{}, g.pin/2)
	for _, at := range both(g.edgePins(g.pin/2 + g.meat)) {
		if hole := (geom.Place{Move: at}).Contour(pin); inside(hole, j.Outline, j.Holes, leastMeat*0.999) {
			j.Holes = append(j.Holes, Hole{"pin", hole})
		}
	}
	v, in := s.Valley(), g.meat+leastBore
	j.Holes = screws(j.Outline, j.Holes, g.cutter, g.meat*0.75,
		geom.Pt(v.X/2, 0), geom.Pt(v.X, v.Y-in), geom.Pt(v.X, in-v.Y), geom.Pt(s.Length-in, 0))
	p1, p2 := halves(g.star.Points)
	j.Text = letter(&j, geom.Pt(v.X*1.1, 0), "glue-up board",
		fmt.Sprintf("one of %d sectors", g.star.Points),
		fmt.Sprintf("1: glue A, %d segments", p1), fmt.Sprintf("2: glue B, %d segments", p2), "3: true, glue A to B")
	return turnToFit(j, p)
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
	past := math.Min(g.meat, 0.6*g.rim()/(s.Tip/2).Sin())
	end := g.rim()/(s.Tip/2).Cos() - past*(s.Tip/2).Tan()
	low := []geom.Point{
		geom.Pt(nose, -sectorNose),
		ray.Mul(step).Add(out.Mul(-g.relief / 2)),
		ray.Mul(step).Add(out.Mul(-plateFree)),
		ray.Mul(corner).Add(out.Mul(-plateFree)),
		geom.Pt(s.Length+past, -end),
	}
	pts := append([]geom.Point(nil), low...)
	for i := len(low) - 1; i >= 0; i-- {
		pts = append(pts, geom.Pt(low[i].X, -low[i].Y))
	}
	// Corners at which neighbours meet stay sharp.
	return finish(geom.Polygon(pts...), g.cutter, nil, math.Min(easing, sectorNose/2), 2, 3, 6, 7)
}

// turnToFit turns a jig by whole degrees, a quarter turn at most, until it fits
// the room; one that never does stays as it is.
func turnToFit(j Jig, p Params) Jig {
	for d := 0; d <= 90; d++ {
		at := geom.Place{Turn: geom.Deg(float64(d))}
		if fits(at.Contour(j.Outline), p) {
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
