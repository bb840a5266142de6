package backplot

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/toolpath"
)

// outsideAt returns how far a disc of radius r about p reaches outside the
// outline; negative where it stays inside.
func outsideAt(outline geom.Contour, p geom.Point, r float64) float64 {
	d := outline.DistTo(p)
	if outline.Contains(p) {
		return r - d
	}
	return r + d
}

// outsideOf returns how far the disc of radius r swept along axis reaches
// outside the outline. Where the axis stays inside it is exact, from the least
// distance between curves; where it leaves, it is the largest of 65 samples,
// which is more than enough to condemn.
func outsideOf(outline geom.Contour, axis geom.Curve, r float64) float64 {
	out, inside := math.Inf(-1), true
	const samples = 64
	n := samples
	if isPoint(axis) {
		n = 1
	}
	for i := 0; i <= n; i++ {
		p := axis.At(float64(i) / float64(n))
		inside = inside && outline.Contains(p)
		out = math.Max(out, outsideAt(outline, p, r))
	}
	if !inside {
		return out
	}
	for _, e := range outline.Curves() {
		out = math.Max(out, r-geom.CurveDist(axis, e))
	}
	return out
}

// worst returns the first and last of 65 points along axis at which the
// measure exceeds Tol; the axis' ends where none does.
func worst(axis geom.Curve, measure func(geom.Point) float64) (from, to geom.Point) {
	from, to = axis.A, axis.B
	found := false
	const samples = 64
	for i := 0; i <= samples; i++ {
		p := axis.At(float64(i) / samples)
		if measure(p) > Tol {
			if !found {
				from, found = p, true
			}
			to = p
		}
	}
	return from, to
}

func fromTo(a, b geom.Point) string {
	if a.Dist(b) < 0.05 {
		return fmt.Sprintf("at X %.1f Y %.1f", a.X, a.Y)
	}
	if math.Abs(a.X-b.X) >= math.Abs(a.Y-b.Y) {
		return fmt.Sprintf("from X %.1f to %.1f", a.X, b.X)
	}
	return fmt.Sprintf("from Y %.1f to %.1f", a.Y, b.Y)
}

// rest looks for wood left standing in a pocket.
func (j *judge) rest(p *Pocket, moves []toolpath.Move) {
	g := contourRegion(p.Outline)
	all := len(j.field.sweeps)
	stands := func(grow, lift float64) []rest { return j.field.standing(g, -p.Depth+lift, grow, all) }
	// What the file leaves by rounding: the least growth at which nothing
	// stands, with the floor forgiven Tol and the other way round.
	side := bisect(Tol, func(v float64) bool { return len(stands(v, Tol)) == 0 })
	floor := bisect(Tol, func(v float64) bool { return len(stands(Tol, v)) == 0 })
	j.standing = math.Max(j.standing, math.Max(side, floor))
	if side <= Tol && floor <= Tol {
		return
	}
	pieces := stands(Tol, Tol)
	if len(pieces) == 0 {
		return
	}
	// Wood stands: measure how much, by growing the cut until none does.
	far := p.Outline.Bounds()
	side = bisect(math.Hypot(far.W(), far.H()), func(v float64) bool { return len(stands(v, Tol)) == 0 })
	floor = bisect(p.Depth, func(v float64) bool { return len(stands(Tol, v)) == 0 })
	by := math.Min(side, floor)
	j.standing = math.Max(j.standing, by)
	at := pieces[0].curve.At(0.5)
	m := j.nearest(at, p, moves)
	what := fmt.Sprintf("%.3f mm of wood left standing in the %s (limit %.3f)", by, p.Name, Tol)
	wood := fmt.Sprintf("the %s is %.2f mm short at X %.1f Y %.1f", p.Name, side, at.X, at.Y)
	if floor < side {
		wood = fmt.Sprintf("the %s is %.2f mm too shallow at X %.1f Y %.1f", p.Name, floor, at.X, at.Y)
	}
	j.find(m, "standing", what, by, geom.Point3{X: at.X, Y: at.Y, Z: -p.Depth}, wood)
}

// nearest returns the cut that should have taken the wood at a point of a
// pocket: of those that reach its floor, the one that comes nearest; failing
// any, the deepest.
func (j *judge) nearest(at geom.Point, p *Pocket, moves []toolpath.Move) toolpath.Move {
	best, bestDist := toolpath.Move{}, math.Inf(1)
	deepest, deepestZ := toolpath.Move{}, 0.0
	const alike = 0.002 // mm: the earlier of two equally near cuts is named
	for i, m := range moves {
		if !m.Cuts() {
			continue
		}
		if z := math.Min(m.From.Z, m.To.Z); z < deepestZ-zSlack {
			deepest, deepestZ = m, z
		}
		for _, s := range sweeps(m, i) {
			if axis, ok := s.below(-p.Depth + Tol); ok {
				if d := axis.DistTo(at); d < bestDist-alike {
					best, bestDist = m, d
				}
			}
		}
	}
	if math.IsInf(bestDist, 1) {
		return deepest
	}
	return best
}

// bisect returns the least v in [0, most] for which ok holds, to a thousandth
// of Tol or of most, whichever is larger; ok must not turn false as v grows.
// Where ok never holds it returns most and a little.
func bisect(most float64, ok func(float64) bool) float64 {
	if ok(0) {
		return 0
	}
	if !ok(most) {
		return most * 1.001
	}
	lo, hi := 0.0, most
	for hi-lo > math.Max(Tol/100, most/10000) {
		mid := (lo + hi) / 2
		if ok(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}
