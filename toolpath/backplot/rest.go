package backplot

import (
	"fmt"
	"math"
	"math/bits"

	"starwright/geom"
)

// rest looks for wood left standing in a pocket.
func (r *Replay) rest(p *pocket) {
	g := contourRegion(p.Outline)
	stands := func(grow, lift float64) bool {
		_, ok := r.field.standing(g, -p.Depth+lift, grow)
		return ok
	}
	if !stands(0, 0) {
		return
	}
	// What the file leaves by rounding: the least growth at which nothing
	// stands, with the floor forgiven Tol and the other way round.
	side := bisect(Tol, func(v float64) bool { return !stands(v, Tol) })
	floor := bisect(Tol, func(v float64) bool { return !stands(Tol, v) })
	r.standing = max(r.standing, min(side, Tol), min(floor, Tol))
	piece, ok := r.field.standing(g, -p.Depth+Tol, Tol)
	if !ok {
		return
	}
	// Wood stands: measure how much, by growing the cut until none does.
	far := p.Outline.Bounds()
	side = bisect(math.Hypot(far.W(), far.H()), func(v float64) bool { return !stands(v, Tol) })
	floor = bisect(p.Depth, func(v float64) bool { return !stands(Tol, v) })
	by := min(side, floor)
	r.standing = max(r.standing, by)
	at := piece.At(0.5)
	line := 0
	// Of the cuts that reach the floor, the nearest should have taken the
	// wood; failing any, the deepest.
	for _, z := range [3]float64{-p.Depth + Tol, -p.Depth + floor + Tol, 0} {
		if s := r.field.nearest(at, math.Hypot(far.W(), far.H()), z); s != nil {
			line = int(s.line)
			break
		}
	}
	what := fmt.Sprintf("%.3m of wood left standing in the %s (limit %.3f)", r.in(by), p.Name, r.in(Tol))
	wood := fmt.Sprintf("the %s is %.2m short at X %.1f Y %.1f", p.Name, r.in(side), r.in(at.X), r.in(at.Y))
	if floor < side {
		wood = fmt.Sprintf("the %s is %.2m too shallow at X %.1f Y %.1f", p.Name, r.in(floor), r.in(at.X), r.in(at.Y))
	}
	r.find(line, "standing", what, by, geom.Point3{X: at.X, Y: at.Y, Z: -p.Depth}, wood)
}

// bisect returns the least v in [0, most] for which ok holds, to a hundredth
// of Tol or a ten-thousandth of most, whichever is larger; ok must not turn
// false as v grows. Where ok never holds it returns most and a little.
func bisect(most float64, ok func(float64) bool) float64 {
	if ok(0) {
		return 0
	}
	if !ok(most) {
		return most * 1.001
	}
	lo, hi := 0.0, most
	for hi-lo > max(Tol/100, most/10000) {
		mid := (lo + hi) / 2
		if ok(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

// fingerprint is a number that two fields share where they hold the same
// sweeps in the same order, and else by an accident of one in 2^64.
func (f *field) fingerprint() uint64 {
	h := uint64(f.store.n)
	mix := func(v float64) {
		h = bits.RotateLeft64(h^math.Float64bits(v)*0x9E3779B97F4A7C15, 27) * 0xBF58476D1CE4E5B9
	}
	for i := range int32(f.store.n) {
		s := f.store.at(i)
		for _, v := range [7]float64{s.axis.A.X, s.axis.A.Y, s.axis.B.X, s.axis.B.Y, s.axis.Bulge, s.zA, s.zB} {
			mix(v)
		}
	}
	return h
}
