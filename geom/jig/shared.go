package jig

import (
	"math"

	"starwright/geom"
)

// Fits of the outlines to the cutter, in mm.
const (
	rightSlack = geom.Angle(1e-9) // radians; an opening is a right angle within this, whichever way it was worked out
	biteSlack  = 0.05             // a cut inside corner is rounder than the cutter by this, so that its way has room to turn
	biteOver   = 0.1              // a relief reaches past the sharp corner by this
	flatTurn   = geom.Rounding    // pieces that turn by less run straight on
)

// insideRadius is the least radius that inside corners are given for a cutter;
// 0 for a laser.
func insideRadius(cutter float64) float64 {
	if cutter <= 0 {
		return 0
	}
	return cutter/2 + biteSlack
}

// biteLoss returns how much of each edge a relief takes at an inside corner
// whose opening is phi, mm. Openings below a right angle are too narrow for the
// cutter to reach the corner between the edges, so that it goes in along the
// bisector in a slot as wide as the cutter, which takes r/sin(phi/2).
func biteLoss(phi geom.Angle, cutter float64) float64 {
	r := insideRadius(cutter)
	if r == 0 {
		return 0
	}
	h := phi / 2
	if phi < 90*geom.Degree-rightSlack {
		return r / h.Sin()
	}
	k := r - biteOver
	return k*h.Cos() + math.Sqrt(r*r-k*k*h.Sin()*h.Sin())
}

// corner is how a vertex of an outline is finished.
type corner struct {
	bite  bool    // circular relief
	round float64 // radius of rounding where it is no bite; 0 leaves it sharp
}

// turnAt returns the angle by which a contour turns at vertex i, left positive,
// and false where an arc meets there.
func turnAt(c geom.Contour, i int) (geom.Angle, bool) {
	n := len(c)
	prev, next := c[(i+n-1)%n], c[(i+1)%n]
	if prev.Bulge != 0 || c[i].Bulge != 0 {
		return 0, false
	}
	d, e := c[i].Sub(prev.Point), next.Sub(c[i].Point)
	return geom.Angle(math.Atan2(d.Cross(e), d.Dot(e))), true
}

// dress finishes the corners of a contour that has its wood on the left.
// Corners where arcs meet stay as they are.
func dress(c geom.Contour, how []corner, cutter float64) geom.Contour {
	var out geom.Contour
	n := len(c)
	for i, v := range c {
		a, straight := turnAt(c, i)
		if !straight || math.Abs(float64(a)) < flatTurn {
			out = append(out, v)
			continue
		}
		in, way := v.Sub(c[(i+n-1)%n].Point).Unit(), c[(i+1)%n].Sub(v.Point).Unit()
		switch {
		case how[i].bite && a < 0 && cutter > 0:
			out = append(out, bite(v.Point, in, way, cutter)...)
		case how[i].round > 0:
			t := how[i].round * (a / 2).Tan()
			if a < 0 {
				t = -t
			}
			out = append(out,
				geom.Vertex{Point: v.Sub(in.Mul(t)), Bulge: (a / 4).Tan()},
				geom.Vertex{Point: v.Add(way.Mul(t))})
		default:
			out = append(out, v)
		}
	}
	return out
}

// bite returns the relief at an inside corner p that is reached in direction
// in and left in direction way.
func bite(p, in, way geom.Point, cutter float64) geom.Contour {
	back := in.Mul(-1)
	phi := geom.Angle(math.Abs(math.Atan2(back.Cross(way), back.Dot(way))))
	axis := back.Add(way).Unit() // out of the corner
	r, t := insideRadius(cutter), biteLoss(phi, cutter)
	o := p.Add(axis.Mul(r - biteOver))
	from, to := p.Add(back.Mul(t)), p.Add(way.Mul(t))
	if phi < 90*geom.Degree-rightSlack {
		side := axis.Left().Mul(r)
		if side.Dot(back) < 0 {
			side = side.Mul(-1)
		}
		return geom.Contour{{Point: from}, {Point: o.Add(side), Bulge: -1}, {Point: o.Sub(side)}, {Point: to}}
	}
	sweep := (from.Sub(o).Angle() - to.Sub(o).Angle()).Normal() // clockwise
	return geom.Contour{{Point: from, Bulge: -(sweep / 4).Tan()}, {Point: to}}
}

// relieve replaces the given inside corners of a contour with its wood on the
// left by bites that reach past the corner, so that a sharp corner of the work
// finds room. A laser (cutter 0) needs none.
func relieve(c geom.Contour, corners []int, cutter float64) geom.Contour {
	how := make([]corner, len(c))
	for _, i := range corners {
		how[i].bite = true
	}
	return dress(c, how, cutter)
}

// relieveHole is [relieve] for a counter-clockwise opening, whose wood is
// outside of it.
func relieveHole(c geom.Contour, corners []int, cutter float64) geom.Contour {
	back := make([]int, len(corners))
	for k, i := range corners {
		back[k] = (len(c) - i) % len(c)
	}
	return relieve(c.Reversed(), back, cutter).Reversed()
}

// ease rounds the outside corners of a contour with its wood on the left by r,
// but for those to keep sharp.
func ease(c geom.Contour, r float64, keep ...int) geom.Contour {
	how := make([]corner, len(c))
	for i := range c {
		if a, _ := turnAt(c, i); a > 0 {
			how[i].round = r
		}
	}
	for _, i := range keep {
		how[i].round = 0
	}
	return dress(c, how, 0)
}

// finish does all three at once, with indices into the contour as given: bites
// at the corners named, the other inside corners rounded for the cutter, and
// the outside corners eased by r but for those to keep sharp.
func finish(c geom.Contour, cutter float64, bites []int, r float64, keep ...int) geom.Contour {
	how := make([]corner, len(c))
	for i := range c {
		switch a, _ := turnAt(c, i); {
		case a < 0:
			how[i].round = insideRadius(cutter)
		case a > 0:
			how[i].round = r
		}
	}
	for _, i := range bites {
		how[i] = corner{bite: cutter > 0}
	}
	for _, i := range keep {
		how[i] = corner{}
	}
	return dress(c, how, cutter)
}

// tangent returns the direction of a curve at its start or end.
func tangent(e geom.Curve, end bool) geom.Point {
	half := e.Sweep() / 2
	if !end {
		half = -half
	}
	d := e.B.Sub(e.A)
	return geom.Place{Turn: half}.Point(d)
}

// mirrored returns a contour turned over about the X axis, counter-clockwise.
func mirrored(c geom.Contour) geom.Contour {
	return geom.Place{Mirror: true}.Contour(c).CCW()
}
