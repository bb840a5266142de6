package mutate

import (
	"math"
	"slices"
)

// What holds a part, in mm, by the terms of the proof: a tab is as wide as
// asked at its full height, and no more than half a millimetre wider or
// higher; wood narrower than holdLeast holds nothing.
const (
	tabMore   = 0.5
	holdLeast = 0.2
	tabStep   = 0.01  // mm between the places along a tab that are looked at
	tabNear   = 0.015 // how near to a limit these do not tell
	rimStep   = 0.05  // mm between places along an outline
)

// lowCuts are the pieces of way at or below a height, filed by place.
type lowCuts struct {
	rad float64
	at  map[[2]int][]wall
}

func newLowCuts(segs []seg, z, rad float64) *lowCuts {
	c := &lowCuts{rad, map[[2]int][]wall{}}
	for i := range segs {
		a, b, ok := segs[i].below(z)
		if !ok {
			continue
		}
		reach := rad + 1
		for x := int(math.Floor((min(a[0], b[0]) - reach) / wallCell)); x <= int(math.Floor((max(a[0], b[0])+reach)/wallCell)); x++ {
			for y := int(math.Floor((min(a[1], b[1]) - reach) / wallCell)); y <= int(math.Floor((max(a[1], b[1])+reach)/wallCell)); y++ {
				c.at[[2]int{x, y}] = append(c.at[[2]int{x, y}], wall{a, b})
			}
		}
	}
	return c
}

// gap is how far a place lies beyond the reach of every cut, at most 1 mm.
func (c *lowCuts) gap(x, y float64) float64 {
	d2 := sqr(c.rad + 1)
	for _, w := range c.at[[2]int{int(math.Floor(x / wallCell)), int(math.Floor(y / wallCell))}] {
		d2 = min(d2, segDist2(&w.a, &w.b, x, y))
	}
	return math.Sqrt(d2) - c.rad
}

func sqr(v float64) float64 { return v * v }

// rimPoint is a place on an outline, and where the cutter's middle runs beside
// it.
type rimPoint struct {
	x, y, cx, cy float64
	step         float64 // length of outline that it stands for
	uncut        bool
}

// sheetRest looks at what holds the parts once all is cut.
func (r *ruling) sheetRest(j *Brief, segs []seg) {
	s, rad := j.Sheet, j.Cutter/2
	floor := newLowCuts(segs, -j.Depth+outlineTol, rad)
	top := -s.Thickness + s.TabHeight
	atTop := newLowCuts(segs, top-outlineTol, rad)
	above := newLowCuts(segs, min(top+tabMore, -outlineTol), rad)
	r.waste(j, segs)
	for i := range s.Parts {
		p := &s.Parts[i]
		for k, h := range p.Holes {
			if p.SlugTabs[k] > 0 {
				inward := slices.Clone(h)
				slices.Reverse(inward)
				r.held(s, p, inward, p.SlugTabs[k], rad, floor, atTop, above)
				continue
			}
			for _, q := range rimOf(h, rad, rimStep) {
				r.over(floor.gap(q.x, q.y), partTol, 0, "a hole left uncut")
			}
		}
		r.held(s, p, p.Outline, p.Tabs, rad, floor, atTop, above)
	}
}

// held counts the bridges along an edge, on whose right the cutter runs, and
// holds them against the tabs that were asked for.
func (r *ruling) held(s *Sheet, p *Part, edge [][2]float64, want int, rad float64, floor, atTop, above *lowCuts) {
	held := 0
	top := -s.Thickness + s.TabHeight
	for _, run := range uncutRuns(r, edge, floor, rad) {
		most := 0.0
		for _, q := range run {
			most = max(most, floor.gap(q.x, q.y))
		}
		if most < partTol+Near {
			continue // told as Either
		}
		neck := neckOf(run, floor)
		if neck < holdLeast+tabNear || neck > s.TabWidth+tabMore-tabNear {
			if neck > holdLeast-tabNear && neck < holdLeast+tabNear || math.Abs(neck-s.TabWidth-tabMore) < tabNear {
				r.add(Either, "a bridge %.3f mm wide", neck)
			} else {
				r.add(Harmful, "left standing on an outline, a bridge %.3f mm wide", neck)
			}
			continue
		}
		held++
		r.tab(s, p, run, neckOf(run, atTop), neckOf(run, above), top)
	}
	if held != want {
		r.add(Harmful, "%d tabs, not %d", held, want)
	}
}

