package jig

import (
	"fmt"
	"math"

	"starwright/geom"
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

// up returns v rounded up to a multiple of step.
func up(v, step float64) float64 { return math.Ceil(v/step-1e-9) * step }

// makeSlotStands makes the stands in which a segment waits under the spindle
// for the slot in its left or right facet. They are drawn as the machine sees
// them from the front, show face towards the eye: the star's centre end of the
// facet, X0 Z0, lies in the origin, and the left stand has the valley to the
// right.
func makeSlotStands(u *star.Unit, p Params) ([]Jig, []star.Problem) {
	what := u.Words("segment")
	seg, m, step := u.Segment, meat(u.Segment.Width), datum(u.Spec.Unit)
	zone := 2*m + slotWide + 1 // of a clamp slot with its wood
	s := saddle{
		seg: seg, cutter: p.Cutter, meat: m,
		left: up(zone, step),
		top:  math.Min(5, seg.Facet*seg.Center.Sin()/6),
		base: zone, step: step,
	}
	if ps := s.entry(u, "slot stand for the "+what, "slot-stand"); ps != nil {
		return nil, ps
	}
	left := Jig{Key: "slot-stand", Quantity: stack(u.Thickness(), p.Thickness), Screwed: true}
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
		left.Outline, left.Use = plate.outline, standUse(u, p, plate)
		left.Holes = s.standHoles(plate)
		left.Seats = []Seat{{What: what, Work: plate.work, Edges: against(plate.work, plate.outline)}}
		near := geom.Pt(plate.notch.X/3, -plate.height*0.75)
		left.Text = letter(&left, near, lines("left", plate)...)
		right := left.swapped()
		near.X = -near.X
		right.Text = letter(&right, near, lines("right", plate)...)
		if min(len(left.Text), len(right.Text)) >= vital || try == tries {
			left.File, left.Title = "jig-slot-stand-"+u.File("left"), "slot stand left, "+what
			right.File, right.Title = "jig-slot-stand-"+u.File("right"), "slot stand right, "+what
			return []Jig{left, right}, nil
		}
		s.least = plate.height + 3*step
	}
}

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

// stackUse says what the plates of a stack are to each other and to the board.
func stackUse(u *star.Unit, p Params) string {
	const same = 0.1 // mm, the difference that a strap takes up
	n := stack(u.Thickness(), p.Thickness)
	say := u.Spec.Unit.Format
	switch high := float64(n) * p.Thickness; {
	case p.Thickness <= 0:
		return "Set the two plates apart with spacers to a little less than the board's thickness. "
	case high > u.Thickness()+same:
		return fmt.Sprintf("The plate is thicker than the board: pack the straps by %s. ", u.Spec.Unit.FormatSize(high-u.Thickness()))
	case n == 1:
		return ""
	case u.Thickness()-high > p.Thickness/2:
		return fmt.Sprintf("Screw the %d plates together with spacers between them, to a little less than %s. ", n, say(u.Thickness()))
	default:
		return fmt.Sprintf("Screw the %d plates together, edges flush. ", n)
	}
}

// standUse says how a stand is used, and the room it needs.
func standUse(u *star.Unit, p Params, plate saddlePlate) string {
	say := u.Spec.Unit.Format
	text := stackUse(u, p) + "Stand it upright under the spindle, screwed to a fence board at Y0. " +
		"Show face to the fence, push the segment into the corner of the two seats"
	if plate.horn {
		text += ", drive a pair of wedges between its outer edge and the horn"
	}
	text += " and draw straps over its back with bolts through the slots; the facet then lies level on top. "
	if deep := -plate.work.Bounds().Min.Y; deep > plate.height {
		text += fmt.Sprintf("The tip reaches %s below the facet, lower than the foot: set the stand at the table's edge and let the work hang over. ", say(deep))
	}
	return text + fmt.Sprintf("It needs %s below the facet; on a lower machine fix the fence to the front of the table, so that stand and work hang over its edge.", say(plate.room()))
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
	level := room.inscribe(0, lines...)
	if len(level) == len(lines) {
		return level
	}
	if upright := room.inscribe(90*geom.Degree, lines...); len(upright) > len(level) {
		return upright
	}
	return level
}
