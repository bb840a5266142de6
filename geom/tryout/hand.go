package tryout

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/geom/route"
)

// line works out where a line is drawn on the work for a cut by hand, from the
// printed marks alone, in the piece's own coordinates.
func (b *bench) line(s *route.Setup, work outline) (laid, error) {
	from, to, err := b.marks(s, work)
	if err != nil {
		return laid{}, err
	}
	off := b.slips.of(s).Saw
	if from.Y < to.Y { // of either side alike
		off = -off
	}
	l := laid{from: from, dir: geom.Place{Turn: off}.Point(to.Sub(from).Unit())}
	// The piece that stays is the one with the middle of what the route keeps:
	// the maker hatches the waste.
	l.left = l.dir.Cross(middle(s.Piece.After).Sub(from)) > 0
	return l, nil
}

// marks returns the two places between which the line runs.
func (b *bench) marks(s *route.Setup, work outline) (from, to geom.Point, err error) {
	side := 1.0
	if waste(s.Piece.Before, s.Piece.After).Y < 0 {
		side = -1
	}
	half := 0.0
	for _, p := range work {
		half = math.Max(half, side*p.Y)
	}
	switch s.Kind {
	case route.Blanks:
		x := b.mm(s, route.ReadLength)
		if _, ok := find(s, route.ReadLength); !ok {
			x = b.mm(s, route.ReadStop)
		}
		return geom.Pt(x, half), geom.Pt(x, -half), nil
	case route.Facet:
		along, across := b.mm(s, route.ReadAlong), b.mm(s, route.ReadAcross)
		return geom.Pt(along, side*half), geom.Pt(0, side*(half-across)), nil
	case route.Tip:
		// From the valley, where the facet meets the board's edge.
		valley, found := geom.Point{}, false
		for _, p := range work {
			if math.Abs(side*p.Y-half) < sameCorner/2 && (!found || p.X < valley.X) {
				valley, found = p, true
			}
		}
		if !found {
			return from, to, fmt.Errorf("the work has no valley to draw from")
		}
		return valley, geom.Pt(b.mm(s, route.ReadAxis), 0), nil
	case route.PairFacet:
		tip := work[0]
		for _, p := range work {
			if p.X > tip.X {
				tip = p
			}
		}
		edge, ok := work.edgeFrom(tip, side)
		if !ok {
			return from, to, fmt.Errorf("the pair has no outer edge to measure along")
		}
		return tip.Add(edge.Mul(b.mm(s, route.ReadAlong))), geom.Pt(tip.X-b.mm(s, route.ReadAxis), 0), nil
	}
	return from, to, fmt.Errorf("nobody says how a line for %s is drawn", s.Kind)
}

// edgeFrom returns the direction of the edge that leaves a corner on the side of
// the sign of Y.
func (o outline) edgeFrom(corner geom.Point, side float64) (geom.Point, bool) {
	k, _ := o.nearest(corner)
	n := len(o)
	for _, q := range [2]geom.Point{o[(k+1)%n], o[(k+n-1)%n]} {
		if d := q.Sub(o[k]); side*d.Y > speck {
			return d.Unit(), true
		}
	}
	return geom.Point{}, false
}

// waste returns the middle of what a cut takes away.
func waste(before, after outline) geom.Point {
	a, b := before.area(), after.area()
	if math.Abs(a-b) < speck {
		return geom.Point{}
	}
	return before.balance().Sub(after.balance()).Mul(1 / (a - b))
}

// balance returns the middle of an outline's area times that area.
func (o outline) balance() geom.Point {
	var sum geom.Point
	for i, p := range o {
		q := o[(i+1)%len(o)]
		sum = sum.Add(p.Add(q).Mul(p.Cross(q) / 6))
	}
	return sum
}

// middle returns the middle of an outline's corners.
func middle(o []geom.Point) geom.Point {
	var sum geom.Point
	for _, p := range o {
		sum = sum.Add(p)
	}
	return sum.Mul(1 / float64(max(1, len(o))))
}

// drawn holds the route's own line against the one that its marks make.
func (b *bench) drawn(s *route.Setup, l laid) {
	off := 0.0
	for _, p := range (outline{s.Cut.From, s.Cut.To}).back(s.Hold.Place()) {
		// Only near the work: a line is drawn longer than that.
		d := math.Abs(l.dir.Cross(p.Sub(l.from)))
		off = math.Max(off, d/math.Max(1, p.Dist(l.from)/perimeter(s.Piece.Before)))
	}
	b.atMost("hold", s.Name, off, OutlineTol, "the line that the printed marks make is not the one that the route says")
}
