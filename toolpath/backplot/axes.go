package backplot

import (
	"math"
	"math/bits"

	"starwright/geom"
)

// axes finds a sweep by its very axis. It is a table of hashes in which axes that
// lie close together stand in one window: short lines come one after the other along
// a way, and so their places lie in the processor's cache, as those of a table that
// scatters them do not. What finds its window full stands where its hash alone has
// it, so that no heap of axes in one spot makes a long row.
type axes struct {
	table []axisAt
	used  int
}

// axisAt is a place of the table: the number of a sweep and one, 0 where it is
// free, and its axis' hash, so that the sweeps of other axes are hardly ever
// fetched to be compared.
type axisAt struct {
	hash uint32
	n    int32
}

const (
	window    = 32    // places: four lines of a cache
	windowMM  = 0.125 // how close together the middles of axes are that share one
	axesLeast = 1 << 10
	axesGrow  = 4 // times as many places when half of them are taken; then all are entered again
)

func (a *axes) reset() {
	clear(a.table)
	a.used = 0
}

// hashAxis gives a curve and its reverse the same number.
func hashAxis(c *geom.Curve) uint32 {
	mix := func(p geom.Point) uint64 { // 0 is added since there is a minus 0
		h := math.Float64bits(p.X+0)*0x9E3779B97F4A7C15 ^ bits.RotateLeft64(math.Float64bits(p.Y+0)*0xC2B2AE3D27D4EB4F, 31)
		h ^= h >> 29
		return h * 0xBF58476D1CE4E5B9
	}
	h := mix(c.A) + mix(c.B) + math.Float64bits(math.Abs(c.Bulge))
	return uint32(h ^ h>>32)
}

// placeOf is a number that axes share whose middles are about so many mm apart, and
// an axis with its reverse.
func placeOf(c *geom.Curve, mm float64) uint64 {
	k := 0.5 / mm
	x, y := int64((c.A.X+c.B.X)*k), int64((c.A.Y+c.B.Y)*k)
	place := uint64(x)*0x9E3779B97F4A7C15 ^ uint64(y)*0xC2B2AE3D27D4EB4F
	return place ^ place>>32
}

// windowOf returns the first place of an axis' window.
func (a *axes) windowOf(c *geom.Curve) int {
	return int(placeOf(c, windowMM)&uint64(len(a.table)-1)) &^ (window - 1)
}

// find returns the number of the sweep with that axis in either direction, or
// -1.
func (a *axes) find(c *geom.Curve, s *store) int32 {
	if a.used == 0 {
		return -1
	}
	return a.place(c, hashAxis(c), s).n - 1
}

// set has the number of the stored sweep entered for its axis, in place of an
// earlier one.
func (a *axes) set(n int32, s *store) {
	if (a.used+1)*2 > len(a.table) {
		a.grow(s)
	}
	a.enter(n, s)
}

// enter is [axes.set] where there is room.
func (a *axes) enter(n int32, s *store) {
	c := &s.at(n).axis
	h := hashAxis(c)
	at := a.place(c, h, s)
	if at.n == 0 {
		a.used++
	}
	*at = axisAt{h, n + 1}
}

// grow makes the table larger and enters all sweeps again.
func (a *axes) grow(s *store) {
	a.table, a.used = make([]axisAt, max(axesLeast, axesGrow*len(a.table))), 0
	for n := range int32(s.n) {
		a.enter(n, s)
	}
}

// place returns where an axis of that hash stands in the table or would stand.
func (a *axes) place(c *geom.Curve, h uint32, s *store) *axisAt {
	first := a.windowOf(c)
	w := (*[window]axisAt)(a.table[first:])
	for i := range uint32(window) {
		at := &w[i]
		if at.n == 0 || at.hash == h && sameAxis(&s.at(at.n-1).axis, c) {
			return at
		}
	}
	mask := uint32(len(a.table) - 1)
	for i := h & mask; ; i = (i + 1) & mask {
		at := &a.table[i]
		if at.n == 0 || at.hash == h && sameAxis(&s.at(at.n-1).axis, c) {
			return at
		}
	}
}

func sameAxis(o, c *geom.Curve) bool {
	return o.A == c.A && o.B == c.B && o.Bulge == c.Bulge ||
		o.A == c.B && o.B == c.A && o.Bulge == -c.Bulge
}
