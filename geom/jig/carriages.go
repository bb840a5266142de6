package jig

import (
	"math"

	"starwright/geom"
	"starwright/geom/problem"
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
func makeCarriages(u *star.Unit, p Params) ([]Jig, problem.List) {
	what := u.Words("segment")
	s, depth := carriageSaddle(u, p)
	if ps := s.entry(u, "router carriage for the "+what, "router-carriage"); ps != nil {
		return nil, ps
	}
	var smallest geom.Contour
	for _, form := range s.smaller() {
		if form.entry(u, "router carriage for the "+what, "router-carriage") != nil {
			break
		}
		form, plate, _ := form.withGrip(depth)
		if smallest = plate.outline; p.fits(smallest) {
			left, right := form.carriage(u, p, depth, what)
			return []Jig{left, right}, nil
		}
	}
	return nil, problem.List{p.tooLarge(u.Spec.Unit, "router-carriage", "router carriage for the "+what, smallest)}
}

// carriage makes the left and the right carriage of one form.
func (s saddle) carriage(u *star.Unit, p Params, depth float64, what string) (left, right Jig) {
	const vital, tries = 2, 4 // lines that must find room, and how often the plate may grow for them
	for try := 0; ; try++ {
		var plate saddlePlate
		var holes []Hole
		s, plate, holes = s.withGrip(depth)
		j := Jig{Key: "router-carriage", Hand: "left", Outline: plate.outline, Quantity: stack(u.Thickness(), p.Thickness)}
		j.Screwed = j.Quantity > 1
		in := s.meat + bore(p.Cutter)/2 + 0.1
		j.Holes = screws(j.Outline, holes, p.Cutter, s.meat,
			geom.Pt(-s.left+in, -plate.height+in), geom.Pt(plate.right-in, -plate.height+in))
		j.Seats = []Seat{{What: what, Work: plate.work, Edges: against(plate.work, plate.outline)}}
		left, right = j.turnedOver(), j.turnedOver().swapped()
		near := func(side float64) geom.Point { return geom.Pt(side*plate.notch.X/2, plate.height*0.7) }
		left.Text = letter(&left, near(1), carriageWords(u, s, "left", what)...)
		right.Text = letter(&right, near(-1), carriageWords(u, s, "right", what)...)
		if min(len(left.Text), len(right.Text)) < vital && try < tries {
			larger, wider, _ := s.grown(plate).withGrip(depth)
			if p.fits(wider.outline) {
				s = larger
				continue
			}
		}
		left.File, left.Title = "jig-router-carriage-"+u.File("left"), "router carriage left, "+what
		left.Build = s.how(u, p, &left, plate)
		left.Build.Stop = geom.Place{Mirror: true}.Point(plate.notch)
		for _, h := range left.Holes {
			if h.Kind == "grip" {
				left.Build.Grip = h.Contour.Bounds().Center()
			}
		}
		right.named("jig-router-carriage-"+u.File("right"), "router carriage right, "+what, left.Build, acrossY)
		return left, right
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
	s.left = geom.RoundUp(s.feet+math.Max(25, 2*m), step)
	return s, depth
}

// withGrip makes the plate high and wide enough for a hand hole that keeps
// fingers away from the cut, and cuts the clamp slots.
func (s saddle) withGrip(depth float64) (saddle, saddlePlate, []Hole) {
	cut := geom.Rect(geom.Box{Min: geom.Pt(0, -depth), Max: geom.Pt(s.seg.Facet, 0)})
	plate := s.plate()
	if lack := gripLeast + 2*s.meat + 1 - s.left - plate.right; lack > 0 {
		s.left = geom.RoundUp(s.left+lack, s.step)
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
			return s, plate, append(holes, Hole{"grip", grip})
		}
		s.least = plate.height + s.step
	}
}
