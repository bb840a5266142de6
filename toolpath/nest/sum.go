package nest

import (
	"sync"
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

// sums are the shapes that keep two turned parts apart, by their kinds. All
// lines of tries share them: they do not depend on which line asks first.
type sums struct {
	sync.Mutex
	of map[[2]int][]sum
}

// get returns what is kept under a key, made where it is missing.
func (s *sums) get(key [2]int, from, to []hull, m *memory) []sum {
	s.Lock()
	defer s.Unlock()
	out, ok := s.of[key]
	if !ok {
		out = m.sums.take(len(from) * len(to))
		for i := range out {
			one := &out[i]
			one.a, one.b = &from[i/len(to)], &to[i%len(to)]
			one.box = boxOfSum(one.a, one.b)
			one.made.Store(nil)
		}
		s.of[key] = out
	}
	return out
}

// outOfZones returns the shapes round the screw zones that the lower left of a
// turned part may not enter.
func (s *search) outOfZones(t *turned) []sum {
	return s.sums.get([2]int{-1, t.kind}, s.zones, t.back, s.memory)
}

// sum returns the shapes that the lower left of a turned part b may not enter
// when a lies at the origin, spacing included.
func (s *search) sum(a, b *turned) []sum {
	return s.sums.get([2]int{a.kind, b.kind}, a.grown, b.back, s.memory)
}
