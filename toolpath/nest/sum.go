package nest

import (
	"sync/atomic"

	"starwright/geom"
)

// sum is what the lower left of a piece of a turned part may not enter because of a
// piece of another: their Minkowski sum. Its corners are worked out when the first
// line is laid across it, which for two in five never happens: most parts lie
// beside most others, and the box says so.
type sum struct {
	a, b *hull
	box  geom.Box
	made atomic.Pointer[hull]
}

// hull is the sum with its corners.
func (s *sum) hull(m *memory) *hull {
	if h := s.made.Load(); h != nil {
		return h
	}
	return s.work(m)
}

// work works the corners out. Where two lines of tries ask at once, both do, to the
// same.
func (s *sum) work(m *memory) *hull {
	h := &m.hulls.take(1)[0]
	*h = s.a.plus(s.b, m.points.take(len(s.a.pts)+len(s.b.pts)))
	s.made.Store(h)
	return h
}

// between is the shapes that keep two turned parts apart, and the box round them all.
type between struct {
	box  geom.Box
	sums []sum
}

func newBetween(from, to []hull, m *memory) *between {
	b := &m.betweens.take(1)[0]
	b.box, b.sums = geom.EmptyBox(), m.sums.take(len(from)*len(to))
	for i := range b.sums {
		one := &b.sums[i]
		one.a, one.b = &from[i/len(to)], &to[i%len(to)]
		one.box = boxOfSum(one.a, one.b)
		one.made.Store(nil)
		b.box = b.box.Union(one.box)
	}
	return b
}

// table is what keeps turned parts apart, by the kinds of the one that lies and of the
// one that comes. All lines of tries share it: what it holds does not depend on which
// line asks first. Few kinds ever lie, so that it has a row for those alone.
type table []atomic.Pointer[[]atomic.Pointer[between]]

// of is what keeps b off a, with a at the origin, spacing included.
func (t table) of(a, b *turned, m *memory) *between {
	row := t[a.kind].Load()
	if row == nil {
		made := make([]atomic.Pointer[between], len(t))
		t[a.kind].CompareAndSwap(nil, &made)
		row = t[a.kind].Load()
	}
	at := &(*row)[b.kind]
	out := at.Load()
	if out == nil {
		at.CompareAndSwap(nil, newBetween(a.grown, b.back, m))
		out = at.Load()
	}
	return out
}
