package mutate

import "math"

// air holds a move against what it may meet besides the wood that it cuts: what
// stands beside the work below the safe height, screws and clamps, and a board
// that stands a little proud. And nobody knows what stands far away.
func (r *ruling) air(j *Brief, m *move, segs []seg) {
	if len(j.Over) == 0 {
		return
	}
	lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, o := range j.Over {
		for k := range 2 {
			lo[k], hi[k] = min(lo[k], o[k]), max(hi[k], o[k+2])
		}
	}
	for i := range segs {
		s := &segs[i]
		way := airWay{s.a, s.b, m.g > 0}
		if j.isClear(way) {
			continue
		}
		before := *r
		for k := range 2 {
			r.over(max(lo[k]-min(s.a[k], s.b[k]), max(s.a[k], s.b[k])-hi[k]), farRoom, m.line, "beyond the work")
		}
		r.over(s.b[2]-j.SafeZ, farRoom, m.line, "above the safe height")
		if r.Verdict == Harmful {
			return // and what is far takes long to look at
		}
		if a, b, ok := s.below(j.SafeZ - heightTol); ok {
			r.beside(j, m, a, b)
		}
		if a, b, ok := s.below(j.Approach - heightTol); ok && m.g > 0 {
			r.lowOverWork(j, m, a, b)
		}
		if *r == before && r.Verdict == Harmless {
			j.setClear(way)
		}
	}
}

// airWay is a piece of way, at a feed or not, that was looked at.
type airWay struct {
	a, b [3]float64
	feed bool
}

// isClear reports whether nothing was found along the very way before: programs
// that differ in one line have nearly all of it in common.
func (j *Brief) isClear(w airWay) bool {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.clear[w]
}

func (j *Brief) setClear(w airWay) {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.clear == nil {
		j.clear = map[airWay]bool{}
	}
	j.clear[w] = true
}

// beside holds a piece of way below the safe height against the edges of the
// work and the screws.
func (r *ruling) beside(j *Brief, m *move, a, b [3]float64) {
	out := math.Inf(1)
	for _, o := range j.Over {
		out = min(out, max(max(o[0]-min(a[0], b[0]), max(a[0], b[0])-o[2]),
			max(o[1]-min(a[1], b[1]), max(a[1], b[1])-o[3])))
	}
	r.over(out, heightTol, m.line, "low beside the work")
	if j.Sheet == nil {
		return
	}
	for _, k := range j.Sheet.Keepouts {
		r.over(j.Cutter/2-polyDist(k, a, b), partTol, m.line, "low over a screw")
	}
}

// lowOverWork holds a piece of way at a feed below the height of approach
// against what has to be cut there.
func (r *ruling) lowOverWork(j *Brief, m *move, a, b [3]float64) {
	rad := j.Cutter / 2
	if j.Sheet == nil {
		out := math.Inf(1)
		for _, s := range j.Slots {
			out = min(out, rad+max(s.outside(a[0], a[1], rad), s.outside(b[0], b[1], rad)))
		}
		r.over(out, outlineTol, m.line, "low over wood that stays")
		return
	}
	r.over(j.Sheet.reach(a, b, rad), partTol, m.line, "low over a part or screw zone")
	// Where there is nothing to cut, far from every outline.
	n := int(math.Hypot(b[0]-a[0], b[1]-a[1])) + 1
	limit := rad + leadParts*j.Cutter
	for i := 0; i <= n; i++ {
		t := float64(i) / float64(n)
		x, y := a[0]+t*(b[0]-a[0]), a[1]+t*(b[1]-a[1])
		switch d := j.Sheet.fromOutline(x, y, limit); {
		case d > limit+1:
			r.add(Harmful, "line %d: low at X %.1f Y %.1f, %.1f mm from every outline", m.line, x, y, d)
			return
		case d > limit-1:
			r.add(Either, "line %d: low some way from every outline", m.line)
		}
	}
}

// fromOutline is how far a place lies from the nearest edge of a part, 0 in a
// cut-out, no more than 2 mm above the limit.
func (s *Sheet) fromOutline(x, y, limit float64) float64 {
	best := limit + 2
	for _, p := range s.Parts {
		for i := range p.Outline {
			a, b := p.Outline[i], p.Outline[(i+1)%len(p.Outline)]
			if min(a[0], b[0])-best > x || max(a[0], b[0])+best < x || min(a[1], b[1])-best > y || max(a[1], b[1])+best < y {
				continue
			}
			best = min(best, math.Sqrt(segDist2(&[3]float64{a[0], a[1]}, &[3]float64{b[0], b[1]}, x, y)))
		}
		for _, h := range p.Holes {
			if inside(h, x, y) {
				return 0
			}
		}
	}
	return best
}

// polyDist is how far a piece of way lies from a polygon, 0 within it.
func polyDist(poly [][2]float64, a, b [3]float64) float64 {
	if inside(poly, a[0], a[1]) || inside(poly, b[0], b[1]) {
		return 0
	}
	d2 := math.Inf(1)
	for i := range poly {
		p, q := poly[i], poly[(i+1)%len(poly)]
		c, d := [3]float64{p[0], p[1]}, [3]float64{q[0], q[1]}
		if crossing(a, b, c, d) {
			return 0
		}
		d2 = min(d2, min(min(segDist2(&a, &b, c[0], c[1]), segDist2(&a, &b, d[0], d[1])),
			min(segDist2(&c, &d, a[0], a[1]), segDist2(&c, &d, b[0], b[1]))))
	}
	return math.Sqrt(d2)
}
