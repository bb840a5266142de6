package nest

import (
	"cmp"
	"math"
	"math/bits"
	"slices"

	"starwright/geom"
)

// hull is a convex polygon, counter-clockwise from its lowest corner, the
// leftmost of two.
type hull struct {
	pts   []geom.Point
	sides []geom.Point // from each corner to the next; nil where the hull is no summand
	top   int          // number of the highest corner; the left side runs from there on
	box   geom.Box
}

func newHull(pts []geom.Point) hull {
	low, n := 0, len(pts)
	for i, p := range pts {
		if p.Y < pts[low].Y || p.Y == pts[low].Y && p.X < pts[low].X {
			low = i
		}
	}
	h := hull{pts: make([]geom.Point, 0, n), box: geom.EmptyBox()}
	for i := range pts {
		h.add(pts[(low+i)%n])
	}
	h.sides = sidesOf(h.pts)
	return h
}

func sidesOf(pts []geom.Point) []geom.Point {
	out, n := make([]geom.Point, len(pts)), len(pts)
	for i, p := range pts {
		next := pts[0]
		if i+1 < n {
			next = pts[i+1]
		}
		out[i] = next.Sub(p)
	}
	return out
}

// reflected returns the hull turned by half a turn about the origin.
func (h hull) reflected() hull {
	pts := make([]geom.Point, len(h.pts))
	for i, p := range h.pts {
		pts[i] = geom.Pt(-p.X, -p.Y)
	}
	return newHull(pts)
}

// plus returns the Minkowski sum, by merging the sides of both by direction
// (de Berg et al., "Computational Geometry", 3rd ed. 2008, section 13.3). room takes
// its corners, and is as long as those of both.
func (h *hull) plus(g *hull, room []geom.Point) hull {
	a, b := h.pts, g.pts
	u, v := h.sides[:len(a)], g.sides[:len(b)]
	n, top, high := 0, 0, math.Inf(-1)
	add := func(at geom.Point) {
		if at.Y >= high {
			top, high = n, at.Y
		}
		room[n] = at
		n++
	}
	// Both start at their lowest corner, and so does the sum.
	i, j := 0, 0
	for i < len(a) && j < len(b) {
		add(a[i].Add(b[j]))
		switch c := u[i].Cross(v[j]); {
		case c > 0:
			i++
		case c < 0:
			j++
		case u[i] == geom.Point{}:
			i++
		case v[j] == geom.Point{}:
			j++
		default: // in the same direction: one side
			i, j = i+1, j+1
		}
	}
	// Where one is back at its lowest corner, the rest is the other's.
	for ; i < len(a); i++ {
		add(a[i].Add(b[0]))
	}
	for ; j < len(b); j++ {
		add(a[0].Add(b[j]))
	}
	return hull{pts: room[:n], top: top, box: boxOfSum(h, g)}
}

// boxOfSum is the box round the sum of two hulls: its outermost corners are the sums
// of theirs.
func boxOfSum(a, b *hull) geom.Box {
	return geom.Box{Min: a.box.Min.Add(b.box.Min), Max: a.box.Max.Add(b.box.Max)}
}

// grownBy is the sum with a hull, in memory of its own, and may be a summand itself.
func (h *hull) grownBy(g *hull) hull {
	out := h.plus(g, make([]geom.Point, len(h.pts)+len(g.pts)))
	out.sides = sidesOf(out.pts)
	return out
}

// add appends the next corner.
func (h *hull) add(p geom.Point) {
	h.pts = append(h.pts, p)
	h.box = h.box.With(p)
	if p.Y >= h.pts[h.top].Y {
		h.top = len(h.pts) - 1
	}
}

