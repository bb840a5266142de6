package jig

import (
	"math"

	"starwright/geom"
)

// Sizes that all jigs share, in mm. Common practice, no source.
const (
	fullMeat  = 12.0 // wood round holes and seats
	leastMeat = 6.0  // the same for the smallest stars
	easing    = 3.0  // radius of outside corners that no work touches
	slotWide  = 9.0  // clamp slots, for 8 mm bolts
	leastBore = 5.0  // screw holes
	boreSlack = 0.5  // a hole is wider than the cutter by this at least
)

// meat returns the wood that a jig for boards of width w leaves round holes and
// seats, mm.
func meat(w float64) float64 { return math.Min(fullMeat, math.Max(leastMeat, w/6)) }

// spot returns the place nearest to the one wanted at which a shape, drawn
// round the origin, lies in the wood clear of every edge by margin, among the
// points of a grid over the outline; false where there is none.
func spot(shape, outline geom.Contour, holes []Hole, near geom.Point, margin float64) (geom.Point, bool) {
	w := newWood(outline, holes)
	if w.holds(geom.Place{Move: near}.Contour(shape), margin) {
		return near, true
	}
	s := newSeeker(w, near)
	defer s.free()
	return s.spot(shape, margin)
}

// bore returns the diameter of a screw hole that the cutter can mill, mm.
func bore(cutter float64) float64 { return math.Max(leastBore, cutter+boreSlack) }

// screws bores a hole near each of the places where it finds room. Whether that
// is enough for a jig that is screwed to something, [Kit] asks of each.
func screws(outline geom.Contour, holes []Hole, cutter, margin float64, near ...geom.Point) []Hole {
	shape := geom.Circle(geom.Point{}, bore(cutter)/2)
	for _, p := range near {
		if at, ok := spot(shape, outline, holes, p, margin); ok {
			holes = append(holes, Hole{"screw", geom.Place{Move: at}.Contour(shape)})
		}
	}
	return holes
}

// clampSlot cuts a slot with round ends between the two middles of its ends,
// where it has room with margin to spare and is worth having.
func clampSlot(outline geom.Contour, holes []Hole, a, b geom.Point, margin float64) []Hole {
	l := a.Dist(b)
	if l < slotWide/2 {
		return holes
	}
	c := geom.RoundedRect(geom.Box{
		Min: geom.Pt(-slotWide/2, -slotWide/2), Max: geom.Pt(l+slotWide/2, slotWide/2)}, slotWide/2)
	c = geom.Place{Turn: b.Sub(a).Angle(), Move: a}.Contour(c)
	if !inside(c, outline, holes, margin) {
		return holes
	}
	return append(holes, Hole{"clamp", c})
}

// layers returns how many plates of the sheet reach a height of mm.
func layers(height, sheet float64) int {
	if sheet <= 0 {
		return 1
	}
	const slack = 0.05 // of a layer
	return max(1, int(math.Ceil(height/sheet-slack)))
}

// turnedOver returns the mirror image of a jig, without its text.
func (j Jig) turnedOver() Jig {
	m := geom.Place{Mirror: true}
	out := j
	out.Outline, out.Text = mirrored(j.Outline), nil
	out.Holes, out.Seats = nil, nil
	for _, h := range j.Holes {
		out.Holes = append(out.Holes, Hole{h.Kind, mirrored(h.Contour)})
	}
	for _, s := range j.Seats {
		t := Seat{What: s.What, Work: mirrored(s.Work), Play: s.Play}
		for _, e := range s.Edges {
			t.Edges = append(t.Edges, geom.Curve{A: m.Point(e.A), B: m.Point(e.B), Bulge: -e.Bulge}.Reversed())
		}
		out.Seats = append(out.Seats, t)
	}
	return out
}
