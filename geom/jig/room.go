package jig

import (
	"math"

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

// toEdge returns the least distance from p to an edge, mm.
func (w *wood) toEdge(p geom.Point) float64 {
	d := math.Inf(1)
	for i := range w.edges {
		f := &w.edges[i]
		dx, dy := beyond(f.box.Min.X, f.box.Max.X, p.X), beyond(f.box.Min.Y, f.box.Max.Y, p.Y)
		if dx*dx+dy*dy < d*d {
			d = min(d, f.DistTo(p))
		}
	}
	return d
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
	wood  *wood
	box   geom.Box
	near  geom.Point
	spots []place // that were tried, nearest first; the place itself is the first
	rest  places  // that were not
}

// place is a point where a shape may go.
type place struct {
	at    geom.Point
	clear float64 // least distance to an edge, mm; below 0 not known yet
}

// places is a heap of places that were not tried, the nearest on top: most searches
// end after a few of a thousand, so that sorting all of them took longer than what
// was done with them.
type places []untried

// untried is the number of a place, see [seeker.at], and how far it lies from the
// one wanted, mm.
type untried struct {
	off  float64
	turn int32
}

func (p untried) before(q untried) bool { return p.off < q.off || p.off == q.off && p.turn < q.turn }

// sink moves a place down the heap until it lies above none nearer.
func (p places) sink(i int) {
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
func (p places) heapify() {
	for i := len(p)/2 - 1; i >= 0; i-- {
		p.sink(i)
	}
}

// pop takes the nearest place.
func (p *places) pop() untried {
	h, n := *p, len(*p)-1
	top := h[0]
	h[0] = h[n]
	if *p = h[:n]; n > 0 {
		p.sink(0)
	}
	return top
}

// seekSteps is into how many steps either side of the outline's box is divided for
// the grid of places.
const seekSteps = 32

// newSeeker prepares the places to try: the one wanted, then the points of a
// grid over the outline, by their distance from it.
func newSeeker(w *wood, near geom.Point) *seeker {
	s := &seeker{wood: w, box: w.outline.Bounds(), near: near, rest: make(places, (seekSteps-1)*(seekSteps-1)+1)}
	s.rest[0] = untried{-1, 0}
	for i := 1; i < len(s.rest); i++ {
		turn := int32(i)
		s.rest[i] = untried{s.at(turn).Dist(near), turn}
	}
	s.rest.heapify()
	return s
}

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
	if i == len(s.spots) {
		if len(s.rest) == 0 {
			return nil
		}
		s.spots = append(s.spots, place{s.at(s.rest.pop().turn), -1})
	}
	return &s.spots[i]
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
		if !s.box.Holds(geom.Box{Min: size.Min.Add(p.at), Max: size.Max.Add(p.at)}) {
			continue
		}
		if p.clear < 0 {
			p.clear = s.wood.toEdge(p.at)
		}
		// An edge nearer to the middle than the shape's own line crosses it.
		if p.clear < girth {
			continue
		}
		if s.wood.holds(geom.Place{Move: p.at}.Contour(shape), margin) {
			return p.at, true
		}
	}
}
