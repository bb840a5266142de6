package jig

import (
	"math"
	"strings"

	"starwright/geom"
	"starwright/geom/star"
)

// A cradle is a plate with a notch that holds work by two finished edges, on a
// base of the same sheet. The straight left edge of both is the line of the
// cut, so that the wood is held right up to the blade. The lower edge, square
// to it, goes against the fence, and the saw stays at its square setting.
//
//	blade |     /    /  work
//	      |    /    /
//	      V   /    /  far end of the seat
//	      |\      /--.
//	      | \    /    |
//	      |  \  /     |
//	      |   \/      |
//	      +-----------+ fence
type cradle struct {
	seat  geom.Angle   // half the angle of the notch
	other geom.Angle   // half the angle at the other end of the segment's axis
	edge  float64      // length of each edge in the notch, mm
	long  float64      // notch to the other end along the axis, mm
	work  geom.Contour // notch at the origin, axis on +x, counter-clockwise
	meat  float64      // mm
	bit   float64      // diameter of the cutter that cuts the plate, mm
}

// zone returns the breadth of wood that carries a row of clamp slots.
func (c cradle) zone() float64 { return 2*c.meat + slotWide + 1 }

// place returns where the work lies in the cradle, whose line of cut is the Y
// axis and whose fence edge is the X axis. The cut runs from the left end of
// the notch's edge, on the work's left side, to the axis' other end.
func (c cradle) place() geom.Place {
	t := geom.Place{Turn: 90*geom.Degree + c.other}
	v := t.Point(geom.Polar(c.edge, c.seat))
	// The relief in the notch dips below its corner where the notch leans.
	r := insideRadius(c.bit)
	dip := r - (r-biteOver)*c.other.Cos()
	t.Move = geom.Pt(-v.X, c.zone()+math.Max(0, dip))
	return t
}

// plate returns the notched plate and the corners of its seat: the notch and
// the end that is not at the blade.
func (c cradle) plate() (outline geom.Contour, notch, far geom.Point) {
	t := c.place()
	near := t.Point(geom.Polar(c.edge, c.seat))
	notch, far = t.Point(geom.Point{}), t.Point(geom.Polar(c.edge, -c.seat))
	shoulder := far.Add(c.outward(notch, far))
	if shoulder.Y < far.Y { // level out to the same breadth instead of down
		shoulder = far.Add(geom.Pt(c.zone()/(c.seat-c.other).Cos(), 0))
	}
	right := math.Max(c.leastBase(), math.Max(shoulder.X, notch.X+c.zone()))
	if shoulder.X < right { // a side that leant in to the shoulder would leave the last screw no room
		right = math.Max(right, shoulder.X+2*easing)
	}
	raw := []geom.Point{{}, geom.Pt(right, 0)}
	if shoulder.X < right {
		raw = append(raw, geom.Pt(right, notch.Y))
	}
	raw = append(raw, shoulder, far, notch, near)
	n := len(raw)
	return finish(geom.Polygon(raw...), c.bit, []int{n - 2}, easing, 0, n-3, n-1), notch, far
}

// row returns where along the fence the first screw and the end of the first
// slot beside it stand; the last ones mirror them.
func (c cradle) row() (screw, slot float64) {
	const slack = 0.5 // mm more than the meat
	screw = c.meat + slack + bore(c.bit)/2
	return screw, screw + bore(c.bit)/2 + c.meat + slack + slotWide/2
}

// leastBase is the length of a fence edge that has room for a screw at each
// end and a clamp slot between them.
func (c cradle) leastBase() float64 {
	_, slot := c.row()
	return 2*slot + slotWide
}

// outward returns the way across the breadth of wood beside the seat's edge
// from the notch to the far end.
func (c cradle) outward(notch, far geom.Point) geom.Point {
	return far.Sub(notch).Unit().Left().Mul(-c.zone())
}

