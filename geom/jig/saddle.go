package jig

import (
	"math"

	"starwright/geom"
	"starwright/geom/problem"
	"starwright/geom/star"
)

// saddle is a plate that holds a segment by the far facet and the edge below
// it, so that the facet to be slotted is free. It is drawn as a stand, with the
// star's centre O in the origin and the free facet level to the right:
//
//	      O           V
//	   _   -----------      _     wood, up to top below the facet
//	  | \              \   \ |
//	  |  \              \   \|    horn: between it and the segment goes a wedge
//	  |   \              \   |
//	  |    \ V'_ far edge \  |
//	  |         ---- S__ _ T |    the tip lies free
//	  |______________________|
//	-left
//
// The two seats meet at V' and settle the segment's place, its turn and the
// level of the facet; the star's centre needs no stop of its own, the far facet
// is the stop. Blunt tips raise the far edge so that the seats hold the segment
// by themselves; slender ones leave it hanging out past S. Neither has a horn.
type saddle struct {
	seg    star.Segment
	cutter float64
	meat   float64
	left   float64 // from O to the left side
	top    float64 // from the facet's plane down to the wood beside the facet
	feet   float64 // > 0: wood beyond this distance from the facet's ends reaches its plane
	base   float64 // wood below the lowest of seats and pocket
	least  float64 // height from the facet's plane to the foot, at least
	step   float64 // the height is a multiple of it
	small  float64 // > 0: no horn, and a seat at the far edge of at most so many facets
}

// smaller returns forms of a saddle that take less and less sheet: first as
// usual, then without a horn and with ever shorter seats at the far edge, so
// that the tip hangs out past them.
func (s saddle) smaller() []saddle {
	out := []saddle{s}
	for f := seatFacets; f >= leastFar; f -= 0.05 {
		t := s
		t.small = f
		out = append(out, t)
	}
	return out
}

// Proportions of a saddle. Common practice, no source.
const (
	wedgeGap   = 10.0             // between segment and horn, for a pair of wedges, mm
	hornBlunt  = 8.0              // height at which the horn's beak is cut off, mm
	hornLeast  = 20.0             // least length of horn that a wedge bears on, mm
	tipRoom    = 4.0              // free beyond the tip, mm
	leastFloor = 0.5              // straight floor of the pocket between its rounded ends, mm
	slender    = 2.5              // edges longer than so many facets hang out
	sharpTip   = 15 * geom.Degree // tips sharper than this too
	lowHorn    = 25 * geom.Degree // a horn that leans more than this is a splinter
	selfHold   = 10 * geom.Degree // a far edge that rises more than this needs no horn
	seatFacets = 1.5              // most length of the seat at the far edge, in facets
	leastFar   = 0.4              // the same at least, for a small sheet
)

// saddlePlate is the finished outline with the places that matter on it.
type saddlePlate struct {
	outline geom.Contour
	work    geom.Contour
	height  float64    // from the facet's plane to the foot
	right   float64    // from O to the right side
	notch   geom.Point // V', where the seats meet
	end     geom.Point // S, where the seat at the far edge ends
	horn    bool
}

// rise returns by how much the far edge climbs from V' to the tip.
func (s saddle) rise() geom.Angle { return (s.seg.Tip - s.seg.Center) / 2 }

// far returns the directions of the far facet from O and of the far edge from
// V', each with the direction from it into the wood.
func (s saddle) far() (facet, facetIn, edge, edgeIn geom.Point) {
	facet = geom.Polar(1, -s.seg.Center)
	edge = geom.Polar(1, s.rise())
	return facet, facet.Left().Mul(-1), edge, edge.Left().Mul(-1)
}

// plate lays the segment in and draws the wood round it.
func (s saddle) plate() saddlePlate {
	p := saddlePlate{work: geom.Place{Turn: -s.seg.Center / 2}.Contour(s.seg.Outline())}
	facet, _, edge, _ := s.far()
	p.notch = facet.Mul(s.seg.Facet)
	pocket, ok := s.pocket(p.notch)
	if ok {
		p.horn, p.end = true, pocket[len(pocket)-1]
	} else {
		p.end = p.notch.Add(edge.Mul(s.farSeat()))
		pocket = []geom.Point{p.end}
		p.right = p.end.X
		if s.rise() > selfHold {
			p.right += 2 * s.meat
			pocket = []geom.Point{geom.Pt(p.right, p.end.Y), p.end}
		}
	}
	low := p.notch.Y
	for _, q := range pocket {
		low = math.Min(low, q.Y)
	}
	if p.horn {
		p.right = math.Max(pocket[2].X+s.meat, pocket[0].X+2*s.meat) // end of the pocket, top of the horn
		pocket = append([]geom.Point{geom.Pt(p.right, pocket[0].Y)}, pocket...)
	}
	p.height = s.height(-low)
	p.outline = s.outline(p, pocket)
	return p
}

// farSeat returns the length of the seat at the far edge where the tip lies in
// no pocket, before its relief.
func (s saddle) farSeat() float64 {
	free := math.Max(math.Min(tipRoom, s.seg.Edge/4), s.seg.Edge/8)
	most := seatFacets
	if s.small > 0 {
		most = s.small
	}
	return math.Min(s.seg.Edge-free, most*s.seg.Facet)
}

// entry says what is wrong where the relief at V' leaves too little of the
// seats.
func (s saddle) entry(u *star.Unit, what, key string) problem.List {
	corner := []geom.Angle{180*geom.Degree - (s.seg.Center+s.seg.Tip)/2}
	return entry(u, s.cutter, what, key,
		hold{s.seg.Facet - s.top/s.seg.Center.Sin(), corner}, hold{s.farSeat(), corner})
}

