package backplot

import (
	"math"

	"starwright/geom"
)

// field is all that the cutter has swept so far below the wood's surface,
// filed by place.
type field struct {
	r     float64 // cutter radius, mm
	store store
	where grid
	same  axes
	stamp uint32
	own   *sweep // counts as cut too, though not filed: the way of a move so far
	last  *sweep // the one filed last, nil before the first
	seen  seen

	found  []int32 // of the last search
	looked int     // at so many sweeps in all searches
	spans  [2][]span
	ts     []float64
}

// newField returns an empty field for a cutter of radius r.
func newField(r float64) *field { return &field{r: r, where: newGrid(r)} }

// reset empties the field for new wood.
func (f *field) reset() {
	f.store.reset()
	f.where.reset()
	f.same.reset()
	f.stamp, f.last, f.seen = 0, nil, seen{}
}

// add files a sweep. Sweeps wholly above the surface are left out. Of two
// sweeps along the same way the one that is nowhere deeper is left out, or its
// place is taken: it can change no answer. old is the last sweep along the very
// axis, as retraced gives it.
func (f *field) add(s sweep, old *sweep) {
	if s.low() >= 0 {
		return
	}
	s.stamp = 0
	if isPoint(s.axis) { // up or down: what it leaves is as deep as its lower end
		s.zA, s.zB = s.low(), s.low()
	}
	if old != nil {
		zA, zB := old.along(s.axis)
		switch {
		case s.zA >= zA && s.zB >= zB:
			return
		case s.zA <= zA && s.zB <= zB:
			*old, f.last = s, old
			return
		}
	}
	i := f.store.add(s)
	f.last = f.store.at(i)
	if old != nil {
		old.newer = true
	}
	f.seen.known = false
	f.same.set(i, &f.store)
	f.where.file(s.axis, i)
}

// seen is what was last asked for by its axis, and the answer.
type seen struct {
	axis  geom.Curve
	n     int32 // of the sweep found, or of the last one that was found
	found bool
	known bool // the axis was asked for, and nothing was filed since
}

// retraced returns the last sweep along the very axis, in either direction. A
// pass that goes over short lines again meets the sweeps of the one before in
// turn, so that the neighbours of the last one found are looked at before the
// table is: they lie in the processor's cache, and their places in the table do
// not.
func (f *field) retraced(axis *geom.Curve) *sweep {
	a := &f.seen
	if !a.known || a.axis != *axis {
		a.axis, a.known = *axis, true
		a.found = f.retraces(a.n+1, axis) || f.retraces(a.n-1, axis) || f.retraces(a.n, axis)
		if !a.found {
			if i := f.same.find(axis, &f.store); i >= 0 {
				a.n, a.found = i, true
			}
		}
	}
	if !a.found {
		return nil
	}
	return f.store.at(a.n)
}

// unseen takes in that no sweep has that axis, as retraced would find.
func (f *field) unseen(axis *geom.Curve) {
	f.seen.axis, f.seen.known, f.seen.found = *axis, true, false
}

// retraces reports whether sweep n is the last one along an axis, and notes it as
// found if so.
func (f *field) retraces(n int32, axis *geom.Curve) bool {
	if n < 0 || int(n) >= f.store.n {
		return false
	}
	s := f.store.at(n)
	if s.newer || !sameAxis(&s.axis, axis) {
		return false
	}
	f.seen.n = n
	return true
}

// gather collects the sweeps whose axes may come within reach of the curve.
func (f *field) gather(c geom.Curve, reach float64) {
	f.stamp++
	f.found = f.found[:0]
	f.where.along(c, reach, f.collect)
	f.looked += len(f.found)
}

// gatherBox collects the sweeps whose axes may come within the box.
func (f *field) gatherBox(b geom.Box) {
	f.stamp++
	f.found = f.found[:0]
	f.where.within(b, f.collect)
	f.looked += len(f.found)
}

// collect adds a sweep to those found, once a search.
func (f *field) collect(i int32) {
	if s := f.store.at(i); s.stamp != f.stamp {
		s.stamp = f.stamp
		f.found = append(f.found, i)
	}
}

