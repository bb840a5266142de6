package planner

import (
	"math"
	"slices"
	"sort"

	"starwright/geom"
)

// Tabs are the bridges that hold a part in its sheet.
type Tabs struct {
	Count  int     // on each outline
	Width  float64 // of the bridge where it is narrowest, mm
	Height float64 // from the sheet's underside, mm
}

// Tab is one bridge as it was placed.
type Tab struct {
	Part   string
	CutOut int        // number of the part's cut-out whose slug it holds, from 1; 0 where it holds the part
	At     geom.Point // middle of the bridge on the cutter's way, on the sheet
	Along  geom.Point // unit direction of the cut there
	Width  float64    // least width, mm
	Height float64    // mm
}

// Distances of tabs, in mm.
const (
	// tabSpare is added to a tab's width and height, so that rounding in a
	// file leaves at least what was asked for.
	tabSpare = 0.01

	// cornerLeast is the least distance of the cutter's lift from the end of
	// the straight run; a cutter's diameter is kept where there is room.
	cornerLeast = 1.0

	// seatLeast is the least distance of a tab's wood from a seat.
	seatLeast = 1.0

	// scrapLeast is the least width of scrap that a tab must be joined to: a
	// narrower strip between two cuts breaks, and where the cuts meet there
	// is none. No source; about a quarter of the usual sheet's thickness.
	scrapLeast = 3.0
)

// TabSpacing is the least distance between two parts, and the least margin to
// the sheet's edge less one cutter, at which tabs find scrap to hold on to
// wherever they are placed: a cut for each part and a strip between, mm.
func TabSpacing(cutter float64) float64 { return 2*cutter + scrapLeast }

// ground is what lies round a way that takes tabs.
type ground struct {
	r     float64      // of the cutter
	side  float64      // on which the scrap lies: 1 right of the way, -1 left
	seats []geom.Curve // of the part
	cuts  []geom.Curve // ways of all outlines on the sheet, this one's too
	tree  *geom.BoxTree
	edges []geom.Curve // of the sheet
}

// add adds the ways of a cut.
func (g *ground) add(op *operation) {
	for _, w := range op.Way {
		g.cuts = slices.Grow(g.cuts, len(w))
	}
	op.eachCurve(func(c geom.Curve) { g.cuts = append(g.cuts, c) })
}

// index makes the cuts ready to be found by place.
func (g *ground) index() {
	boxes := make([]geom.Box, len(g.cuts))
	for i, c := range g.cuts {
		boxes[i] = c.Bounds()
	}
	g.tree = geom.NewBoxTree(boxes)
}

// near calls visit for each cut that passes within the given distance of c.
func (g ground) near(c geom.Curve, within float64, visit func(geom.Curve)) {
	if g.tree == nil {
		return
	}
	g.tree.Each(c.Bounds().Grow(within), func(i int) bool {
		visit(g.cuts[i])
		return true
	})
}

// span is a range of lengths along a track.
type span struct{ from, to float64 }

func (s span) mid() float64 { return (s.from + s.to) / 2 }

// lift is the length of way over which the cutter is lifted for a tab: the
// tab's width and the cutter's radius at both ends.
func (t Tabs) lift(r float64) float64 { return t.Width + tabSpare + 2*r }

// placeTabs returns the middles of the tabs along the track, in order, on
// straight runs clear of corners, seats and other cuts, as evenly as those
// allow. Where they do not all fit it returns none and how many do.
func placeTabs(t track, g ground, tabs Tabs) (at []float64, room int) {
	r := g.r
	gap := tabs.lift(r) + 2*r // leaves at least a cutter's diameter cut between two
	for _, clear := range [3]float64{2 * r, r, cornerLeast} {
		runs := tabRuns(t, g, tabs, clear)
		room = tabRoom(runs, t.length, gap)
		if room < tabs.Count {
			continue
		}
		if at := spreadEvenly(runs, t.length, tabs.Count, gap); at != nil {
			return at, room
		}
		return spreadWidest(runs, t.length, tabs.Count, gap), room
	}
	return nil, room
}

