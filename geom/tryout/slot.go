package tryout

import (
	"math"

	"starwright/geom"
	"starwright/geom/route"
)

// slot carries out a set-up that cuts a slot in one facet of each segment.
func (b *bench) slot(s *route.Setup) {
	u := b.want.Units[s.Unit]
	if u.Slot == nil {
		b.fault("slot", s.Name, "this star has plain joints")
		return
	}
	right := s.Slot.Hand == route.Right
	if s.Slot.Hand != route.Left && !right {
		b.fault("slot", s.Name, "it names no hand")
		return
	}
	b.facetEdge(s, u, right)
	if s.Slot.Program != "" {
		f, ok := b.want.Programs[s.Slot.Program]
		switch {
		case !ok:
			b.fault("slot", s.Name, "the packet has no slot program %s", s.Slot.Program)
		case f != Facet{s.Unit, right}:
			b.fault("slot", s.Name, "%s cuts another facet", s.Slot.Program)
		}
	}
	off := 0.0
	for _, v := range [][2]float64{
		{s.Slot.Start, u.Slot.Start}, {s.Slot.End, u.Slot.End}, {s.Slot.Depth, u.Slot.Depth},
		{s.Slot.Width, u.Slot.Width}, {s.Slot.FromFace, u.Slot.FromFace},
	} {
		off = math.Max(off, math.Abs(v[0]-v[1]))
	}
	b.atMost("slot", s.Name, off, SlotTol, "the printed numbers put the slot %.2m off its place", b.in(off))
	b.stops(s, u, right)
	f := Facet{s.Unit, right}
	b.slots[f] += s.Count
	if have := b.finished(s.Unit); have < b.slots[f] {
		b.fault("count", s.Name, "it slots %d segments, and %d are finished", b.slots[f], have)
	}
}

// facetEdge looks whether the edge that the slot names is the facet of its hand:
// seen from the front with the tip up, the tip of the piece being on +x, left is
// where y is positive.
func (b *bench) facetEdge(s *route.Setup, u Unit, right bool) {
	n := len(u.Segment)
	if s.Slot.Edge < 0 || s.Slot.Edge >= n {
		b.fault("slot", s.Name, "it names edge %d of a segment with %d", s.Slot.Edge, n)
		return
	}
	p, q := u.Segment[s.Slot.Edge], u.Segment[(s.Slot.Edge+1)%n]
	atCentre := math.Min(p.Len(), q.Len()) < speck
	if mid := p.Lerp(q, 0.5); !atCentre || (mid.Y < 0) != right {
		b.fault("slot", s.Name, "edge %d of the segment is not its %s facet", s.Slot.Edge, s.Slot.Hand)
	}
}

// stops works out, from the printed stops of a router table and the carriage as
// it was read back, where the slot comes to lie along the facet; bit height and
// fence say how deep and how far from the show face. A carriage is drawn with the
// star's centre in the origin and the facet along X.
func (b *bench) stops(s *route.Setup, u Unit, right bool) {
	if s.Machine != route.RouterTable {
		return
	}
	b.atMost("slot", s.Name, math.Abs(b.mm(s, route.ReadBitHeight)-u.Slot.Depth), SlotTol, "the bit's printed height makes another depth")
	b.atMost("slot", s.Name, math.Abs(b.mm(s, route.ReadFence)-u.Slot.FromFace), SlotTol, "the printed fence puts the slot elsewhere in the thickness")
	b.atMost("slot", s.Name, math.Abs(b.mm(s, route.ReadBit)-u.Slot.Width), SlotTol, "the printed bit makes another width")
	if len(s.Jigs) == 0 {
		b.fault("jigs", s.Name, "nothing carries the work over the bit")
		return
	}
	plate, ok := b.want.Plates[s.Jigs[0].Path]
	if !ok {
		return // the maker's own carriage, or missing, which is found elsewhere
	}
	box := plate.Outline.Bounds()
	centre, valley := -box.Min.X, box.Max.X
	if right {
		centre, valley = valley, centre
	}
	end := b.mm(s, route.ReadStopEnd) - centre + u.Slot.Width/2
	start := valley - b.mm(s, route.ReadStopStart) - u.Slot.Width/2
	off := math.Max(math.Abs(end-u.Slot.End), math.Abs(start-u.Slot.Start))
	b.atMost("slot", s.Name, off, SlotTol, "with the printed stops the slot runs from %.2f to %.2m from the star's centre, %.2m off", b.in(start), b.in(end), b.in(off))
}

// finished counts the segments of a unit that have their final outline.
func (b *bench) finished(unit int) int {
	n := 0
	for k, piles := range b.pieces {
		if k.unit != unit {
			continue
		}
		for _, p := range piles {
			if apart(p.shape, outline(b.want.Units[unit].Segment)) <= OutlineTol {
				n += p.total
			}
		}
	}
	return n
}

// leastFacet is the shortest edge from the star's centre that is taken for a facet,
// mm: the smallest star of four points has facets of 2.8.
const leastFacet = 2 * sameCorner

// seated returns the angle between the two facets of a piece, the length of the
// shorter one and where their lines meet; an angle of 0 where the piece has not
// both. A cut that misses the middle of the end leaves a speck of it between the
// two facets, so that edges count that begin near the star's centre and not the
// corner there.
func seated(o outline) (centre geom.Angle, facet float64, corner geom.Point) {
	var ways [][2]geom.Point // from the centre outwards
	for i, p := range o {
		q := o[(i+1)%len(o)]
		if p.Len() > q.Len() {
			p, q = q, p
		}
		if p.Len() < 2*sameCorner && q.Dist(p) > leastFacet {
			ways = append(ways, [2]geom.Point{p, q})
		}
	}
	if len(ways) != 2 {
		return 0, 0, geom.Point{}
	}
	u, v := ways[0][1].Sub(ways[0][0]), ways[1][1].Sub(ways[1][0])
	at, ok := meet(ways[0][0], u, ways[1][0], v)
	if !ok {
		return 0, 0, geom.Point{}
	}
	return geom.Angle(math.Abs(signed(u.Angle() - v.Angle()))), math.Min(ways[0][1].Dist(at), ways[1][1].Dist(at)), at
}
