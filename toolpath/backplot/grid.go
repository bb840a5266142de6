package backplot

import (
	"math"
	"math/bits"
	"slices"

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

// axes finds a sweep by its very axis. Most axes that are asked for were never
// there: a bit for each axis, those of axes close together side by side in the
// processor's cache, says so of nearly all. And most that are entered are not asked
// for soon: they are entered in lots, so that their places are fetched all at once.
// It halves the time that a first pass of short lines spends on its axes.
type axes struct {
	table []axisAt
	used  int
	known [][knownWords]uint64 // the bits of axes close together
	late  []axisAt             // known, and not entered yet
}

// axisAt is a place of the table: the number of a sweep and one, 0 where it is
// free, and its axis' hash, so that the sweeps of other axes are hardly ever
// fetched to be compared.
type axisAt struct {
	hash uint32
	n    int32
}

const (
	knownWords = 8    // of bits: a line of a cache
	knownEach  = 8    // bits for an axis at least
	knownGrow  = 4    // times as many when there are fewer; then all are set again
	knownMM    = 0.25 // how close together the middles of axes are whose bits stand side by side
	lateMost   = 256  // a lot
)

func (a *axes) reset() {
	clear(a.table)
	clear(a.known)
	a.used, a.late = 0, a.late[:0]
}

// hashAxis gives a curve and its reverse the same number.
func hashAxis(c geom.Curve) uint32 {
	mix := func(p geom.Point) uint64 {
		h := math.Float64bits(p.X)*0x9E3779B97F4A7C15 ^ bits.RotateLeft64(math.Float64bits(p.Y)*0xC2B2AE3D27D4EB4F, 31)
		h ^= h >> 29
		return h * 0xBF58476D1CE4E5B9
	}
	h := mix(c.A) + mix(c.B) + math.Float64bits(math.Abs(c.Bulge))
	return uint32(h ^ h>>32)
}

// bit returns where the bit of an axis of that hash stands, which is the same for
// its reverse.
func (a *axes) bit(c geom.Curve, h uint32) (word *uint64, bit uint64) {
	const k = 0.5 / knownMM
	x, y := int64((c.A.X+c.B.X)*k), int64((c.A.Y+c.B.Y)*k)
	place := uint64(x)*0x9E3779B97F4A7C15 ^ uint64(y)*0xC2B2AE3D27D4EB4F
	return &a.known[(place^place>>32)&uint64(len(a.known)-1)][h>>6%knownWords], 1 << (h % 64)
}

// find returns the number of the sweep with that axis in either direction, or
// -1.
func (a *axes) find(c geom.Curve, s *store) int32 {
	if a.known == nil {
		return -1
	}
	h := hashAxis(c)
	if word, bit := a.bit(c, h); *word&bit == 0 {
		return -1
	}
	if slices.ContainsFunc(a.late, func(v axisAt) bool { return v.hash == h }) {
		a.enter(s)
	}
	return a.table[a.slot(c, h, s)].n - 1
}

// set has the number of the stored sweep entered for its axis, in place of an
// earlier one.
func (a *axes) set(n int32, s *store) {
	if (a.used+len(a.late)+1)*2 > len(a.table) {
		a.grow()
	}
	if 64*knownWords*len(a.known) < knownEach*s.n {
		a.know(s)
	}
	c := s.at(n).axis
	h := hashAxis(c)
	word, bit := a.bit(c, h)
	*word |= bit
	if a.late = append(a.late, axisAt{h, n + 1}); len(a.late) == lateMost {
		a.enter(s)
	}
}

// enter enters what was not entered yet.
func (a *axes) enter(s *store) {
	for _, v := range a.late {
		i := a.slot(s.at(v.n-1).axis, v.hash, s)
		if a.table[i].n == 0 {
			a.used++
		}
		a.table[i] = v
	}
	a.late = a.late[:0]
}

// grow doubles the table.
func (a *axes) grow() {
	const least = 4 * lateMost
	old := a.table
	a.table = make([]axisAt, max(least, 2*len(old)))
	mask := uint32(len(a.table) - 1)
	for _, v := range old {
		if v.n == 0 {
			continue
		}
		i := v.hash & mask
		for a.table[i].n != 0 {
			i = (i + 1) & mask
		}
		a.table[i] = v
	}
}

// know makes room for more bits, and sets those of all sweeps.
func (a *axes) know(s *store) {
	const least = 16
	a.known = make([][knownWords]uint64, max(least, knownGrow*len(a.known)))
	for n := range int32(s.n) {
		c := s.at(n).axis
		word, bit := a.bit(c, hashAxis(c))
		*word |= bit
	}
}

// slot returns where an axis of that hash stands in the table or would stand.
func (a *axes) slot(c geom.Curve, h uint32, s *store) int {
	mask := uint32(len(a.table) - 1)
	i := h & mask
	for at := a.table[i]; at.n != 0 && (at.hash != h || !sameAxis(s.at(at.n-1).axis, c)); at = a.table[i] {
		i = (i + 1) & mask
	}
	return int(i)
}

func sameAxis(o, c geom.Curve) bool {
	return o == c || o.A == c.B && o.B == c.A && o.Bulge == -c.Bulge
}