// build makes the plate with its slots, screws and seats of a jig that has its
// names already.
func (c cradle) build(j Jig, what string) Jig {
	outline, notch, far := c.plate()
	j.Outline = outline
	right := outline.Bounds().Max.X
	beside := c.outward(notch, far)
	// The ends are for the screws, what is between them for the clamps: two
	// slots along the fence where there is room, else one.
	y := c.zone() / 2
	screw, first := c.row()
	last := right - first
	middle, gap := (first+last)/2, (c.meat+slotWide)/2
	if last-first > c.meat+5*slotWide {
		j.Holes = clampSlot(outline, j.Holes, geom.Pt(first, y), geom.Pt(middle-gap, y), leastMeat)
		j.Holes = clampSlot(outline, j.Holes, geom.Pt(middle+gap, y), geom.Pt(last, y), leastMeat)
	} else {
		j.Holes = clampSlot(outline, j.Holes, geom.Pt(first, y), geom.Pt(last, y), leastMeat)
	}
	side := beside.Mul(0.5)
	j.Holes = clampSlot(outline, j.Holes, notch.Lerp(far, 0.3).Add(side), notch.Lerp(far, 0.75).Add(side), leastMeat)
	j.Holes = screws(outline, j.Holes, c.bit, leastMeat,
		geom.Pt(screw, y), geom.Pt(right-screw, y), far.Add(beside.Mul(0.6)))
	work := c.place().Contour(c.work)
	j.Seats = []Seat{{What: what, Work: work, Edges: against(work, outline)}, fenceSeat(outline)}
	return j
}

// base makes the plate below: as wide, with the same holes, and as far along
// the line of cut as the sheet allows.
func (c cradle) base(j Jig, p Params) Jig {
	box := geom.Box{Max: j.Outline.Bounds().Max}
	length := c.place().Point(geom.Pt(c.long, 0)).Y
	if room := math.Max(p.MaxW, p.MaxH); room > 0 {
		length = math.Min(length, room)
	}
	box.Max.Y = math.Max(box.Max.Y, length)
	j.Outline = ease(geom.Rect(box), easing, 0, 3)
	j.Seats = []Seat{fenceSeat(j.Outline)}
	return j
}

// fenceSeat is the saw's fence below a jig whose lower edge lies on the X axis
// and starts at the origin.
func fenceSeat(outline geom.Contour) Seat {
	right := outline.Bounds().Max.X
	fence := geom.Rect(geom.Box{Min: geom.Pt(-right/4, -right/8), Max: geom.Pt(right*5/4, 0)})
	return Seat{What: "saw fence", Work: fence, Edges: against(fence, outline)}
}

// set makes left and right plates and the base that does for both when turned
// over.
func (c cradle) set(u *star.Unit, p Params, key, name, what, use string) []Jig {
	// Half the work's height holds it; the clamps' arms press from above.
	left := c.build(Jig{Key: key, File: "jig-" + key + "-left", Title: name + ", left", Use: use,
		Quantity: layers(u.Thickness()/2, p.Thickness), Screwed: true}, what)
	right := left.turnedOver()
	right.File, right.Title = "jig-"+key+"-right", name+", right"
	base := c.base(left, p)
	base.File, base.Title, base.Quantity = "jig-"+key+"-base", name+", base", 2
	base.Use = "Screw the notched plate onto it, straight edges flush at the line of cut and at the fence; turned over it carries the other one."
	for _, j := range []*Jig{&left, &right, &base} {
		j.Text = c.letter(*j, name)
	}
	return []Jig{left, right, base}
}

// letter finds room for the name and what follows it in the title, or for the
// latter alone, along the fence or square to it.
func (c cradle) letter(j Jig, name string) []Label {
	o := j.Outline.Bounds()
	near := geom.Pt(o.Center().X, math.Copysign(c.zone(), o.Center().Y))
	room := newSeeker(newWood(j.Outline, j.Holes), near)
	side := strings.TrimPrefix(j.Title, name+", ")
	for _, lines := range [][]string{{name, side}, {side}} {
		for _, turn := range []geom.Angle{0, 90 * geom.Degree} {
			if text := room.inscribe(turn, lines...); len(text) == len(lines) {
				return text
			}
		}
	}
	return nil
}
