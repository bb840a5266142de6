package planner

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"

	"starwright/geom"
	"starwright/toolpath"
)

// Tolerances of the offset, in mm.
const (
	// keepTol is how much nearer than the radius a piece of the way may come
	// to the contour and still count as rolling on it: ten times what
	// intersections are accurate to, a ten-thousandth of what a machine does.
	keepTol = 1e-6

	// chainTol is how far apart two ends may lie and still be one place of the
	// way. Where a corner turns by a rounding error only, ends differ by less.
	chainTol = 1e-5

	// reachTol is how much of an inside corner the cutter may leave before the
	// corner counts as out of its reach: half of what the back-plot allows.
	reachTol = 0.005
)

// Way is the closed way of the centre of a disc that rolls round a contour.
type Way struct {
	// Loops are the ways, arcs kept as arcs. One that rolls round the outside
	// runs counter-clockwise, one inside clockwise: either way the contour's
	// wood is on the left, which is conventional cutting with the spindle
	// turning clockwise.
	Loops []geom.Contour
	// Missed are places of the contour that the disc does not touch because
	// it is too large, the worst of each stretch.
	Missed []Miss
}

// Miss is a place of a contour out of a disc's reach.
type Miss struct {
	At geom.Point
	By float64 // mm from the contour to the nearest place the disc reaches
}

// OffsetOut returns the way of a disc of radius r mm that rolls round the
// outside of c. Every point of it is r from c, to a millionth of a mm, and no
// part of c is nearer.
func OffsetOut(c geom.Contour, r float64) (Way, error) { return roll(c.CCW(), r) }

// OffsetIn returns the way of a disc of radius r mm that rolls round the inside
// of c. There are no loops where the disc does not fit, and several where it
// does not pass a neck.
func OffsetIn(c geom.Contour, r float64) (Way, error) { return roll(c.CCW().Reversed(), r) }

// LargestOut returns the radius in mm of the largest disc up to most that
// reaches every place of c from outside, to a hundredth of a mm; 0 where c has
// a sharp inside corner, which none reaches.
func LargestOut(c geom.Contour, most float64) float64 { return largest(c.CCW(), most) }

// LargestIn is LargestOut from within c.
func LargestIn(c geom.Contour, most float64) float64 { return largest(c.CCW().Reversed(), most) }