// height returns the plate's height for seats that reach low below the facet.
func (s saddle) height(low float64) float64 {
	h := math.Max(low+s.base, s.least)
	// A tip that reaches little below the foot would stand on the table before
	// the plate does: the plate then grows; deeper tips hang over its edge.
	const slack = 1.3
	if deep := s.seg.Length*(s.seg.Center/2).Sin() + tipRoom; deep > h && deep < slack*h && s.small == 0 {
		h = deep
	}
	return geom.RoundUp(h, s.step)
}

// pocket returns the way from the horn's top round the tip to the end of the
// seat at the far edge, or false where a horn is not needed or would not hold.
func (s saddle) pocket(notch geom.Point) ([]geom.Point, bool) {
	seg, t := s.seg, s.seg.Tip
	lean := (seg.Center + t) / 2 // of the near edge, below level
	if s.small > 0 || t < sharpTip || lean < lowHorn || seg.Edge > slender*seg.Facet || s.rise() > selfHold {
		return nil, false
	}
	drop := math.Max(5, insideRadius(s.cutter)+1) // of the floor below the seat
	room := math.Min(tipRoom, 0.4*(wedgeGap+drop)/(2*(t/2).Sin()))
	// The floor runs along the far edge, drop below it, from the wall beyond the
	// tip to the step, and is rounded at both ends.
	floor := insideRadius(s.cutter)*((45*geom.Degree-t/4).Tan()+(22.5*geom.Degree).Tan()) + leastFloor
	beyond := room/(t/2).Cos() - drop*(t/2).Tan() // of it past the tip
	tipLoss := max(seg.Edge/8, drop*(1+(t/2).Tan())+1, floor+drop-beyond)
	if tipLoss > 0.45*seg.Edge {
		return nil, false
	}
	// In the segment's own frame: tip at (L, 0), far edge below, near edge above.
	own := geom.Place{Turn: -seg.Center / 2}
	floorEnd := own.Point(geom.Pt(seg.Length+room, room*(t/2).Tan()-drop/(t/2).Cos()))
	hornEnd := own.Point(geom.Pt(seg.Length+room, wedgeGap/(t/2).Cos()-room*(t/2).Tan()))
	_, _, edge, in := s.far()
	end := notch.Add(edge.Mul(seg.Edge - tipLoss))
	step := end.Add(edge.Add(in).Mul(drop))

	// The horn's face: x at depth d below the facet's plane.
	face := func(d float64) float64 { return seg.Facet + d*lean.Cot() + wedgeGap/lean.Sin() }
	x := math.Max(face(s.top+hornBlunt), seg.Facet+s.feet)
	beak := geom.Pt(x, -(x-seg.Facet-wedgeGap/lean.Sin())*lean.Tan())
	if beak.Dist(hornEnd) < hornLeast || beak.X > hornEnd.X || s.hornTop() < beak.Y {
		return nil, false
	}
	return []geom.Point{geom.Pt(x, s.hornTop()), beak, hornEnd, floorEnd, step, end}, true
}

// hornTop is the level of the wood beside the facet.
func (s saddle) hornTop() float64 {
	if s.feet > 0 {
		return 0
	}
	return -s.top
}

// outline draws the plate round the pocket and dresses its corners.
func (s saddle) outline(p saddlePlate, pocket []geom.Point) geom.Contour {
	facet, _, _, _ := s.far()
	pts := []geom.Point{geom.Pt(-s.left, -p.height), geom.Pt(p.right, -p.height)}
	pts = append(pts, pocket...)
	keep := []int{len(pts) - 1}
	bites := []int{len(pts)}
	pts = append(pts, p.notch, facet.Mul(s.top/s.seg.Center.Sin()))
	keep = append(keep, len(pts)-1)
	if s.feet > 0 {
		slope := 0.0
		if s.top < insideRadius(s.cutter)+easing+0.5 { // too low a step to round at both ends
			slope = s.top
		}
		pts = append(pts, geom.Pt(-s.feet, -s.top), geom.Pt(-s.feet-slope, 0))
	}
	pts = append(pts, geom.Pt(-s.left, s.hornTop()))
	return finish(geom.Polygon(pts...), s.cutter, bites, math.Min(easing, s.meat/4), keep...)
}

// strapSlots cuts a clamp slot beside each seat, for bolts with straps that
// press the segment against the fence.
func (s saddle) strapSlots(p saddlePlate, holes []Hole) []Hole {
	const longest, off = 30.0, 0.1
	facet, facetIn, edge, edgeIn := s.far()
	away := s.meat + slotWide/2 + off
	var mids [2]geom.Point
	slot := func(k int, from, along, in geom.Point, length float64) {
		mids[k] = from.Add(along.Mul(length / 2)).Add(in.Mul(away))
		for _, l := range [...]float64{math.Min(longest, length/3), slotWide, slotWide / 2} {
			n, half := len(holes), along.Mul(l/2)
			holes = clampSlot(p.outline, holes, mids[k].Sub(half), mids[k].Add(half), s.meat*0.999)
			if len(holes) > n {
				return
			}
		}
	}
	slot(0, geom.Point{}, facet, facetIn, s.seg.Facet)
	slot(1, p.notch, edge, edgeIn, p.notch.Dist(p.end))
	if len(holes) == 0 { // small work: one bolt, as near as it finds room
		shape := geom.Circle(geom.Point{}, slotWide/2)
		if at, ok := spot(shape, p.outline, holes, mids[0].Lerp(mids[1], 0.5), s.meat*0.999); ok {
			holes = append(holes, Hole{"clamp", geom.Place{Move: at}.Contour(shape)})
		}
	}
	return holes
}