// across returns where the horizontal line at y enters and leaves the hull.
// The caller has seen that y lies between its lowest and highest corner.
func (h *hull) across(y float64) (from, to float64) {
	pts := h.pts
	// The right side rises from 0 to top, the left side falls from top to the end, and
	// from there to 0.
	lo, hi := 0, h.top
	for hi-lo > 1 {
		if mid := int(uint(lo+hi) / 2); pts[mid].Y <= y {
			lo = mid
		} else {
			hi = mid
		}
	}
	to = xAt(pts[lo], pts[hi], y)
	lo, hi = h.top, len(pts)
	for hi-lo > 1 {
		if mid := int(uint(lo+hi) / 2); pts[mid].Y >= y {
			lo = mid
		} else {
			hi = mid
		}
	}
	if hi == len(pts) {
		hi = 0
	}
	return xAt(pts[lo], pts[hi], y), to
}

func xAt(a, b geom.Point, y float64) float64 {
	if a.Y == b.Y {
		return a.X
	}
	return a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y)
}

// upright returns where the vertical line at x enters and leaves the hull;
// false where it misses it.
func (h *hull) upright(x float64) (from, to float64, ok bool) {
	if x <= h.box.Min.X || x >= h.box.Max.X {
		return 0, 0, false
	}
	from, to = math.Inf(1), math.Inf(-1)
	for i, a := range h.pts {
		b := h.pts[(i+1)%len(h.pts)]
		if a.X <= x && x <= b.X || b.X <= x && x <= a.X {
			y := a.Y
			if a.X != b.X {
				y += (b.Y - a.Y) * (x - a.X) / (b.X - a.X)
			} else {
				from, to = math.Min(from, b.Y), math.Max(to, b.Y)
			}
			from, to = math.Min(from, y), math.Max(to, y)
		}
	}
	return from, to, true
}

// disc returns a polygon of 16 sides round a circle of radius r, with sides
// square to both axes: it is too large by 2 % at its corners and by nothing
// where most parts meet.
func disc(r float64) hull {
	const n = 16
	pts := make([]geom.Point, n)
	for i := range pts {
		a := geom.Angle(2*math.Pi) * geom.Angle(float64(i)+0.5) / n
		pts[i] = geom.Polar(r/math.Cos(math.Pi/n), a)
	}
	return newHull(pts)
}

// pieces cuts a simple counter-clockwise polygon into convex ones: into
// triangles by cutting off ears, then joined again as long as they stay convex
// (Hertel and Mehlhorn, "Fast triangulation of simple polygons", 1983).
func pieces(pts []geom.Point) ([]hull, bool) {
	if !simple(pts) {
		return nil, false
	}
	tris, ok := ears(pts)
	if !ok {
		return nil, false
	}
	polys, masks := tris, make([]uint64, len(tris))
	for i, p := range polys {
		masks[i] = cornerMask(p, len(pts))
	}
	for again := true; again; {
		again = false
		for i := 0; i < len(polys) && !again; i++ {
			for j := i + 1; j < len(polys) && !again; j++ {
				if bits.OnesCount64(masks[i]&masks[j]) < 2 {
					continue // no side that they share
				}
				if m, ok := join(pts, polys[i], polys[j]); ok {
					polys[i], masks[i] = m, cornerMask(m, len(pts))
					polys, masks = slices.Delete(polys, j, j+1), slices.Delete(masks, j, j+1)
					again = true
				}
			}
		}
	}
	var out []hull
	for _, p := range polys {
		q := make([]geom.Point, len(p))
		for i, k := range p {
			q[i] = pts[k]
		}
		out = append(out, newHull(q))
	}
	return out, true
}

// cornerMask has a bit for each corner of a polygon, of so many that there are; all
// bits where those are too many to have one each.
func cornerMask(poly []int, of int) (mask uint64) {
	if of > 64 {
		return ^uint64(0)
	}
	for _, k := range poly {
		mask |= 1 << k
	}
	return mask
}

