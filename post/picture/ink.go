package picture

import (
	"math"
	"slices"

	"starwright/geom"
)

// inkCell is the side (mm on the page) of the squares in which lines are
// looked up: about the height of a label.
const inkCell = 4.0

// ink knows where lines were drawn, so that labels can keep clear of them. It
// keeps the lines by the squares of a grid that they pass.
type ink struct {
	page geom.Box
	nx   int
	ny   int
	row  [][][]int32 // of squares, made where something is drawn
	segs []inkSeg
	last int32 // owner given out last
}

type inkSeg struct {
	a, b  geom.Point
	half  float64
	owner int32 // whose line it is, 0 for nobody's
}

func newInk(page geom.Box) *ink {
	k := &ink{page: page, nx: int(page.W()/inkCell) + 1, ny: int(page.H()/inkCell) + 1}
	k.row = make([][][]int32, k.ny)
	return k
}

// curve adds a piece of a line, arcs as chords.
func (k *ink) curve(c geom.Curve, half float64) {
	const tol = 0.1 // mm, far below the clearance of labels
	n := c.Chords(tol)
	a := c.A
	for i := 1; i <= n; i++ {
		b := c.At(float64(i) / float64(n))
		k.add(inkSeg{a, b, half, 0})
		a = b
	}
}

// newOwner returns a number for one whose text may stand on its own line.
func (k *ink) newOwner() int32 {
	k.last++
	return k.last
}

// owned adds a thin straight line that does not hinder its owner's text.
func (k *ink) owned(a, b geom.Point, owner int32) { k.add(inkSeg{a, b, thin / 2, owner}) }

func (k *ink) add(s inkSeg) {
	a, b, half := s.a, s.b, s.half
	id := int32(len(k.segs))
	k.segs = append(k.segs, s)
	pieces := int(a.Dist(b)/inkCell) + 1
	p := a
	for i := 1; i <= pieces; i++ {
		q := a.Lerp(b, float64(i)/float64(pieces))
		box := geom.EmptyBox().With(p).With(q).Grow(half)
		k.cells(box, func(x, y int) bool {
			if k.row[y] == nil {
				k.row[y] = make([][]int32, k.nx)
			}
			if l := k.row[y][x]; len(l) == 0 || l[len(l)-1] != id {
				k.row[y][x] = append(l, id)
			}
			return true
		})
		p = q
	}
}

// at returns the lines that pass a square.
func (k *ink) at(x, y int) []int32 {
	if k.row[y] == nil {
		return nil
	}
	return k.row[y][x]
}

// cells calls yield for each square of the grid that the box touches.
func (k *ink) cells(b geom.Box, yield func(x, y int) bool) {
	x0, x1 := k.index(b.Min.X-k.page.Min.X, k.nx), k.index(b.Max.X-k.page.Min.X, k.nx)
	y0, y1 := k.index(b.Min.Y-k.page.Min.Y, k.ny), k.index(b.Max.Y-k.page.Min.Y, k.ny)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			if !yield(x, y) {
				return
			}
		}
	}
}

func (k *ink) index(d float64, n int) int {
	return int(math.Max(0, math.Min(float64(n-1), d/inkCell)))
}

// hits reports whether a line passes over the plate or too near to it.
func (k *ink) hits(p plate) bool { return k.hitsBut(p, -1) }

// hitsBut is hits with the lines of one owner left out.
func (k *ink) hitsBut(p plate, owner int32) bool {
	hit := false
	k.cells(p.bounds().Grow(clearLine), func(x, y int) bool {
		for _, id := range k.at(x, y) {
			s := k.segs[id]
			if s.owner != owner && p.meets(s.a, s.b, s.half+clearLine) {
				hit = true
				return false
			}
		}
		return true
	})
	return hit
}

// crossings counts the lines that the way from a to b crosses or runs along.
func (k *ink) crossings(a, b geom.Point) int {
	d := b.Sub(a)
	way := bar(a, b)
	if d == (geom.Point{}) {
		return 0
	}
	n := 0
	seen := make([]int32, 0, 64) // few lines run so near
	pieces := int(d.Len()/inkCell) + 1
	p := a
	for i := 1; i <= pieces; i++ {
		q := a.Lerp(b, float64(i)/float64(pieces))
		k.cells(geom.EmptyBox().With(p).With(q), func(x, y int) bool {
			for _, id := range k.at(x, y) {
				if s := &k.segs[id]; way.meets(s.a, s.b, s.half) && !slices.Contains(seen, id) {
					n++
					seen = append(seen, id)
				}
			}
			return true
		})
		p = q
	}
	return n
}