// tabRuns returns where the middle of a tab may lie.
func tabRuns(t track, g ground, tabs Tabs, clear float64) []span {
	var out []span
	lift, wood := tabs.lift(g.r), tabs.Width+tabSpare
	for i, c := range t.curves {
		if c.IsArc() {
			continue
		}
		l, keep := t.along[i].length, lift/2+clear
		if l < 2*keep {
			continue
		}
		free := []span{{keep, l - keep}}
		drop := func(q geom.Curve, low, high, keep float64) {
			if q.IsArc() && beside(c, q, free, keep) {
				return
			}
			if s, ok := shadow(c, q, g.side, low, high); ok {
				free = without(free, span{s.from - keep, s.to + keep})
			}
		}
		for _, q := range g.seats {
			drop(q, -g.r-seatLeast, g.r+seatLeast, lift/2+seatLeast)
		}
		// The tab's wood is as wide as the tab, reaches across the cut and on
		// into the scrap: no other cut may touch it, and the sheet must go on. A
		// strip that is just as wide as it must be will do, whatever its rounding.
		const scrap = scrapLeast - geom.Touch
		g.near(c, 2*g.r+scrapLeast, func(q geom.Curve) {
			if !alongside(c, q) {
				drop(q, -2*g.r, 2*g.r+scrap, wood/2+g.r)
			}
		})
		for _, q := range g.edges {
			drop(q, -g.r, g.r+scrap, wood/2)
		}
		for _, f := range free {
			out = append(out, span{t.along[i].start + f.from, t.along[i].start + f.to})
		}
	}
	return out
}

// alongside reports whether q is the straight c itself.
func alongside(c, q geom.Curve) bool {
	return !q.IsArc() && c.DistTo(q.A) < minPiece && c.DistTo(q.B) < minPiece
}

// beside reports whether the shadow of an arc on the straight c, and keep mm at its
// ends, certainly touch no free place: to work it out takes long, and most arcs are
// corners beyond the ends.
func beside(c, q geom.Curve, free []span, keep float64) bool {
	at := q.Center().Sub(c.A).Dot(c.B.Sub(c.A).Unit())
	reach := q.Radius() + q.Length()/shadowTries + keep + slack
	for _, f := range free {
		if !(at+reach <= f.from || at-reach >= f.to) {
			return false
		}
	}
	return true
}

// shadowTries is at how many places an arc's shadow is looked at.
const shadowTries = 32

// shadow returns the lengths along the straight c beside which q lies in a
// band from low to high mm away, counted to the right of c for side 1.
func shadow(c, q geom.Curve, side, low, high float64) (span, bool) {
	dir := c.B.Sub(c.A).Unit()
	out := dir.Left().Mul(-side)
	s := span{math.Inf(1), math.Inf(-1)}
	take := func(t float64) {
		d := q.At(t).Sub(c.A).Dot(dir)
		s.from, s.to = min(s.from, d), max(s.to, d)
	}
	if !q.IsArc() {
		a, b := q.A.Sub(c.A).Dot(out), q.B.Sub(c.A).Dot(out)
		from, to := 0.0, 1.0
		if a != b {
			t, u := (low-a)/(b-a), (high-a)/(b-a)
			from, to = math.Max(from, math.Min(t, u)), math.Min(to, math.Max(t, u))
		} else if a < low || a > high {
			return s, false
		}
		if from > to {
			return s, false
		}
		take(from)
		take(to)
		return s, true
	}
	if a, r := q.Center().Sub(c.A).Dot(out), q.Radius(); a-r > high || a+r < low {
		return s, false
	}
	pad := q.Length() / shadowTries // what may lie between two tries
	path := q.Path()
	for k := 0; k <= shadowTries; k++ {
		p := path.At(float64(k) / shadowTries).Sub(c.A)
		if a := p.Dot(out); a >= low-pad && a <= high+pad {
			d := p.Dot(dir)
			s.from, s.to = min(s.from, d), max(s.to, d)
		}
	}
	return span{s.from - pad, s.to + pad}, s.from <= s.to
}

// without removes a range from ranges.
func without(free []span, cut span) []span {
	var out []span
	for _, f := range free {
		if cut.to <= f.from || cut.from >= f.to {
			out = append(out, f)
			continue
		}
		if cut.from > f.from {
			out = append(out, span{f.from, cut.from})
		}
		if cut.to < f.to {
			out = append(out, span{cut.to, f.to})
		}
	}
	return out
}

// after returns the first place of the runs at or after s, which may lie
// beyond the closing point; the runs are in order and not empty.
func after(runs []span, length, s float64) float64 {
	laps := math.Floor(s / length)
	s -= laps * length
	for _, r := range runs {
		if s <= r.to {
			return laps*length + math.Max(s, r.from)
		}
	}
	return (laps+1)*length + runs[0].from
}

