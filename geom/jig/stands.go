package jig

import (
	"math"

	"starwright/geom"
	"starwright/geom/problem"
	"starwright/geom/star"
)

// datum is the step to which the distances of a stand's sides from zero are
// rounded, mm, so that they can be read off a rule.
func datum(u geom.Unit) float64 {
	if u.MM() == geom.MMPerInch {
		return geom.MMPerInch / 4
	}
	return 5
}

// makeSlotStands makes the stands in which a segment waits under the spindle
// for the slot in its left or right facet. They are drawn as the machine sees
// them from the front, show face towards the eye: the star's centre end of the
// facet, X0 Z0, lies in the origin, and the left stand has the valley to the
// right.
func makeSlotStands(u *star.Unit, p Params) ([]Jig, problem.List) {
	what := u.Words("segment")
	seg, m, step := u.Segment, meat(u.Segment.Width), datum(u.Spec.Unit)
	zone := 2*m + slotWide + 1 // of a clamp slot with its wood
	s := saddle{
		seg: seg, cutter: p.Cutter, meat: m,
		left: geom.RoundUp(zone, step),
		top:  math.Min(5, seg.Facet*seg.Center.Sin()/6),
		base: zone, step: step,
	}
	if ps := s.entry(u, "slot stand for the "+what, "slot-stand"); ps != nil {
		return nil, ps
	}
	var smallest geom.Contour
	for _, form := range s.smaller() {
		if form.entry(u, "slot stand for the "+what, "slot-stand") != nil {
			break
		}
		if smallest = form.plate().outline; p.fits(smallest) {
			left, right := form.stand(u, p, what)
			return []Jig{left, right}, nil
		}
	}
	return nil, problem.List{p.tooLarge(u.Spec.Unit, "slot-stand", "slot stand for the "+what, smallest)}
}

// stand makes the left and the right stand of one form.
func (s saddle) stand(u *star.Unit, p Params, what string) (left, right Jig) {
	left = Jig{Key: "slot-stand", Hand: "left", Quantity: stack(u.Thickness(), p.Thickness), Screwed: true}
	lines := func(side string, plate saddlePlate) []string {
		say := u.Spec.Unit.Format
		return []string{
			"slot stand " + side,
			"X0 " + say(s.left) + " from " + side + " side",
			"Z0 " + say(plate.height) + " above foot",
			"room below Z0 " + say(plate.room()),
			"this face to the fence",
			what,
		}
	}
	const vital, tries = 4, 4 // lines that must find room, and how often the plate may grow for them
	for try := 0; ; try++ {
		plate := s.plate()
		left.Outline = plate.outline
		left.Holes = s.standHoles(plate)
		left.Seats = []Seat{{What: what, Work: plate.work, Edges: against(plate.work, plate.outline)}}
		near := geom.Pt(plate.notch.X/3, -plate.height*0.75)
		left.Text = letter(&left, near, lines("left", plate)...)
		right = left.swapped()
		near.X = -near.X
		right.Text = letter(&right, near, lines("right", plate)...)
		if min(len(left.Text), len(right.Text)) < vital && try < tries {
			if larger := s.grown(plate); p.fits(larger.plate().outline) {
				s = larger
				continue
			}
		}
		left.File, left.Title = "jig-slot-stand-"+u.File("left"), "slot stand left, "+what
		left.Build = s.how(u, p, &left, plate)
		right.named("jig-slot-stand-"+u.File("right"), "slot stand right, "+what, left.Build, acrossY)
		return left, right
	}
}

// grown is a saddle whose plate is higher than the one that has no room for its
// words.
func (s saddle) grown(plate saddlePlate) saddle {
	s.least = plate.height + 3*s.step
	return s
}

// acrossY exchanges left and right.
func acrossY(p geom.Point) geom.Point { return geom.Pt(0-p.X, p.Y) }

