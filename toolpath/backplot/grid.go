package backplot

import (
	"math"
	"math/bits"

	"starwright/geom"
)

// chunk is how many items a block of a store holds. Blocks are never moved:
// growing costs no copy and leaves nothing to collect.
const chunk = 1 << 12

// store holds sweeps by number.
type store struct {
	chunks [][]sweep
	n      int
}

func (s *store) add(v sweep) int32 {
	if s.n>>12 == len(s.chunks) {
		s.chunks = append(s.chunks, make([]sweep, chunk))
	}
	s.chunks[s.n>>12][s.n&(chunk-1)] = v
	s.n++
	return int32(s.n - 1)
}

func (s *store) at(i int32) *sweep { return &s.chunks[i>>12][i&(chunk-1)] }

func (s *store) reset() { s.n = 0 }

// grid files numbers of sweeps under the cells of the plane that their axes
// may pass. Long axes are filed in wider cells, so that none takes many: layer
// k has cells 4^k times as wide as layer 0.
type grid struct {
	cell   float64 // mm, of layer 0
	layers uint32  // one bit for each layer that holds something
	keys   []uint64
	heads  []int32
	used   int
	nodes  [][]node
	n      int
}

// node is one number filed under a cell, and the one filed before it.
type node struct{ sweep, next int32 }

const (
	maxLayer  = 12 // 4^12 radii is over ten kilometres
	cellsEach = 4  // an axis is filed in cells at least a fourth of its length
)

func newGrid(r float64) grid {
	const least = 0.25 // mm, so that no cutter however fine makes cells without number
	g := grid{cell: math.Max(2*r, least)}
	g.resize(1 << 8)
	return g
}

func (g *grid) reset() {
	clear(g.keys)
	g.layers, g.used, g.n = 0, 0, 0
}

func (g *grid) resize(n int) {
	keys, heads := g.keys, g.heads
	g.keys, g.heads = make([]uint64, n), make([]int32, n)
	for i, k := range keys {
		if k != 0 {
			at := g.slot(k)
			g.keys[at], g.heads[at] = k, heads[i]
		}
	}
}

// slot returns where a key stands or would stand.
func (g *grid) slot(key uint64) int {
	mask := uint64(len(g.keys) - 1)
	i := (key * 0x9E3779B97F4A7C15) >> 20 & mask // golden ratio; spreads neighbours
	for g.keys[i] != 0 && g.keys[i] != key {
		i = (i + 1) & mask
	}
	return int(i)
}

// key makes one number of layer and cell; it is never 0.
func key(layer int, x, y int64) uint64 {
	const m = 1<<29 - 1
	return uint64(layer+1)<<58 | uint64(x&m)<<29 | uint64(y&m)
}

// put files a number under a cell, unless it was the last filed there.
func (g *grid) put(k uint64, i int32) {
	at := g.slot(k)
	next := int32(-1)
	if g.keys[at] == k {
		next = g.heads[at]
		if g.nodes[next>>12][next&(chunk-1)].sweep == i {
			return
		}
	} else {
		if g.used*2 > len(g.keys) {
			g.resize(2 * len(g.keys))
			at = g.slot(k)
		}
		g.keys[at] = k
		g.used++
	}
	if g.n>>12 == len(g.nodes) {
		g.nodes = append(g.nodes, make([]node, chunk))
	}
	g.nodes[g.n>>12][g.n&(chunk-1)] = node{i, next}
	g.heads[at] = int32(g.n)
	g.n++
}

// file files a sweep's number under the cells that its axis may pass.
func (g *grid) file(axis geom.Curve, i int32) {
	layer, cell := 0, g.cell
	length := 0.0
	if axis.Bulge != 0 {
		length = axis.Length()
	} else {
		length = math.Max(math.Abs(axis.B.X-axis.A.X), math.Abs(axis.B.Y-axis.A.Y))
	}
	for length > cellsEach*cell && layer < maxLayer {
		layer, cell = layer+1, cell*4
	}
	g.layers |= 1 << layer
	pieces(axis, length, cell, func(b geom.Box) {
		x0, x1, y0, y1 := span4(b, cell)
		for x := x0; x <= x1; x++ {
			for y := y0; y <= y1; y++ {
				g.put(key(layer, x, y), i)
			}
		}
	})
}

// pieces calls visit with boxes that hold the curve, each at most a cell long.
func pieces(c geom.Curve, length, cell float64, visit func(geom.Box)) {
	if length <= cell {
		visit(curveBox(c))
		return
	}
	n := int(math.Ceil(length / cell))
	for k := 0; k < n; k++ {
		visit(curveBox(c.Part(float64(k)/float64(n), float64(k+1)/float64(n))))
	}
}

func span4(b geom.Box, cell float64) (x0, x1, y0, y1 int64) {
	k := 1 / cell
	return int64(math.Floor(b.Min.X * k)), int64(math.Floor(b.Max.X * k)),
		int64(math.Floor(b.Min.Y * k)), int64(math.Floor(b.Max.Y * k))
}

// along calls visit with every number filed within reach of the curve, some
// more than once.
func (g *grid) along(c geom.Curve, reach float64, visit func(int32)) {
	length := 0.0
	if c.Bulge != 0 {
		length = c.Length()
	} else {
		length = math.Max(math.Abs(c.B.X-c.A.X), math.Abs(c.B.Y-c.A.Y))
	}
	pieces(c, length, math.Max(4*reach, 8*g.cell), func(b geom.Box) { g.within(b.Grow(reach), visit) })
}

// within calls visit with every number filed under a cell that touches the
// box, some more than once.
func (g *grid) within(b geom.Box, visit func(int32)) {
	for left := g.layers; left != 0; left &= left - 1 {
		layer := bits.TrailingZeros32(left)
		x0, x1, y0, y1 := span4(b, g.cell*float64(int64(1)<<(2*layer)))
		if float64(x1-x0+1)*float64(y1-y0+1) > float64(len(g.keys)) {
			g.sift(layer, x0, x1, y0, y1, visit)
			continue
		}
		for x := x0; x <= x1; x++ {
			for y := y0; y <= y1; y++ {
				g.list(g.slot(key(layer, x, y)), visit)
			}
		}
	}
}

// list calls visit with what is filed at a place of the table, if anything.
func (g *grid) list(at int, visit func(int32)) {
	if g.keys[at] == 0 {
		return
	}
	for n := g.heads[at]; n >= 0; {
		nd := g.nodes[n>>12][n&(chunk-1)]
		visit(nd.sweep)
		n = nd.next
	}
}

// sift is within for a box of more cells than the table has: it goes through
// the table instead.
func (g *grid) sift(layer int, x0, x1, y0, y1 int64, visit func(int32)) {
	const m = 1<<29 - 1
	for at, k := range g.keys {
		if k == 0 || int(k>>58)-1 != layer {
			continue
		}
		x, y := int64(k>>29&m), int64(k&m)
		if x > m/2 {
			x -= m + 1
		}
		if y > m/2 {
			y -= m + 1
		}
		if x >= x0 && x <= x1 && y >= y0 && y <= y1 {
			g.list(at, visit)
		}
	}
}