// greedy places as many tabs as fit at least gap apart, the first at from.
func greedy(runs []span, length, from, gap float64) []float64 {
	out := []float64{from}
	for s := from; ; {
		s = after(runs, length, s+gap)
		if s > from+length-gap+geom.Rounding {
			return out
		}
		out = append(out, s)
	}
}

// tabRoom returns how many tabs fit at least gap apart.
func tabRoom(runs []span, length, gap float64) int {
	most := 0
	for _, r := range runs {
		most = max(most, len(greedy(runs, length, r.from, gap)))
	}
	return most
}

// spreadWidest returns n tabs as far apart as greedy placing finds, where even
// spreading failed; tabRoom has found room for n.
func spreadWidest(runs []span, length float64, n int, gap float64) []float64 {
	var best []float64
	lo, hi := gap, length/float64(n)
	for range 40 {
		for _, r := range runs {
			if at := greedy(runs, length, r.from, lo); len(at) >= n {
				best = at[:n]
				break
			}
		}
		mid := (lo + hi) / 2
		if tabRoom(runs, length, mid) >= n {
			lo = mid
		} else {
			hi = mid
		}
	}
	return wrapped(best, length)
}

func wrapped(at []float64, length float64) []float64 {
	out := make([]float64, len(at))
	for i, s := range at {
		out[i] = math.Mod(s, length)
	}
	slices.Sort(out)
	return out
}

// spreadEvenly tries evenly spaced places at many phases, moves each to the
// nearest allowed one, and returns those that had to move least and lie
// nearest to the middles of their runs; nil where two always come too near.
func spreadEvenly(runs []span, length float64, n int, gap float64) []float64 {
	const (
		phases    = 96
		midWeight = 0.1 // a tab's pull to the middle of its run, beside its pull to its even place
	)
	var best []float64
	bestCost := math.Inf(1)
	at := make([]float64, n)
	for k := 0; k < phases; k++ {
		cost := 0.0
		// A cost only grows, so that most phases are given up at their first tabs.
		for i := 0; i < n && cost < bestCost-geom.Rounding; i++ {
			even := (float64(i) + float64(k)/phases) * length / float64(n)
			if even >= length { // by a rounding
				even = math.Mod(even, length)
			}
			var moved, off float64
			at[i], moved, off = nearestPlace(runs, length, even)
			cost += moved*moved + midWeight*off*off
		}
		if cost < bestCost-geom.Rounding && apart(at, length, gap) {
			best, bestCost = append(best[:0], at...), cost
		}
	}
	return best
}

// apart puts places in order and reports whether each is at least gap from the next.
func apart(at []float64, length, gap float64) bool {
	slices.Sort(at)
	for i := range at {
		next := at[(i+1)%len(at)]
		if i == len(at)-1 {
			next += length
		}
		if !(next-at[i] >= gap) {
			return false
		}
	}
	return true
}

// nearestPlace returns the allowed place nearest to s, how far that is, and
// how far it is from the middle of its run. Runs lie in order and apart from one
// another, so that the nearest has s within or is next to it on either side.
func nearestPlace(runs []span, length, s float64) (at, moved, off float64) {
	behind := sort.Search(len(runs), func(i int) bool { return runs[i].to >= s }) // the first run that does not end before s
	if behind < len(runs) && runs[behind].from <= s {
		return s, 0, math.Abs(s - runs[behind].mid())
	}
	before := behind - 1
	switch {
	case behind == len(runs):
		behind = 0
	case before < 0:
		before = len(runs) - 1
	}
	first, second := min(before, behind), max(before, behind) // of equally near ones the first
	best := runs[first]
	if distTo(runs[second], length, s) < distTo(best, length, s) {
		best = runs[second]
	}
	at = best.from
	if around(length, s, best.to) < around(length, s, best.from) {
		at = best.to
	}
	return at, around(length, s, at), math.Abs(at - best.mid())
}

// around is the distance of two places the shorter way round.
func around(length, a, b float64) float64 {
	d := math.Abs(a - b)
	return min(d, length-d)
}

// distTo is how far s, which lies in no run, is from one.
func distTo(r span, length, s float64) float64 {
	return min(around(length, s, r.from), around(length, s, r.to))
}