func largest(c geom.Contour, most float64) float64 {
	fits := func(r float64) bool {
		w, err := roll(c, r)
		return err == nil && len(w.Missed) == 0 && len(w.Loops) > 0
	}
	const least, fine = 0.1, 0.01 // mm: no router cutter is thinner than 0.2
	if fits(most) {
		return most
	}
	if !fits(least) {
		return 0
	}
	lo, hi := least, most
	for hi-lo > fine/2 {
		if mid := (lo + hi) / 2; fits(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	if up := math.Round(hi/fine) * fine; fits(up) {
		return up
	}
	return math.Floor(lo/fine) * fine
}

// KerfOutline returns the part as a beam of the given width (mm) has to be led
// for the part to come out to size: the outline grown and the cut-outs shrunk
// by half the kerf. Corners of the outline become round about the true corner,
// which leaves that corner sharp in the wood.
func KerfOutline(p toolpath.Part, kerf float64) (toolpath.Part, error) {
	if math.IsNaN(kerf) || math.IsInf(kerf, 0) || kerf < 0 {
		return toolpath.Part{}, fmt.Errorf("kerf of %g mm: must be 0 or more", kerf)
	}
	if kerf == 0 {
		return p, nil
	}
	out := toolpath.Part{Name: p.Name, NoTab: p.NoTab}
	w, err := OffsetOut(p.Outline, kerf/2)
	if err != nil {
		return toolpath.Part{}, fmt.Errorf("%s: outline: %w", p.Name, err)
	}
	out.Outline = w.Loops[0]
	for i, h := range p.Holes {
		w, err := OffsetIn(h, kerf/2)
		if err != nil {
			return toolpath.Part{}, fmt.Errorf("%s: cut-out %d: %w", p.Name, i+1, err)
		}
		if len(w.Loops) != 1 {
			return toolpath.Part{}, fmt.Errorf("%s: cut-out %d is narrower than the kerf of %g mm", p.Name, i+1, kerf)
		}
		out.Holes = append(out.Holes, w.Loops[0].CCW())
	}
	return out, nil
}

// errWay is the error where a contour crosses itself or is no area.
var errWay = errors.New("the contour has no way round it; it crosses or touches itself")

// roll finds the way of a disc of radius r along the right side of c. Every
// piece of c gives its parallel, every corner that leaves a gap between two of
// them an arc round it. All these are cut where they meet, and what comes
// nearer to the contour than r is dropped: what stays is the way.
func roll(c geom.Contour, r float64) (Way, error) {
	g := rollings.Get().(*rolling)
	defer rollings.Put(g)
	loops, err := g.loops(c, r)
	if err != nil {
		return Way{}, err
	}
	w := Way{Loops: loops, Missed: g.missed(loops)}
	wholeFirst(w.Loops)
	return w, nil
}

// wholeFirst puts the loop round the whole first; others lie in its bays.
func wholeFirst(loops []geom.Contour) {
	for i, l := range loops {
		if math.Abs(l.Area()) > math.Abs(loops[0].Area()) {
			loops[0], loops[i] = loops[i], loops[0]
		}
	}
}

// loopsIn is the ways of [OffsetIn] alone: to look for what the disc misses takes as
// long as they do.
func loopsIn(c geom.Contour, r float64) ([]geom.Contour, error) {
	g := rollings.Get().(*rolling)
	defer rollings.Put(g)
	loops, err := g.loops(c.CCW().Reversed(), r)
	wholeFirst(loops)
	return loops, err
}

// loops is [roll] without what the disc misses.
func (g *rolling) loops(c geom.Contour, r float64) ([]geom.Contour, error) {
	if len(c) < 2 || !(r > 0) || math.IsInf(r, 0) {
		return nil, errWay
	}
	for _, v := range c {
		if !v.Finite() || math.IsNaN(v.Bulge) || math.IsInf(v.Bulge, 0) {
			return nil, errWay
		}
	}
	g.begin(c, r)
	g.raw()
	g.split()
	g.keep()
	g.prune()
	loops, ok := chain(g.pieces)
	if !ok || len(loops) == 0 && c.Area() > 0 {
		return nil, errWay
	}
	return loops, nil
}

// rolling is a contour with a disc to roll on its right side. Its memory goes from
// one contour to the next.
type rolling struct {
	src     []geom.Curve
	tree    geom.BoxTree
	r       float64
	reached [][]stretch // of each piece of the contour

	pieces, others []rolled // of the way so far, and room for what becomes of them
	ways           geom.BoxTree
	srcBoxes       []geom.Box
	wayBoxes       []geom.Box
	way            []geom.Curve
	cuts           []float64
}

var rollings = sync.Pool{New: func() any { return new(rolling) }}

// stretch is a part of a curve, in parts of its length.
type stretch struct{ from, to float64 }

// rolled is a piece of the way and the piece of contour it rolls on.
type rolled struct {
	geom.Curve
	src      int // -1 for an arc round a corner
	from, to float64
}

// begin takes up a contour.
func (g *rolling) begin(c geom.Contour, r float64) {
	g.r, g.src, g.srcBoxes = r, g.src[:0], g.srcBoxes[:0]
	for i := range c {
		e := c.Curve(i)
		if e.A == e.B {
			continue
		}
		// An arc that leaves its chord by nothing is a line; as a circle of
		// astronomical radius it would only lose digits.
		if sagitta := math.Abs(e.Bulge) * e.A.Dist(e.B) / 2; sagitta < keepTol/10 {
			e.Bulge = 0
		}
		g.src, g.srcBoxes = append(g.src, e), append(g.srcBoxes, e.Bounds())
	}
	g.tree.Pack(g.srcBoxes)
	g.reached = slices.Grow(g.reached[:0], len(g.src))[:len(g.src)]
	for i := range g.reached {
		g.reached[i] = g.reached[i][:0]
	}
}

// clear reports whether the disc centred at p cuts into nothing.
func (g *rolling) clear(p geom.Point) bool {
	ok := true
	g.tree.Each(geom.EmptyBox().With(p).Grow(g.r), func(i int) bool {
		ok = g.src[i].DistTo(p) >= g.r-keepTol
		return ok
	})
	return ok
}

// raw begins the way with the parallels of all pieces and the arcs round all corners.
func (g *rolling) raw() {
	out, n := g.pieces[:0], len(g.src)
	for i, e := range g.src {
		if p, ok := g.parallel(e); ok {
			out = append(out, rolled{p, i, 0, 1})
		} else if o := e.Center(); math.Abs(e.Radius()-g.r) <= keepTol && g.clear(o) {
			// The disc just fits into the hollow: it touches all of it from
			// one place.
			g.reached[i] = append(g.reached[i], stretch{0, 1})
		}
		a, b := endDir(e), startDir(g.src[(i+1)%n])
		turn := math.Atan2(a.Cross(b), a.Dot(b))
		// A corner that turns right needs no arc; one that turns right back
		// on itself may count as either and gets one.
		const back = -math.Pi + geom.Rounding
		if turn > back && turn*g.r < chainTol/2 {
			continue
		}
		turn = math.Abs(turn)
		from, to := e.B.Sub(a.Left().Mul(g.r)), e.B.Sub(b.Left().Mul(g.r))
		out = append(out, rolled{geom.Curve{A: from, B: to, Bulge: math.Tan(turn / 4)}, -1, 0, 1})
	}
	g.pieces = out
}

// parallel returns the curve at distance r on the right of e; none where e is
// a hollow that the disc does not fit into, or just fits.
func (g *rolling) parallel(e geom.Curve) (geom.Curve, bool) {
	a, b := startDir(e).Left().Mul(g.r), endDir(e).Left().Mul(g.r)
	if e.Bulge < 0 && e.Radius()-g.r <= keepTol {
		return geom.Curve{}, false
	}
	return geom.Curve{A: e.A.Sub(a), B: e.B.Sub(b), Bulge: e.Bulge}, true
}

// startDir and endDir are the unit directions in which a curve leaves its
// first and reaches its last point.
func startDir(e geom.Curve) geom.Point { return turned(e.B.Sub(e.A).Unit(), -e.Sweep()/2) }

func endDir(e geom.Curve) geom.Point { return turned(e.B.Sub(e.A).Unit(), e.Sweep()/2) }

func turned(p geom.Point, a geom.Angle) geom.Point {
	if a == 0 {
		return p
	}
	return geom.Place{Turn: a}.Point(p)
}
