package tryout

import (
	"math"

	"starwright/geom"
	"starwright/geom/route"
)

// fit lays one star together of the pieces that have both facets, and measures
// the last joint.
func (b *bench) fit(s *route.Setup) {
	u := b.want.Units[s.Unit]
	p := b.faceted(s.Unit)
	if p == nil {
		b.fault("order", s.Name, "no piece has both its facets yet")
		return
	}
	if p.count < u.Points {
		b.fault("count", s.Name, "%d pieces have their facets, and a star takes %d", p.count, u.Points)
		return
	}
	b.fitted[s.Unit] = true
	gap := lastJoint(p.shape, u.Points)
	b.atMost("joint", s.Name, math.Abs(gap), JointTol, "the last joint stands open by %.2m", b.in(math.Abs(gap)))
}

// faceted returns the pile of pieces whose two edges at the star's centre make
// about the angle that a star takes.
func (b *bench) faceted(unit int) *pile {
	u := b.want.Units[unit]
	const about = 2 * geom.Degree
	want := geom.Deg(360 / float64(u.Points))
	var best *pile
	for k, piles := range b.pieces {
		if k.unit != unit {
			continue
		}
		for _, p := range piles {
			a, _, corner := seated(p.shape)
			if math.Abs(float64(a-want)) < float64(about) && corner.Len() < 2*sameCorner && (best == nil || p.count > best.count) {
				best = p
			}
		}
	}
	return best
}

// lastJoint returns how far the last joint of a star of n like segments stands
// open when the others are pressed shut one after the other, mm. Above zero it
// is open at the valley: the angles are too small, all centres meet, and the gap
// is measured from valley to valley. Below zero it is open at the centre: the
// angles are too large, and the last segment, shut against one neighbour, stays
// out along that facet, because its other facet strikes the valley corner of the
// other neighbour.
func lastJoint(o outline, n int) float64 {
	a, facet, _ := seated(o)
	room := geom.Deg(360) - geom.Angle(n-1)*a // that the others leave for the last
	if room >= a {
		return geom.Polar(facet, room-a).Dist(geom.Pt(facet, 0))
	}
	corner := geom.Polar(facet, room) // the other neighbour's valley
	apex, ok := meet(geom.Point{}, geom.Pt(1, 0), corner, geom.Polar(1, a))
	if !ok {
		return 0
	}
	return -apex.X
}
