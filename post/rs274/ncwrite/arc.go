package ncwrite

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/toolpath"
)

// fullTurnMM is how far apart, in mm, start and end of a full circle may be
// by the rounding of float64. No real arc is as short.
const fullTurnMM = 1e-6

// shape says what is left of an arc once its ends lie on the raster.
type shape int

// The shapes an arc can take.
const (
	shapeArc  shape = iota // an arc
	shapeLine              // shorter than the raster can turn: a straight step
)

// offsets returns I and J of an arc, in ticks from its rounded start. They
// are chosen so that the radii at the rounded start and end agree: a centre
// that was rounded by itself can leave them 0.0028 mm apart, more than the
// 0.002 mm that NISTIR 6556 §3.5.3.2 allows, so the ticks around it are tried
// as well and the nearest one that agrees best is taken.
func (g grid) offsets(k toolpath.Kind, from, to, o geom.Point, start, end [2]int64) (ij [2]int64, s shape, err error) {
	r0, r1 := from.Dist(o), to.Dist(o)
	if d := math.Abs(r0 - r1); d > g.arcMM {
		return ij, s, fmt.Errorf("the arc's centre is %.4f mm from its start and %.4f mm from its end; they may differ by %.3f mm at most", r0, r1, g.arcMM)
	}
	want := sweep(k, from.Sub(o), to.Sub(o), from.Dist(to) <= fullTurnMM)
	if start == end && math.Abs(want) < math.Pi {
		return ij, shapeLine, nil // both ends on one tick
	}
	best, bestAway := math.Inf(1), math.Inf(1)
	c := [2]int64{g.ticks(o.X) - start[0], g.ticks(o.Y) - start[1]}
	for di := int64(-1); di <= 1; di++ {
		for dj := int64(-1); dj <= 1; dj++ {
			i, j := c[0]+di, c[1]+dj
			miss := g.mismatch(start, end, i, j)
			away := math.Hypot(g.mm(start[0]+i)-o.X, g.mm(start[1]+j)-o.Y)
			// Within a quarter of the limit nearness to the true centre counts more.
			miss = math.Max(miss, g.arcMM/4)
			if miss < best || (miss == best && away < bestAway) {
				best, bestAway, ij = miss, away, [2]int64{i, j}
			}
		}
	}
	got := sweep(k, ticksPoint(-ij[0], -ij[1]),
		ticksPoint(end[0]-start[0]-ij[0], end[1]-start[1]-ij[1]), start == end)
	if ij == [2]int64{} || math.Abs(got-want) > math.Pi {
		if math.Abs(want) < math.Pi {
			return ij, shapeLine, nil
		}
		return ij, s, fmt.Errorf("an arc of %.4f degrees with radius %.6f mm is too small for the %d decimals of the file", want*180/math.Pi, r0, g.decimals)
	}
	if best > g.arcMM {
		return ij, s, fmt.Errorf("start and end radius of the arc would differ by %.4f mm in the file; %.3f mm is allowed", best, g.arcMM)
	}
	return ij, shapeArc, nil
}

// mismatch returns how far the radii at the rounded ends of an arc differ, mm.
func (g grid) mismatch(start, end [2]int64, i, j int64) float64 {
	r0 := math.Hypot(float64(i), float64(j))
	r1 := math.Hypot(float64(end[0]-start[0]-i), float64(end[1]-start[1]-j))
	return math.Abs(r0-r1) / g.perUnit * g.unitMM
}

// ticksPoint returns a place on the raster for working out angles.
func ticksPoint(x, y int64) geom.Point { return geom.Pt(float64(x), float64(y)) }

// sweep returns the signed angle from direction a to direction b the way the
// arc turns, in radians; full says that they are the ends of a full circle.
func sweep(k toolpath.Kind, a, b geom.Point, full bool) float64 {
	t := math.Atan2(a.Cross(b), a.Dot(b))
	switch {
	case k == toolpath.ArcCCW && full:
		return 2 * math.Pi
	case k == toolpath.ArcCW && full:
		return -2 * math.Pi
	case k == toolpath.ArcCCW && t < 0:
		t += 2 * math.Pi
	case k == toolpath.ArcCW && t > 0:
		t -= 2 * math.Pi
	}
	return t
}