// tab holds a tab against what was asked for.
func (r *ruling) tab(s *Sheet, p *Part, run []rimPoint, neck, high, top float64) {
	switch short := s.TabWidth - neck; {
	case short > partTol+tabNear:
		r.add(Harmful, "a tab is %.3f mm wide at its full height", neck)
	case short > partTol-tabNear:
		r.add(Either, "a tab is %.3f mm wide at its full height", neck)
	}
	if high > holdLeast && top+tabMore < -outlineTol {
		r.add(Harmful, "a tab is more than %.2f mm too high", tabMore)
	}
	for _, q := range run {
		if !q.uncut {
			continue
		}
		for _, seat := range p.Seats {
			for i := 0; i+1 < len(seat); i++ {
				if segDist2(&[3]float64{seat[i][0], seat[i][1]}, &[3]float64{seat[i+1][0], seat[i+1][1]}, q.x, q.y) < partTol*partTol {
					r.add(Harmful, "a tab on a seat")
				}
			}
		}
	}
}

// rimOf returns places along a polygon; the cutter's middle runs on its right.
func rimOf(poly [][2]float64, rad, step float64) []rimPoint {
	var out []rimPoint
	for i := range poly {
		p, q := poly[i], poly[(i+1)%len(poly)]
		l := math.Hypot(q[0]-p[0], q[1]-p[1])
		if l == 0 {
			continue
		}
		nx, ny := (q[1]-p[1])/l*rad, -(q[0]-p[0])/l*rad
		n := int(l/step) + 1
		for k := 0; k < n; k++ {
			t := (float64(k) + 0.5) / float64(n)
			x, y := p[0]+t*(q[0]-p[0]), p[1]+t*(q[1]-p[1])
			out = append(out, rimPoint{x, y, x + nx, y + ny, l / float64(n), false})
		}
	}
	return out
}

// uncutRuns returns the stretches of an outline that are not cut at full
// depth, closer to a limit than can be told as Either.
func uncutRuns(r *ruling, edge [][2]float64, floor *lowCuts, rad float64) [][]rimPoint {
	rim := rimOf(edge, rad, rimStep)
	gaps, bad := make([]float64, len(rim)), make([]bool, len(rim))
	any, all := false, true
	for i, q := range rim {
		gaps[i] = floor.gap(q.x, q.y)
		bad[i] = gaps[i] > partTol
		any, all = any || bad[i], all && bad[i]
	}
	r.nearly(rim, gaps)
	if !any {
		return nil
	}
	first := 0
	for !all && bad[first] {
		first++
	}
	var out [][]rimPoint
	open := false
	for k := range rim {
		i := (first + k) % len(rim)
		if bad[i] && !open {
			out = append(out, nil)
		}
		if open = bad[i]; open {
			out[len(out)-1] = append(out[len(out)-1], rim[i])
		}
	}
	return out
}

// nearly adds Either for places that are cut nearly deep enough and nearly not,
// but for those at the ends of a bridge, where every gap begins.
func (r *ruling) nearly(rim []rimPoint, gaps []float64) {
	const ends = 40 // places to either side
	n := len(rim)
	for i := range rim {
		if math.Abs(gaps[i]-partTol) > Near {
			continue
		}
		most := 0.0
		for k := -ends; k <= ends; k++ {
			most = max(most, gaps[((i+k)%n+n)%n])
		}
		if most < partTol+Near {
			r.add(Either, "%.4f mm left on an outline", gaps[i])
		}
	}
}

// neckOf returns the widest stretch of a run along which the cutter's middle
// line is not cut, looked at finely, and marks it.
func neckOf(run []rimPoint, c *lowCuts) float64 {
	best, sum := 0.0, 0.0
	for i := range run {
		q := &run[i]
		q.uncut = false
		n := int(q.step/tabStep) + 1
		var dx, dy float64
		if i+1 < len(run) && math.Hypot(run[i+1].x-q.x, run[i+1].y-q.y) < 2*q.step {
			dx, dy = (run[i+1].x-q.x)/q.step, (run[i+1].y-q.y)/q.step
		} else if i > 0 {
			dx, dy = (q.x-run[i-1].x)/q.step, (q.y-run[i-1].y)/q.step
		}
		for k := range n {
			o := (float64(k)+0.5)/float64(n)*q.step - q.step/2
			if c.gap(q.cx+o*dx, q.cy+o*dy) > 0 {
				sum += q.step / float64(n)
				q.uncut = true
			} else {
				sum = 0
			}
			best = max(best, sum)
		}
	}
	return best
}
