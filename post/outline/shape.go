package outline

import (
	"math"

	"starwright/geom"
)

const (
	// samples is at how many places along each piece the distance to the
	// other contour is measured. Between a line and a line the distance is
	// largest at an end; with arcs it may be largest in the middle.
	samples = 8
	// maxWork bounds the distances that are worked out for one file, a few
	// seconds' worth. An honest file needs a thousandth of it.
	maxWork = 50_000_000
)

// work counts down the distances that may still be worked out.
type work int

// spend takes n of them and reports whether there were as many.
func (w *work) spend(n int) bool {
	*w -= work(min(n, maxWork))
	return *w >= 0
}

// sameShape reports whether two contours run along the same line within tol
// (mm), whatever vertex they start from, which way round they run, and into
// how many pieces they are cut; and how far they are apart at most.
func (w *work) sameShape(got, want geom.Contour, tol float64) (float64, bool) {
	if d, ok := w.sameCorners(got, want, tol); ok {
		return d, true
	}
	if gap(got.Bounds().Min, want.Bounds().Min) > tol || gap(got.Bounds().Max, want.Bounds().Max) > tol {
		return 0, false
	}
	d, _, ok := w.apart(got, want)
	return d, ok && d <= tol
}

// sameCorners is the quick way for contours of the same vertices.
func (w *work) sameCorners(got, want geom.Contour, tol float64) (float64, bool) {
	n := len(got)
	if n != len(want) || n == 0 {
		return 0, false
	}
	for s := range n {
		if gap(got[0].Point, want[s].Point) > tol {
			continue
		}
		for _, back := range [2]bool{false, true} {
			if !w.spend(n) {
				return 0, false
			}
			if d := cornersOff(got, want, position{s, back}, tol); d <= tol {
				return d, true
			}
		}
	}
	return 0, false
}

// position is how one contour is laid on another: its first vertex on the
// other's vertex shift, and whether it runs the other way.
type position struct {
	shift int
	back  bool
}

// edgeOf returns the piece of want that lies under piece i of the contour laid
// on it, run the same way as that.
func (p position) edgeOf(want geom.Contour, i int) geom.Curve {
	n := len(want)
	if !p.back {
		return want.Curve((i + p.shift) % n)
	}
	return want.Curve(((p.shift-i-1)%n + n) % n).Reversed()
}

// cornersOff returns the largest distance between the vertices, and between the
// middles of the arcs, of two contours in a position. It may stop once that is
// beyond limit.
func cornersOff(got, want geom.Contour, p position, limit float64) float64 {
	worst := 0.0
	for i := range got {
		w := p.edgeOf(want, i)
		worst = math.Max(worst, got[i].Dist(w.A))
		if got[i].Bulge != 0 || w.Bulge != 0 {
			worst = math.Max(worst, got.Curve(i).At(0.5).Dist(w.At(0.5)))
		}
		if !(worst <= limit) {
			return math.Inf(1)
		}
	}
	return worst
}

// bestPosition returns the position in which the vertices of two contours of
// the same count lie nearest to each other, by the sum of their distances.
func (w *work) bestPosition(got, want geom.Contour) (position, bool) {
	n := len(got)
	if n != len(want) || n > 10_000 || !w.spend(2*n*n) {
		return position{}, false
	}
	var best position
	least := math.Inf(1)
	for s := range n {
		for _, back := range [2]bool{false, true} {
			p := position{s, back}
			sum := 0.0
			for i := 0; i < n && sum < least; i++ {
				e, under := got.Curve(i), p.edgeOf(want, i)
				sum += e.A.Dist(under.A) + e.At(0.5).Dist(under.At(0.5))
			}
			if sum < least {
				best, least = p, sum
			}
		}
	}
	return best, !math.IsInf(least, 1)
}

// apart returns the largest distance from a place on either contour to the
// other, and where that place is; ok is false where that is too much work.
func (w *work) apart(a, b geom.Contour) (d float64, where geom.Point, ok bool) {
	if len(a) > maxWork || len(b) > maxWork || !w.spend(2*samples*len(a)*len(b)) {
		return 0, where, false
	}
	d, where = farthest(a, b)
	if e, q := farthest(b, a); e > d {
		d, where = e, q
	}
	return d, where, true
}

// farthest returns the place on a that is farthest from b.
func farthest(a, b geom.Contour) (float64, geom.Point) {
	pieces := b.Curves()
	worst, where := 0.0, geom.Point{}
	for i := range a {
		e := a.Curve(i)
		for k := range samples {
			p := e.At(float64(k) / samples)
			d := math.Inf(1)
			for _, q := range pieces {
				if d = math.Min(d, q.DistTo(p)); d <= worst {
					break
				}
			}
			if d > worst {
				worst, where = d, p
			}
		}
	}
	return worst, where
}
