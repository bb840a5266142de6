package planner

import (
	"cmp"
	"math"
	"slices"

	"starwright/geom"
)

// Tolerances of a cutter's way, in mm.
const (
	// chordTol is how far the lines may leave the arcs that stand for them
	// where a job wants no arcs: with what three decimals lose, and room for a
	// judge that measures in another way, below the 0.02 mm that parts may miss.
	chordTol = 0.015

	// tightTol is how far a line may leave an arc that stands for a corner: one so
	// small that the machine would have to slow down for it.
	tightTol = 0.01

	// minPiece is the shortest piece of a way that is worth a block. Leaving
	// it out moves the way by no more, and keeps the ends of an arc from
	// falling together in a file, where that would mean a full circle.
	minPiece = 0.002

	// tick is the last decimal of a file in mm, to which both ends of a move are
	// rounded; that of one in inches is finer.
	tick = 0.001
)

// reserveOf is what is kept back from the fall of every piece of a ramp of a
// slope (a tangent), so that the rounding of both its ends in a file makes none
// steeper than allowed: a tick of height, and of length what both ends may lose
// across a tick's square.
func reserveOf(slope float64) float64 { return tick * (1 + math.Sqrt2*slope) }

// track is the closed way of a cutter's centre, measured along its length.
type track struct {
	curves []geom.Curve
	along  []measured // of each curve
	length float64
}

// measured is the length of track before a curve and that of the curve, mm.
type measured struct{ start, length float64 }

// track measures a way of the job: where it wants no arcs they become lines, and
// so do those that stand for a corner and would slow the machine down.
func (p *sheetPlan) track(way geom.Contour) track {
	if !p.Arcs {
		return newTrack(way.Curves(), false)
	}
	loop := way.Curves()
	for i, c := range loop {
		if c.IsArc() && p.arcFeed(c.Radius()) < p.Feed && c.Chords(tightTol) == 1 {
			loop[i].Bulge = 0
		}
	}
	return newTrack(loop, true)
}

// newTrack measures a closed way, whose pieces it keeps. Pieces too short for a block
// are left out; where arcs is false, arcs become lines.
func newTrack(loop []geom.Curve, arcs bool) track {
	cs := loop[:0]
	for _, c := range loop {
		if len(cs) > 0 {
			c.A = cs[len(cs)-1].B
		}
		if c.Length() >= minPiece {
			cs = append(cs, c)
		} else if len(cs) > 0 {
			cs[len(cs)-1].B = c.B
		}
	}
	if len(cs) == 0 {
		return track{}
	}
	cs[0].A = cs[len(cs)-1].B
	if !arcs {
		cs = chords(cs)
	}
	t := track{curves: cs, along: make([]measured, len(cs))}
	for i, c := range cs {
		t.along[i] = measured{t.length, c.Length()}
		t.length += t.along[i].length
	}
	return t
}

// chords returns a way with lines for its arcs.
func chords(cs []geom.Curve) []geom.Curve {
	out := make([]geom.Curve, 0, len(cs))
	for _, c := range cs {
		n, path := c.Chords(chordTol), c.Path()
		for i := range n {
			out = append(out, geom.Curve{A: path.At(float64(i) / float64(n)), B: path.At(float64(i+1) / float64(n))})
		}
	}
	return out
}

// wrap returns the same place of the way in [0, length).
func (t track) wrap(s float64) float64 {
	s = math.Mod(s, t.length)
	if s < 0 {
		s += t.length
	}
	if s >= t.length {
		s = 0
	}
	return s
}

// find returns the number of the curve at s in [0, length).
func (t track) find(s float64) int {
	i, ok := slices.BinarySearchFunc(t.along, s, func(m measured, s float64) int { return cmp.Compare(m.start, s) })
	if !ok {
		i--
	}
	return i
}

// point returns the place at length s.
func (t track) point(s float64) geom.Point {
	s = t.wrap(s)
	i := t.find(s)
	return t.curves[i].At(t.share(i, s))
}

// share returns which part of curve i lies before s.
func (t track) share(i int, s float64) float64 {
	at := t.along[i]
	return math.Min(1, math.Max(0, (s-at.start)/at.length))
}

// pieces returns the way from length s over the given distance, backwards
// where that is negative. Both ends may lie beyond the closing point. room takes it
// where it is large enough.
func (t track) pieces(room []geom.Curve, s, dist float64) []geom.Curve {
	if dist < 0 {
		ps := t.pieces(room, s+dist, -dist)
		slices.Reverse(ps)
		for i := range ps {
			ps[i] = ps[i].Reversed()
		}
		return ps
	}
	out := room[:0]
	s = t.wrap(s)
	i := t.find(s)
	for dist > minPiece/2 {
		from := t.share(i, s)
		l := t.along[i].length
		rest := l * (1 - from)
		if rest < minPiece/2 { // at the end of this curve already
			i, s = (i+1)%len(t.curves), t.along[(i+1)%len(t.curves)].start
			dist -= rest
			continue
		}
		to := 1.0
		if dist < rest-minPiece/2 {
			to = from + dist/l
		}
		if from == 0 && to == 1 {
			out = append(out, t.curves[i])
		} else {
			out = append(out, t.curves[i].Part(from, to))
		}
		dist -= l * (to - from)
		i = (i + 1) % len(t.curves)
		s = t.along[i].start
	}
	return out
}

// fallOf is how far a ramp may fall over a length, at most slope (a tangent).
func fallOf(length, slope float64) float64 { return math.Max(0, length*slope-reserveOf(slope)) }

// lapFall is how far a ramp may fall over the whole way.
func (t track) lapFall(slope float64) float64 {
	sum := 0.0
	for _, m := range t.along {
		sum += fallOf(m.length, slope)
	}
	// The lap may start within a curve, which then counts as two.
	return math.Max(0, sum-reserveOf(slope))
}

// rampPieces is of how many pieces most ramps are.
const rampPieces = 24

// rampLength returns the length that a ramp from s needs to fall by the given
// amount, backwards along the way where back is set; not more than most, and
// false where that is not enough.
func (t track) rampLength(s, fall, slope, most float64, back bool) (float64, bool) {
	dir := 1.0
	if back {
		dir = -1
	}
	dist := 0.0
	var room [rampPieces]geom.Curve
	for _, c := range t.pieces(room[:0], s, dir*most) {
		l := c.Length()
		f := fallOf(l, slope)
		if f >= fall {
			return math.Min(most, dist+(fall+reserveOf(slope))/slope), true
		}
		fall -= f
		dist += l
	}
	return most, fall < geom.Rounding
}
