package mutate

import (
	"math"
	"slices"
)

// wood cuts the work load by load and looks at what comes of it.
func (r *ruling) wood(j *Brief, run *run) {
	loads := [][]seg{nil}
	for i := range run.moves {
		m := &run.moves[i]
		for j.Loads > 1 && m.load >= len(loads) {
			loads = append(loads, nil)
		}
		k := 0
		if j.Loads > 1 {
			k = m.load
		}
		loads[k] = flatten(loads[k], m)
	}
	cutLoads := 0
	var before []seg
	for _, segs := range loads {
		if !touches(segs) {
			continue
		}
		cutLoads++
		if sameCuts(before, segs) {
			continue
		}
		before = segs
		r.oneLoad(j, segs)
		if r.Verdict == Harmful {
			return
		}
	}
	if cutLoads != max(1, j.Loads) {
		r.add(Harmful, "the work is cut %d times, not %d", cutLoads, max(1, j.Loads))
	}
}

// touches reports whether any piece goes below the surface.
func touches(segs []seg) bool {
	return slices.ContainsFunc(segs, func(s seg) bool { return s.a[2] < 0 || s.b[2] < 0 })
}

func sameCuts(a, b []seg) bool {
	return slices.EqualFunc(a, b, func(p, q seg) bool {
		return p.a == q.a && p.b == q.b && p.rapid == q.rapid && p.feed == q.feed
	})
}

// oneLoad judges all that is cut in one piece of work.
func (r *ruling) oneLoad(j *Brief, segs []seg) {
	if j.Sheet != nil {
		r.sheetEdges(j, segs)
	} else {
		r.slotEdges(j, segs)
	}
	if r.Verdict == Harmful {
		return
	}
	if j.Sheet != nil {
		r.sheetRest(j, segs)
	} else {
		r.slotRest(j, segs)
	}
	if r.Verdict == Harmful {
		return
	}
	r.cutColumns(j, segs)
}

// outside returns how far a point lies outside of a slot's outline: the
// signed distance to a rectangle with corners rounded by q.
func (s Slot) outside(x, y, q float64) float64 {
	cx, cy := (s.X0+s.X1)/2, (s.Y0+s.Y1)/2
	dx := math.Abs(x-cx) - ((s.X1-s.X0)/2 - q)
	dy := math.Abs(y-cy) - ((s.Y1-s.Y0)/2 - q)
	return math.Hypot(max(dx, 0), max(dy, 0)) + min(max(dx, dy), 0) - q
}

// slotEdges holds the cutter's way against the slots' outlines and floors. The
// distance outside of a convex outline is a convex function, so along a
// straight piece it is largest at an end.
func (r *ruling) slotEdges(j *Brief, segs []seg) {
	rad := j.Cutter / 2
	for i := range segs {
		a, b, ok := segs[i].below(-outlineTol)
		if !ok {
			continue
		}
		out := math.Inf(1)
		for _, s := range j.Slots {
			out = min(out, rad+max(s.outside(a[0], a[1], rad), s.outside(b[0], b[1], rad)))
		}
		r.over(out, outlineTol, segs[i].line, "outside of the slot")
		r.over(-min(a[2], b[2])-j.Depth, outlineTol, segs[i].line, "below the floor")
	}
}

// rim is how far apart, in mm, the places along an edge are that are looked
// at. The distance to a cut changes by no more than half of it in between.
const rim = 0.01

// slotRest looks for wood along the slots' outlines and across their floors.
func (r *ruling) slotRest(j *Brief, segs []seg) {
	var floor []seg
	for i := range segs {
		if a, b, ok := segs[i].below(-j.Depth + outlineTol); ok {
			s := segs[i]
			s.a, s.b = a, b
			if !slices.ContainsFunc(floor, func(f seg) bool { return f.a == s.a && f.b == s.b || f.a == s.b && f.b == s.a }) {
				floor = append(floor, s)
			}
		}
	}
	rad := j.Cutter / 2
	gap := func(x, y float64) float64 {
		d := math.Inf(1)
		for i := range floor {
			d = min(d, segDist2(&floor[i].a, &floor[i].b, x, y))
		}
		return math.Sqrt(d) - rad
	}
	for _, s := range j.Slots {
		most := 0.0
		s.walk(rad, func(x, y float64) { most = max(most, gap(x, y)) })
		if s.Y1-s.Y0 < j.Cutter+rim {
			r.over(most, outlineTol, 0, "left standing in the slot")
			continue // a slot of the cutter's width has no inside
		}
		// Strips along the slot are looked for across it, and the other way.
		for x := s.X0; x < s.X1; x += 3 {
			for y := s.Y0; y < s.Y1; y += 2 * rim {
				if s.outside(x, y, rad) < 0 {
					most = max(most, gap(x, y))
				}
			}
		}
		for y := s.Y0 + rim; y < s.Y1; y += 1.5 {
			for x := s.X0; x < s.X1; x += 0.05 {
				if s.outside(x, y, rad) < 0 {
					most = max(most, gap(x, y))
				}
			}
		}
		r.over(most, outlineTol, 0, "left standing in the slot")
	}
}

// walk visits places along the outline of a slot with corners rounded by q.
func (s Slot) walk(q float64, visit func(x, y float64)) {
	line := func(x0, y0, x1, y1 float64) {
		n := int(math.Hypot(x1-x0, y1-y0)/(4*rim)) + 1
		for i := 0; i <= n; i++ {
			t := float64(i) / float64(n)
			visit(x0+t*(x1-x0), y0+t*(y1-y0))
		}
	}
	line(s.X0+q, s.Y0, s.X1-q, s.Y0)
	line(s.X0+q, s.Y1, s.X1-q, s.Y1)
	line(s.X0, s.Y0+q, s.X0, s.Y1-q)
	line(s.X1, s.Y0+q, s.X1, s.Y1-q)
	for _, c := range [4][3]float64{{s.X0 + q, s.Y0 + q, math.Pi}, {s.X1 - q, s.Y0 + q, 1.5 * math.Pi}, {s.X1 - q, s.Y1 - q, 0}, {s.X0 + q, s.Y1 - q, math.Pi / 2}} {
		n := int(q*math.Pi/2/rim) + 1
		for i := 0; i <= n; i++ {
			a := c[2] + math.Pi/2*float64(i)/float64(n)
			visit(c[0]+q*math.Cos(a), c[1]+q*math.Sin(a))
		}
	}
}
