package draft

import (
	"starwright/geom"
	"starwright/post/cut"
)

// twins finds contours and lines that are drawn twice, from whichever vertex
// and whichever way round they start. Each shape has a sum over its edges that
// depends on neither; shapes of equal sum are then compared vertex by vertex.
type twins struct {
	d        cut.Drawing
	grid     Grid
	contours chain
	lines    chain
}

// chain remembers for each sum the shapes that have it.
type chain struct {
	head map[uint64]int32
	next []int32 // the earlier shape of the same sum, or -1
}

func newTwins(d cut.Drawing, g Grid) *twins {
	return &twins{
		d:        d,
		grid:     g,
		contours: chain{head: make(map[uint64]int32, len(d.Contours))},
		lines:    chain{head: make(map[uint64]int32, len(d.Lines))},
	}
}

// add stores shape i, whose turn it must be, and reports an earlier one that
// same says is the same.
func (c *chain) add(sum uint64, i int, same func(j int) bool) (int, bool) {
	j, ok := c.head[sum]
	if !ok {
		j = -1
	}
	c.head[sum] = int32(i)
	c.next = append(c.next, j)
	for ; j >= 0; j = c.next[j] {
		if same(int(j)) {
			return int(j), true
		}
	}
	return 0, false
}

// contour reports whether contour i was drawn before, and as which.
func (t *twins) contour(i int) (int, bool) {
	c := t.d.Contours[i].Contour
	sum := uint64(len(c))
	for k, v := range c {
		sum += t.grid.edge(v, c[(k+1)%len(c)].Point)
	}
	return t.contours.add(sum, i, func(j int) bool {
		o := t.d.Contours[j].Contour
		return t.grid.sameRing(c, o) || t.grid.sameRing(c, o.Reversed())
	})
}

// line reports whether line i was drawn before, and as which.
func (t *twins) line(i int) (int, bool) {
	l := t.d.Lines[i]
	a, b := t.grid.Cell(l.A), t.grid.Cell(l.B)
	return t.lines.add(t.grid.edge(geom.Vertex{Point: l.A}, l.B), i, func(j int) bool {
		c, d := t.grid.Cell(t.d.Lines[j].A), t.grid.Cell(t.d.Lines[j].B)
		return a == c && b == d || a == d && b == c
	})
}

// edge returns a number of the edge from v to b that is the same backwards.
func (g Grid) edge(v geom.Vertex, b geom.Point) uint64 {
	from, to, bulge := g.Cell(v.Point), g.Cell(b), bulges.Steps(v.Bulge)
	if from.X > to.X || from.X == to.X && from.Y > to.Y {
		from, to, bulge = to, from, -bulge
	}
	h := mix(uint64(from.X))
	h = mix(h + uint64(from.Y))
	h = mix(h + uint64(to.X))
	h = mix(h + uint64(to.Y))
	return mix(h + uint64(bulge))
}

// mix spreads a number over all bits (the finisher of SplitMix64: Steele, Lea
// and Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014).
func mix(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// sameRing reports whether two contours are drawn alike from some vertex on.
func (g Grid) sameRing(c, o geom.Contour) bool {
	n := len(c)
	if n != len(o) {
		return false
	}
	for shift := range n {
		k := 0
		for k < n && g.sameVertex(c[k], o[(k+shift)%n]) {
			k++
		}
		if k == n {
			return true
		}
	}
	return false
}

func (g Grid) sameVertex(a, b geom.Vertex) bool {
	return g.Cell(a.Point) == g.Cell(b.Point) && bulges.Steps(a.Bulge) == bulges.Steps(b.Bulge)
}
