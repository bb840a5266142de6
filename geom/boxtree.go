package geom

import (
	"cmp"
	"math"
	"slices"
)

// BoxTree finds, among many boxes, those that share a point with a given one,
// without looking at them all. It is an R-tree packed once by the
// sort-tile-recursive rule (Leutenegger, Lopez and Edgington, "STR: a simple
// and efficient algorithm for R-tree packing", ICDE 1997) and not changed.
type BoxTree struct {
	levels [][]node // the leaves' parents first, the root last
	items  []int32  // numbers of the boxes, in packing order
	boxes  []Box
}

type node struct {
	Box
	from, to int32 // children: items for the lowest level, else nodes below
}

// fanOut is how many children a node has: a cache line or two of boxes.
const fanOut = 16

// NewBoxTree packs the boxes. Empty ones, and ones whose corners are no
// numbers, are never found.
func NewBoxTree(boxes []Box) *BoxTree {
	t := &BoxTree{}
	t.Pack(boxes)
	return t
}

// Pack is [NewBoxTree] in the memory of a tree that is needed no more.
func (t *BoxTree) Pack(boxes []Box) {
	t.boxes, t.items = boxes, slices.Grow(t.items[:0], len(boxes))
	for i, b := range boxes {
		if b.Min.X <= b.Max.X && b.Min.Y <= b.Max.Y {
			t.items = append(t.items, int32(i))
		}
	}
	byX := func(i, j int32) int {
		return before(boxes[i].Min.X+boxes[i].Max.X, boxes[j].Min.X+boxes[j].Max.X, i, j)
	}
	byY := func(i, j int32) int {
		return before(boxes[i].Min.Y+boxes[i].Max.Y, boxes[j].Min.Y+boxes[j].Max.Y, i, j)
	}
	slices.SortFunc(t.items, byX)
	leaves := math.Ceil(float64(len(t.items)) / fanOut)
	slice := fanOut * max(1, int(math.Ceil(math.Sqrt(leaves))))
	for from := 0; from < len(t.items); from += slice {
		slices.SortFunc(t.items[from:min(from+slice, len(t.items))], byY)
	}
	t.pack()
}

// before compares by a measure, and where that is the same by number.
func before(a, b float64, i, j int32) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return cmp.Or(cmp.Compare(a, b), cmp.Compare(i, j)) // no numbers come first
}

func (t *BoxTree) pack() {
	had := t.levels[:cap(t.levels)] // whose memory is taken again
	t.levels = t.levels[:0]
	n, box := len(t.items), func(i int) Box { return t.boxes[t.items[i]] }
	for n > 0 {
		var level []node
		if k := len(t.levels); k < len(had) {
			level = had[k][:0]
		}
		level = slices.Grow(level, (n+fanOut-1)/fanOut)
		for from := 0; from < n; from += fanOut {
			nd := node{EmptyBox(), int32(from), int32(min(from+fanOut, n))}
			for i := nd.from; i < nd.to; i++ {
				nd.Box = nd.Box.Union(box(int(i)))
			}
			level = append(level, nd)
		}
		t.levels = append(t.levels, level)
		n, box = len(level), func(i int) Box { return level[i].Box }
		if n == 1 {
			return
		}
	}
}

// Each calls yield with the number of every box that shares a point with b, in
// an order that depends on the boxes alone, until yield returns false.
func (t *BoxTree) Each(b Box, yield func(i int) bool) {
	if top := len(t.levels) - 1; top >= 0 {
		t.each(top, 0, b, yield)
	}
}

func (t *BoxTree) each(level int, at int32, b Box, yield func(i int) bool) bool {
	nd := t.levels[level][at]
	if !nd.Overlaps(b) {
		return true
	}
	for i := nd.from; i < nd.to; i++ {
		if level > 0 {
			if !t.each(level-1, i, b, yield) {
				return false
			}
		} else if k := int(t.items[i]); t.boxes[k].Overlaps(b) && !yield(k) {
			return false
		}
	}
	return true
}