// open returns the spans of the curve that lie farther than r from every axis
// at or below z. They are good until the next call.
func (f *field) open(c geom.Curve, r, z float64) []span {
	if f.justCovers(c, r, z) {
		return nil
	}
	left := append(f.spans[0][:0], span{0, 1})
	f.spans[0] = left
	q, ready, turn := query{}, false, 0
	box := roomBox(c).Grow(r + coverSlack)
	visit := func(axis geom.Curve) bool { // reports whether the curve is covered
		if ready && q.misses(axis, r, left) {
			return false
		}
		if !roomBox(axis).Overlaps(box) {
			return false
		}
		if coversLine(axis, c, r) {
			return true
		}
		if !ready {
			q, ready = newQuery(c), true
		}
		if q.passes(axis, r, left) {
			return false
		}
		turn = 1 - turn
		f.ts = q.crossSwept(f.ts[:0], axis, r)
		f.spans[turn] = q.subtract(f.spans[turn][:0], f.ts, left, axis, r)
		left = f.spans[turn]
		return len(left) == 0
	}
	if f.own != nil {
		if axis, ok := f.own.below(z); ok && visit(axis) {
			return nil
		}
	}
	f.gather(c, r+coverSlack)
	stride := 1
	if len(f.found) > manyFound {
		stride = foundStride
	}
	for first := range stride {
		for k := first; k < len(f.found); k += stride {
			if axis, ok := f.store.at(f.found[k]).below(z); ok && visit(axis) {
				return nil
			}
		}
	}
	return left
}

// Cuts are found in the order of the way. Where there are many, as of short lines
// one behind the other, every so manieth is asked first: those leave little to the
// ones between, which are passed over by their shadows.
const (
	manyFound   = 64
	foundStride = 16
)

// coversLine reports whether a straight curve lies in the disc of radius r swept
// along a straight axis, which it does where its ends do: that area is convex.
func coversLine(axis, c geom.Curve, r float64) bool {
	return c.Bulge == 0 && axis.Bulge == 0 && dist2(axis.A, axis.B, c.A) <= r*r && dist2(axis.A, axis.B, c.B) <= r*r
}

// justCovers reports whether the cut before covers a curve by itself. Of short
// lines in a row it mostly does, and nothing needs to be searched for: a sheet in
// lines of 0.02 mm is judged in two thirds of the time.
func (f *field) justCovers(c geom.Curve, r, z float64) bool {
	if f.last == nil || c.Bulge != 0 {
		return false
	}
	axis, ok := f.last.below(z)
	return ok && coversLine(axis, c, r)
}

// axesIn returns the axes at or below z whose discs of radius r touch the box.
func (f *field) axesIn(b geom.Box, r, z float64) []geom.Curve {
	var out []geom.Curve
	b = b.Grow(r + coverSlack)
	f.gatherBox(b)
	keep := func(s *sweep) {
		if axis, ok := s.below(z); ok && roomBox(axis).Overlaps(b) {
			out = append(out, axis)
		}
	}
	for _, i := range f.found {
		keep(f.store.at(i))
	}
	if f.own != nil {
		keep(f.own)
	}
	return out
}

// nearest returns the sweep whose axis at or below z passes nearest to p within
// reach, the deepest of those that are alike; nil where there is none.
func (f *field) nearest(p geom.Point, reach, z float64) *sweep {
	const alike = 0.002 // mm
	var best *sweep
	bestDist := math.Inf(1)
	f.gather(geom.Curve{A: p, B: p}, reach)
	for _, i := range f.found {
		s := f.store.at(i)
		axis, ok := s.below(z)
		if !ok {
			continue
		}
		d := distTo(axis, p)
		if d > reach {
			continue
		}
		closer := d < bestDist-alike
		level := d < bestDist+alike
		if best == nil || closer || level && (s.low() < best.low()-zSlack || s.low() < best.low()+zSlack && s.line < best.line) {
			best, bestDist = s, min(d, bestDist)
		}
	}
	return best
}