// named gives the right-hand one of a pair its names, and the left one's build
// with its places carried over.
func (j *Jig) named(file, title string, left *Build, at func(geom.Point) geom.Point) {
	j.File, j.Title, j.Hand = file, title, "right"
	j.Build = left.moved(at)
	j.Build.Hand, j.Build.Title = j.Hand, title
	for i := range j.Build.Layers {
		j.Build.Layers[i].File = file
	}
}

// how says how a saddle's plates are put together and hold the work.
func (s saddle) how(u *star.Unit, p Params, j *Jig, plate saddlePlate) *Build {
	h := &Build{
		Key: j.Key, Hand: j.Hand, Title: j.Title, Bore: bore(s.cutter),
		What: j.Seats[0].What, Work: j.Seats[0].Work, Seats: j.Seats[0].Edges, Stop: plate.notch,
		Clamps: clampsOf(j.Holes, func(geom.Point) string { return "work" }), Wedges: plate.horn,
		SideX: s.left, FootZ: plate.height, RoomZ: plate.room(), Facing: "show face", Small: s.small > 0,
		Layers: []Layer{{File: j.File, Plate: "plate", Count: j.Quantity, Screws: screwsIn(j.Holes)}},
	}
	n := float64(j.Quantity)
	h.Height = n * p.Thickness
	const same = 0.1 // mm, the difference that a strap takes up
	if over := h.Height - u.Thickness(); p.Thickness > 0 && over > same {
		h.Pack = over
	} else if p.Thickness > 0 && -over > p.Thickness/2 && n > 1 {
		h.Spacer = spacerBelow(-over / (n - 1))
		h.Height += h.Spacer * (n - 1)
	}
	return h
}

// spacerBelow returns a spacer a little thinner than the room for it, mm.
func spacerBelow(room float64) float64 { return math.Max(0.5, math.Floor((room-0.2)*2)/2) }

// standHoles cuts the slots for the straps and bores for the screws into the
// fence.
func (s saddle) standHoles(plate saddlePlate) []Hole {
	in := s.meat + bore(s.cutter)/2 + 0.1
	return screws(plate.outline, s.strapSlots(plate, nil), s.cutter, s.meat,
		geom.Pt(-s.left+in, -plate.height+in), geom.Pt(plate.right-in, -plate.height+in),
		geom.Pt(-s.left+in, -s.top-in))
}

// room returns how far plate and work reach below the facet's plane, mm.
func (p saddlePlate) room() float64 {
	return math.Max(p.height, -p.work.Bounds().Min.Y)
}

// stack returns how many plates, one on the other, come nearest to the board's
// thickness without passing it, so that straps over them still press the work;
// four at most, for thicker boards go on spacers.
func stack(board, sheet float64) int {
	const most, slack = 4, 0.01 // of a plate
	if sheet <= 0 {
		return 2
	}
	return min(most, max(1, int(board/sheet+slack)))
}

// swapped returns the jig with left and right exchanged, without its text.
func (j Jig) swapped() Jig {
	out := j.turnedOver() // about the X axis; half a turn then makes it about the Y axis
	half := func(p geom.Point) geom.Point { return geom.Pt(0-p.X, 0-p.Y) }
	turn := func(c geom.Contour) {
		for i := range c {
			c[i].Point = half(c[i].Point)
		}
	}
	turn(out.Outline)
	for _, h := range out.Holes {
		turn(h.Contour)
	}
	for _, s := range out.Seats {
		turn(s.Work)
		for i, e := range s.Edges {
			s.Edges[i].A, s.Edges[i].B = half(e.A), half(e.B)
		}
	}
	return out
}

// letter inscribes lines in a jig, level where that takes them all, else
// upright if that takes more.
func letter(j *Jig, near geom.Point, lines ...string) []Label {
	room := newSeeker(newWood(j.Outline, j.Holes), near)
	defer room.free()
	level := room.inscribe(0, lines...)
	if len(level) == len(lines) {
		return level
	}
	if upright := room.inscribe(90*geom.Degree, lines...); len(upright) > len(level) {
		return upright
	}
	return level
}
