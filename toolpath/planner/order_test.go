package planner

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
)

// drawStops draws a few groups of cuts with one to three ways to begin each.
func drawStops(t *rapid.T) [][]stop {
	point := func() geom.Point {
		return geom.Pt(rapid.Float64Range(0, 300).Draw(t, "x"), rapid.Float64Range(0, 300).Draw(t, "y"))
	}
	groups := make([][]stop, rapid.IntRange(1, 3).Draw(t, "groups"))
	for g := range groups {
		for range rapid.IntRange(0, 4).Draw(t, "stops") {
			var s stop
			for range rapid.IntRange(1, 3).Draw(t, "ways") {
				s.from, s.to = append(s.from, point()), append(s.to, point())
			}
			groups[g] = append(groups[g], s)
		}
	}
	return groups
}

// legsOf returns the cuts of a tour, and the travel between them.
func legsOf(groups [][]stop, order, begin [][]int) (legs [][]leg, travel float64) {
	var last *leg
	legs = make([][]leg, len(groups))
	for g, o := range order {
		for k, i := range o {
			l := leg{groups[g][i].from[begin[g][k]], groups[g][i].to[begin[g][k]]}
			if last != nil {
				travel += last.to.Dist(l.from)
			}
			last = &l
			legs[g] = append(legs[g], l)
		}
	}
	return legs, travel
}

// The tour visits every cut once, group by group; its bound holds for the best
// of all orders of the same cuts, found by trying them all.
func TestTourAgainstAllOrders(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		groups := drawStops(t)
		order, begin := tour(groups)
		for g := range groups {
			seen := slices.Clone(order[g])
			slices.Sort(seen)
			for i, k := range seen {
				if i != k {
					t.Fatalf("group %d is visited as %v", g, order[g])
				}
			}
			if len(seen) != len(groups[g]) {
				t.Fatalf("group %d: %d of %d stops", g, len(seen), len(groups[g]))
			}
		}
		legs, travel := legsOf(groups, order, begin)
		best := math.Inf(1)
		allOrders(legs, 0, nil, 0, &best)
		if bound := travelBound(legs); bound > best+1e-9 {
			t.Fatalf("bound %g above the best tour %g", bound, best)
		}
		if travel < best-1e-9 {
			t.Fatalf("travel %g below the best of all orders %g", travel, best)
		}
	})
}

// allOrders finds the shortest travel through all legs in their groups' order.
func allOrders(groups [][]leg, g int, last *leg, sum float64, best *float64) {
	for g < len(groups) && len(groups[g]) == 0 {
		g++
	}
	if g == len(groups) {
		*best = math.Min(*best, sum)
		return
	}
	for i := range groups[g] {
		l := groups[g][i]
		d := 0.0
		if last != nil {
			d = last.to.Dist(l.from)
		}
		rest := slices.Clone(groups)
		rest[g] = slices.Delete(slices.Clone(groups[g]), i, i+1)
		allOrders(rest, g, &l, sum+d, best)
	}
}

// A grid of holes is a known case: the shortest way through 6 by 6 places one
// apart is 35 long, one step for each place after the first.
func TestTourOfGrid(t *testing.T) {
	var g []stop
	for i := range 36 {
		p := geom.Pt(float64(i*7%36%6), float64(i*7%36/6))
		g = append(g, stop{[]geom.Point{p}, []geom.Point{p}})
	}
	order, begin := tour([][]stop{g})
	legs, travel := legsOf([][]stop{g}, order, begin)
	if bound := travelBound(legs); math.Abs(bound-35) > 1e-9 {
		t.Errorf("bound %g, want 35", bound)
	}
	if travel > 35*1.15 {
		t.Errorf("travel %g, more than 15 %% above 35", travel)
	}
}
