package jig

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/geom/star"
)

// Sizes of a carriage, mm. Common practice, no source.
const (
	gripHigh  = 30.0 // of the hand hole
	gripWide  = 90.0
	gripLeast = 70.0 // where the plate has no room for the full width
	gripAway  = 40.0 // from hand hole to cut, at least
	bitRoom   = 3.0  // over the bit's end
	runOut    = 5.0  // past the facet's ends, besides the slot's width
)

// makeCarriages makes the carriages in which a segment rides over an upright
// bit on a router table, facet down. They are drawn as the person who feeds
// them sees them, with the show face turned away to the router's fence: the
// facet lies on the X axis, the star's centre in the origin, and the carriage
// for the left facet has the valley to the right.
func makeCarriages(u *star.Unit, p Params) ([]Jig, []star.Problem) {
	what := u.Words("segment")
	s, depth := carriageSaddle(u, p)
	if ps := s.entry(u, "router carriage for the "+what, "router-carriage"); ps != nil {
		return nil, ps
	}
	const vital, tries = 2, 4 // lines that must find room, and how often the plate may grow for them
	for try := 0; ; try++ {
		plate, holes := s.withGrip(depth)
		j := Jig{Key: "router-carriage", Outline: plate.outline, Quantity: stack(u.Thickness(), p.Thickness)}
		j.Screwed = j.Quantity > 1
		in := s.meat + bore(p.Cutter)/2 + 0.1
		j.Holes = screws(j.Outline, holes, p.Cutter, s.meat,
			geom.Pt(-s.left+in, -plate.height+in), geom.Pt(plate.right-in, -plate.height+in))
		j.Seats = []Seat{{What: what, Work: plate.work, Edges: against(plate.work, plate.outline)}}
		j.Use = carriageUse(u, p, plate)
		left := j.turnedOver()
		right := left.swapped()
		for i, k := range []*Jig{&left, &right} {
			side := [...]string{"left", "right"}[i]
			k.File, k.Title = "jig-router-carriage-"+u.File(side), "router carriage "+side+", "+what
			near := geom.Pt([...]float64{1, -1}[i]*plate.notch.X/2, plate.height*0.7)
			k.Text = letter(k, near, carriageWords(u, s, side, what)...)
		}
		if min(len(left.Text), len(right.Text)) >= vital || try == tries {
			return []Jig{left, right}, nil
		}
		s.least = plate.height + 3*s.step
	}
}

// carriageWords are the lines on a carriage, the needed ones first.
func carriageWords(u *star.Unit, s saddle, side, what string) []string {
	say := u.Spec.Unit.Format
	lines := []string{"router carriage " + side, "centre " + say(s.left) + " from " + side + " side"}
	if u.Slot != nil {
		lines = append(lines, "slot "+say(u.Slot.Start)+" to "+say(u.Slot.End), "bit "+say(u.Slot.Depth)+" high")
	}
	return append(lines, what)
}

// carriageSaddle sizes the plate and returns the depth of cut for which it is
// made.
func carriageSaddle(u *star.Unit, p Params) (saddle, float64) {
	seg, m, step := u.Segment, meat(u.Segment.Width), datum(u.Spec.Unit)
	depth, width := math.Min(10, seg.Facet/8), 6.0
	if u.Slot != nil {
		depth, width = u.Slot.Depth, u.Slot.Width
	}
	s := saddle{
		seg: seg, cutter: p.Cutter, meat: m, step: step,
		top:  math.Min(depth+bitRoom, 0.4*seg.Facet*seg.Center.Sin()),
		feet: math.Max(width+runOut, 2*insideRadius(p.Cutter)+easing+1),
		base: 2*m + slotWide + 1,
	}
	s.left = up(s.feet+math.Max(25, 2*m), step)
	return s, depth
}

// withGrip makes the plate high and wide enough for a hand hole that keeps
// fingers away from the cut, and cuts the clamp slots.
func (s saddle) withGrip(depth float64) (saddlePlate, []Hole) {
	cut := geom.Rect(geom.Box{Min: geom.Pt(0, -depth), Max: geom.Pt(s.seg.Facet, 0)})
	plate := s.plate()
	if lack := gripLeast + 2*s.meat + 1 - s.left - plate.right; lack > 0 {
		s.left = up(s.left+lack, s.step)
	}
	for {
		plate = s.plate()
		holes := s.strapSlots(plate, nil)
		wide := math.Max(gripLeast, math.Min(gripWide, s.left+plate.right-2*s.meat-1))
		shape := geom.RoundedRect(geom.Box{Min: geom.Pt(-wide/2, -gripHigh/2), Max: geom.Pt(wide/2, gripHigh/2)}, gripHigh/2)
		// Over the middle of what stands on the table, so that a push does not tip.
		near := geom.Pt(math.Max(s.seg.Facet/2, plate.notch.X/2), -plate.height+s.meat+gripHigh/2+0.1)
		near.X = math.Min(near.X, plate.right-s.meat-wide/2-0.1)
		near.X = math.Max(near.X, -s.left+s.meat+wide/2+0.1)
		at, ok := spot(shape, plate.outline, holes, near, s.meat)
		grip := geom.Place{Move: at}.Contour(shape)
		if ok && clear(grip, cut, gripAway) {
			return plate, append(holes, Hole{"grip", grip})
		}
		s.least = plate.height + s.step
	}
}

// carriageUse says how a carriage is used.
func carriageUse(u *star.Unit, p Params, plate saddlePlate) string {
	text := stackUse(u, p) + "On the router table, facet down, show face to the fence: push the segment into the corner of the two seats"
	if plate.horn {
		text += ", drive a pair of wedges between its outer edge and the leg"
	}
	text += " and draw straps over its back with bolts through the slots, heads sunk. "
	if s := u.Slot; s != nil {
		say := u.Spec.Unit.Format
		text += fmt.Sprintf("Bit %s wide and %s high, its middle %s from the fence; stops on the fence end the cut %s and %s from the star's centre. ",
			u.Spec.Unit.FormatSize(s.Width), say(s.Depth), say(s.FromFace), say(s.Start), say(s.End))
	}
	return text + "Both hands at the grip, feed against the bit's rotation; where the table has no guard over the bit, fix one to the fence."
}
