package planner

import (
	"math"

	"starwright/geom"
)

// stop is one cut on the cutter's tour: the ways it can be begun, each with
// the places where the cutter comes down and where it leaves.
type stop struct{ from, to []geom.Point }

// tour returns the order in which to visit the stops of each group in turn,
// and for each stop of the order the way to begin it. The order inside a group
// is that of nearest neighbours, improved by turning round stretches as long
// as that shortens it (2-opt); then the best ways to begin are found for all
// stops together. The tour starts near the sheet's corner at 0,0.
func tour(groups [][]stop) (order [][]int, begin [][]int) {
	at := geom.Point{}
	for _, g := range groups {
		pts := make([]geom.Point, len(g))
		for i, s := range g {
			pts[i] = s.from[0]
		}
		o := untangle(at, pts, nearestFirst(at, pts))
		order = append(order, o)
		if len(o) > 0 {
			at = pts[o[len(o)-1]]
		}
	}
	begin = beginBest(groups, order)
	// Once more with the places that were chosen.
	at = geom.Point{}
	for gi, g := range groups {
		pts := make([]geom.Point, len(g))
		for k, i := range order[gi] {
			pts[i] = g[i].from[begin[gi][k]]
		}
		order[gi] = untangle(at, pts, order[gi])
		if o := order[gi]; len(o) > 0 {
			at = pts[o[len(o)-1]]
		}
	}
	return order, beginBest(groups, order)
}

// nearestFirst visits from at always the nearest place not yet visited.
func nearestFirst(at geom.Point, pts []geom.Point) []int {
	left := make([]int, len(pts))
	for i := range left {
		left[i] = i
	}
	var out []int
	for len(left) > 0 {
		best := 0
		for k := range left {
			if at.Dist(pts[left[k]]) < at.Dist(pts[left[best]]) {
				best = k
			}
		}
		at = pts[left[best]]
		out = append(out, left[best])
		left = append(left[:best], left[best+1:]...)
	}
	return out
}

// untangle turns round stretches of the order as long as that shortens the way
// from at through all places.
func untangle(at geom.Point, pts []geom.Point, order []int) []int {
	const (
		gain   = geom.Touch // less is rounding
		rounds = 50         // each round costs the square of the stops
	)
	o := append([]int(nil), order...)
	place := func(k int) geom.Point {
		if k < 0 {
			return at
		}
		return pts[o[k]]
	}
	for range rounds {
		better := false
		for i := 0; i < len(o); i++ {
			for k := i + 1; k < len(o); k++ {
				was := place(i - 1).Dist(place(i))
				now := place(i - 1).Dist(place(k))
				if k+1 < len(o) {
					was += place(k).Dist(place(k + 1))
					now += place(i).Dist(place(k + 1))
				}
				if now < was-gain {
					for a, b := i, k; a < b; a, b = a+1, b-1 {
						o[a], o[b] = o[b], o[a]
					}
					better = true
				}
			}
		}
		if !better {
			break
		}
	}
	return o
}

// beginBest finds, for a given order, the ways to begin the stops that make
// the whole travel shortest: the shortest way through layers of choices.
func beginBest(groups [][]stop, order [][]int) [][]int {
	var line []stop
	for gi, o := range order {
		for _, i := range o {
			line = append(line, groups[gi][i])
		}
	}
	cost := []float64{0}
	prev := []geom.Point{{}}
	from := make([][]int, len(line))
	for k, s := range line {
		next := make([]float64, len(s.from))
		from[k] = make([]int, len(s.from))
		for c, p := range s.from {
			next[c] = math.Inf(1)
			for b, q := range prev {
				if v := cost[b] + q.Dist(p); v < next[c] {
					next[c], from[k][c] = v, b
				}
			}
		}
		cost, prev = next, s.to
	}
	pick := make([]int, len(line))
	best := 0
	for c := range cost {
		if cost[c] < cost[best] {
			best = c
		}
	}
	for k := len(line) - 1; k >= 0; k-- {
		pick[k] = best
		best = from[k][best]
	}
	out := make([][]int, len(order))
	for gi, o := range order {
		out[gi], pick = pick[:len(o)], pick[len(o):]
	}
	return out
}

// leg is one cut of the finished tour.
type leg struct{ from, to geom.Point }

// travelBound returns a length that no order of the cuts can undercut while
// the groups keep theirs: within each group the shortest tree that joins all
// its cuts, and between groups the shortest link. The way from one cut to
// another is taken as short as either of the two directions allows.
func travelBound(groups [][]leg) float64 {
	link := func(a, b leg) float64 { return math.Min(a.to.Dist(b.from), b.to.Dist(a.from)) }
	sum := 0.0
	var last []leg
	for _, g := range groups {
		if len(g) == 0 {
			continue
		}
		if last != nil {
			least := math.Inf(1)
			for _, a := range last {
				for _, b := range g {
					least = math.Min(least, a.to.Dist(b.from))
				}
			}
			sum += least
		}
		last = g
		// Prim's algorithm.
		near := make([]float64, len(g))
		in := make([]bool, len(g))
		for i := range near {
			near[i] = math.Inf(1)
		}
		at := 0
		for range len(g) - 1 {
			in[at] = true
			next := -1
			for i := range g {
				if in[i] {
					continue
				}
				near[i] = math.Min(near[i], link(g[at], g[i]))
				if next < 0 || near[i] < near[next] {
					next = i
				}
			}
			sum += near[next]
			at = next
		}
	}
	return sum
}
