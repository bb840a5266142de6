package jig

import (
	"sync"

	"starwright/geom"
)

// wood is what a jig is made of, its edges looked up once for many questions.
type wood struct {
	outline geom.Contour
	holes   []geom.Contour
	edges   []rim
}

// rim is a piece of an edge with its box.
type rim struct {
	geom.Curve
	box geom.Box
}

func newWood(outline geom.Contour, holes []Hole) *wood {
	n := len(outline)
	for _, h := range holes {
		n += len(h.Contour)
	}
	w := &wood{outline: outline, holes: make([]geom.Contour, 0, len(holes)), edges: make([]rim, 0, n)}
	add := func(c geom.Contour) {
		for i := range c {
			e := c.Curve(i)
			w.edges = append(w.edges, rim{e, e.Bounds()})
		}
	}
	add(outline)
	for _, h := range holes {
		w.holes = append(w.holes, h.Contour)
		add(h.Contour)
	}
	return w
}

// holds reports whether a shape lies in the wood, clear of every edge by margin
// mm.
func (w *wood) holds(shape geom.Contour, margin float64) bool {
	return w.clear(shape, margin) && w.around(shape)
}

// around is [wood.holds] for a shape that is known to cross no edge.
func (w *wood) around(shape geom.Contour) bool {
	if !w.outline.Contains(shape[0].Point) {
		return false
	}
	for _, h := range w.holes {
		if h.Contains(shape[0].Point) || shape.Contains(h[0].Point) {
			return false
		}
	}
	return true
}

// clear reports whether a shape's line keeps off every edge by at least d mm.
func (w *wood) clear(shape geom.Contour, d float64) bool {
	for k := range shape {
		e := shape.Curve(k)
		near := e.Bounds().Grow(d)
		for i := range w.edges {
			if f := &w.edges[i]; near.Overlaps(f.box) && geom.CurveDist(e, f.Curve) < d {
				return false
			}
		}
	}
	return true
}

// within returns how far p is from an edge that is nearer than d mm, and false where
// none is.
func (w *wood) within(p geom.Point, d float64) (float64, bool) {
	for i := range w.edges {
		f := &w.edges[i]
		dx, dy := beyond(f.box.Min.X, f.box.Max.X, p.X), beyond(f.box.Min.Y, f.box.Max.Y, p.Y)
		if dx*dx+dy*dy < d*d {
			if off := f.DistTo(p); off < d {
				return off, true
			}
		}
	}
	return 0, false
}

// beyond is how far x lies beyond what runs from low to high, 0 within it.
func beyond(low, high, x float64) float64 {
	switch {
	case x < low:
		return low - x
	case x > high:
		return x - high
	}
	return 0
}

// seeker looks for room in the wood, near a place.
type seeker struct {
	wood *wood
	box  geom.Box
	near geom.Point
	// grid is all places: at its front those that were not tried, as a heap with the
	// nearest on top, and behind them those that were, the first of them last. Most
	// searches end after a few of a thousand, so that sorting all of them took longer
	// than what was done with them.
	grid    *places
	untried int
}

// place is the number of a place, see [seeker.at].
type place struct {
	// far is how far it lies from the one wanted, mm; once it was tried, how far from
	// an edge that is too near to it, below 0 where none is known.
	far  float64
	turn int32
}

// places is one for each point of the grid and the place wanted. They go from one
// search to the next.
type places [(seekSteps-1)*(seekSteps-1) + 1]place

var grids = sync.Pool{New: func() any { return new(places) }}

func (p place) before(q place) bool { return p.far < q.far || p.far == q.far && p.turn < q.turn }

// sink moves a place down the heap until it lies above none nearer.
func sink(p []place, i int) {
	one := p[i]
	for {
		k := 2*i + 1
		if k >= len(p) {
			break
		}
		if k+1 < len(p) && p[k+1].before(p[k]) {
			k++
		}
		if !p[k].before(one) {
			break
		}
		p[i], i = p[k], k
	}
	p[i] = one
}

// heapify makes a heap of places in any order.
func heapify(p []place) {
	for i := len(p)/2 - 1; i >= 0; i-- {
		sink(p, i)
	}
}

// seekSteps is into how many steps either side of the outline's box is divided for
// the grid of places.
const seekSteps = 32

// newSeeker prepares the places to try: the one wanted, then the points of a
// grid over the outline, by their distance from it. It is to be given back by
// [seeker.free].
func newSeeker(w *wood, near geom.Point) *seeker {
	s := &seeker{wood: w, box: w.outline.Bounds(), near: near, grid: grids.Get().(*places)}
	s.grid[0] = place{-1, 0}
	for i := range s.grid[1:] {
		turn := int32(i + 1)
		s.grid[turn] = place{s.at(turn).Dist(near), turn}
	}
	heapify(s.grid[:])
	s.untried = len(s.grid)
	return s
}

func (s *seeker) free() { grids.Put(s.grid) }

// at is the place of a number: 0 is the one wanted, then the grid, column by column.
func (s *seeker) at(turn int32) geom.Point {
	if turn == 0 {
		return s.near
	}
	i, k := (turn-1)/(seekSteps-1)+1, (turn-1)%(seekSteps-1)+1
	return geom.Pt(s.box.Min.X+s.box.W()*float64(i)/seekSteps, s.box.Min.Y+s.box.H()*float64(k)/seekSteps)
}

// place returns the i-th place, nil behind the last.
func (s *seeker) place(i int) *place {
	at := len(s.grid) - 1 - i
	if at < 0 {
		return nil
	}
	if at < s.untried { // the next one
		top := s.grid[0]
		s.untried--
		if s.grid[0] = s.grid[at]; at > 0 {
			sink(s.grid[:at], 0)
		}
		s.grid[at] = place{-1, top.turn}
	}
	return &s.grid[at]
}

// spot returns the first place at which a shape, drawn round the origin, lies
// in the wood clear of every edge by margin mm; false where there is none.
func (s *seeker) spot(shape geom.Contour, margin float64) (geom.Point, bool) {
	size, girth := shape.Bounds(), shape.DistTo(geom.Point{})
	for i := 0; ; i++ {
		p := s.place(i)
		if p == nil {
			return geom.Point{}, false
		}
		at := s.at(p.turn)
		if !s.box.Holds(geom.Box{Min: size.Min.Add(at), Max: size.Max.Add(at)}) {
			continue
		}
		// An edge nearer to the middle than the shape's own line crosses it.
		if p.far >= 0 && p.far < girth {
			continue
		}
		if off, ok := s.wood.within(at, girth); ok {
			p.far = off
			continue
		}
		if s.wood.holds(geom.Place{Move: at}.Contour(shape), margin) {
			return at, true
		}
	}
}
