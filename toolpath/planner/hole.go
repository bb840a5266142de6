package planner

import (
	"math"

	"starwright/geom"
	"starwright/toolpath"
)

// maxTurns is the most turns of a helix. A hole that would need more is
// hardly wider than the cutter.
const maxTurns = 200

// holeCut is a round hole to be cut through.
type holeCut struct {
	center geom.Point
	radius float64   // of the hole, mm
	rings  []float64 // radii of the cutter's way, the widest last
	turns  []int     // of the helix of each ring
	depth  float64
}

// wholeTurn is by how much the arcs of a circle may miss a whole turn, radians:
// they come from a drawing or were turned and moved.
const wholeTurn = 1e-6

// round returns centre and radius of a contour that is a circle.
func round(c geom.Contour) (geom.Point, float64, bool) {
	const tol = geom.Touch
	var o geom.Point
	r, sweep := 0.0, 0.0
	for i, e := range c.Curves() {
		if !e.IsArc() {
			return o, 0, false
		}
		if i == 0 {
			o, r = e.Center(), e.Radius()
		}
		if e.Center().Dist(o) > tol || math.Abs(e.Radius()-r) > tol {
			return o, 0, false
		}
		sweep += float64(e.Sweep())
	}
	return o, r, math.Abs(math.Abs(sweep)-2*math.Pi) < wholeTurn
}

// planHole returns how to cut a hole of radius r; false where the cutter does
// not enter it by a helix as flat as asked. least is the radius that it would.
func planHole(o geom.Point, r, depth float64, cutter, perPass, slope float64) (h holeCut, least float64, ok bool) {
	q, rc := r-cutter/2, cutter/2
	h = holeCut{center: o, radius: r, depth: depth}
	least = rc + (depth/maxTurns+reserveOf(slope))/(2*math.Pi*slope)
	if r < least-geom.Rounding {
		return h, least, false
	}
	// The first ring clears the middle and each meets the next, so that no
	// slug comes loose.
	n := geom.Steps(q, rc)
	for i := 1.0; i <= n; i++ {
		h.rings = append(h.rings, q*i/n)
	}
	for _, q := range h.rings {
		n, _ := Passes(depth, perPass)
		if f := fallOf(2*math.Pi*q, slope); f < perPass {
			m, _ := Passes(depth, f)
			n = max(n, m)
		}
		h.turns = append(h.turns, n)
	}
	return h, least, true
}

// ends returns where the cut begins and ends when it is started in direction d
// from the centre.
func (h holeCut) ends(d geom.Angle) (from, to geom.Point) {
	return h.center.Add(geom.Polar(h.rings[0], d)), h.center.Add(geom.Polar(h.rings[len(h.rings)-1], d))
}

// bore cuts the hole: a helix of even turns for each ring and a level turn at
// full depth. Clockwise inside is conventional.
func (w *walk) bore(h holeCut, d geom.Angle, k toolpath.Kind) {
	from, _ := h.ends(d)
	w.enter(from)
	for i, q := range h.rings {
		if i > 0 {
			w.line(w.at.XY(), w.near, w.feed)
			w.line(h.center.Add(geom.Polar(q, d)), w.near, w.feed)
			w.line(w.at.XY(), 0, w.plunge)
		}
		fall := h.depth / float64(h.turns[i])
		// The rounding of centre and beginning makes a helix tighter by a tick at most.
		feed := RampFeed(w.feed, w.plunge, 2*math.Pi*(q-tick), fall+reserveOf(w.slope))
		for t := 1; t <= h.turns[i]; t++ {
			w.circle(k, h.center, -float64(t)*fall, feed)
		}
		w.circle(k, h.center, w.at.Z, w.feed)
	}
	w.leave()
}