// simple reports whether no two sides of a polygon meet but at their common
// corner.
func simple(pts []geom.Point) bool {
	n := len(pts)
	side := func(i int) geom.Curve { return geom.Curve{A: pts[i], B: pts[(i+1)%n]} }
	boxes := make([]geom.Box, n)
	for i := range boxes {
		boxes[i] = side(i).Bounds()
	}
	for i := range n {
		near := boxes[i].Grow(geom.Touch) // farther apart than sides that meet
		for j := i + 2; j < n && j < i+n-1; j++ {
			if near.Overlaps(boxes[j]) && len(geom.Intersections(side(i), side(j))) > 0 {
				return false
			}
		}
	}
	return n > 2
}

// ears returns triangles as numbers of corners.
func ears(pts []geom.Point) ([][]int, bool) {
	left := make([]int, len(pts))
	for i := range left {
		left[i] = i
	}
	var out [][]int
	for len(left) > 3 {
		best, bestSize := -1, math.Inf(-1)
		n := len(left)
		for i := range left {
			a, b, c := left[(i+n-1)%n], left[i], left[(i+1)%n]
			turn := pts[b].Sub(pts[a]).Cross(pts[c].Sub(pts[b]))
			if turn <= 0 || holdsCorner(pts, left, a, b, c) {
				continue
			}
			// The roundest ear first leaves the fewest slivers.
			ab, bc, ca := pts[a].Dist(pts[b]), pts[b].Dist(pts[c]), pts[c].Dist(pts[a])
			if size := turn / (ab*ab + bc*bc + ca*ca); size > bestSize {
				best, bestSize = i, size
			}
		}
		if best < 0 {
			return nil, false
		}
		out = append(out, []int{left[(best+n-1)%n], left[best], left[(best+1)%n]})
		left = slices.Delete(left, best, best+1)
	}
	return append(out, left), true
}

// holdsCorner reports whether another corner lies in the triangle a, b, c.
func holdsCorner(pts []geom.Point, left []int, a, b, c int) bool {
	box := geom.EmptyBox().With(pts[a]).With(pts[b]).With(pts[c])
	for _, k := range left {
		p := pts[k]
		if p.X < box.Min.X || p.X > box.Max.X || p.Y < box.Min.Y || p.Y > box.Max.Y || k == a || k == b || k == c {
			continue
		}
		if p == pts[a] || p == pts[b] || p == pts[c] {
			continue
		}
		if cross(pts[a], pts[b], p) >= 0 && cross(pts[b], pts[c], p) >= 0 && cross(pts[c], pts[a], p) >= 0 {
			return true
		}
	}
	return false
}

func cross(a, b, p geom.Point) float64 { return b.Sub(a).Cross(p.Sub(a)) }

// join returns two polygons as one where they share a side and stay convex.
func join(pts []geom.Point, p, q []int) ([]int, bool) {
	for i := range p {
		a, b := p[i], p[(i+1)%len(p)]
		for j := range q {
			if q[j] != b || q[(j+1)%len(q)] != a {
				continue
			}
			var m []int
			for k := 1; k <= len(p); k++ { // from b round to a
				m = append(m, p[(i+k)%len(p)])
			}
			for k := 2; k < len(q); k++ { // what q adds between a and b
				m = append(m, q[(j+k)%len(q)])
			}
			for k := range m {
				if cross(pts[m[k]], pts[m[(k+1)%len(m)]], pts[m[(k+2)%len(m)]]) < 0 {
					return nil, false
				}
			}
			return m, true
		}
	}
	return nil, false
}

// hullOf returns the convex hull of points (Andrew's monotone chain).
func hullOf(pts []geom.Point) []geom.Point {
	s := slices.Clone(pts)
	slices.SortFunc(s, func(a, b geom.Point) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	half := func() []geom.Point {
		var out []geom.Point
		for _, p := range s {
			for len(out) > 1 && cross(out[len(out)-2], out[len(out)-1], p) <= 0 {
				out = out[:len(out)-1]
			}
			out = append(out, p)
		}
		return out[:len(out)-1]
	}
	low := half()
	slices.Reverse(s)
	return append(low, half()...)
}
