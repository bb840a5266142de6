package jig

import (
	"math"
	"strings"

	"starwright/geom"
	"starwright/geom/problem"
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
	kerf  float64      // of the saw, mm
	hold  float64      // length of the far edge that the plate holds, from the notch, mm
}

// Proportions of a cradle for a small sheet, and of the bed beside it. Common
// practice, no source.
const (
	leastHold = 0.4 // part of the far edge that must lie in the notch
	bedOver   = 1.4 // a bed that cannot reach as far as the off-cut reaches so far, of its middle's distance
	bedShort  = 0.5 // and ends so much of the way from the end of the cut to its middle
)

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
	notch, far = t.Point(geom.Point{}), t.Point(geom.Polar(c.hold, -c.seat))
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
	j.Outline, j.Holes = outline, nil
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

// fenceName is the work of a seat that lies against the saw's fence.
const fenceName = "saw fence"

// fenceSeat is the saw's fence below a jig whose lower edge lies on the X axis.
func fenceSeat(outline geom.Contour) Seat {
	box := outline.Bounds()
	over := box.W() / 4
	fence := geom.Rect(geom.Box{Min: geom.Pt(box.Min.X-over, -over/2), Max: geom.Pt(box.Max.X+over, 0)})
	return Seat{What: fenceName, Work: fence, Edges: against(fence, outline)}
}

// set makes left and right plates, the base that does for both when turned
// over, and a bed of the same height for the off-cut. Where the sheet has no
// room for base and bed, the cradle is made to lie on the saw's table itself,
// which then carries both.
func (c cradle) set(u *star.Unit, p Params, key, name, what string) ([]Jig, problem.List) {
	// Half the work's height holds it; the clamps' arms press from above.
	high := layers(u.Thickness()/2, p.Thickness)
	left := Jig{Key: key, File: "jig-" + key + "-left", Title: name + ", left", Hand: "left", Quantity: high, Screwed: true}
	for c.hold = c.edge; ; c.hold *= 0.95 {
		if left = c.build(left, what); p.fits(left.Outline) {
			break
		}
		if c.hold < leastHold*c.edge {
			return nil, problem.List{p.tooLarge(u.Spec.Unit, key, name, left.Outline)}
		}
	}
	base, bed, ok := c.beds(left, p)
	left.Build = c.how(u, p, &left, what, ok)
	right := left.turnedOver()
	right.File, right.Title, right.Hand = "jig-"+key+"-right", name+", right", "right"
	right.Build = left.Build.moved(geom.Place{Mirror: true}.Point)
	right.Build.Hand, right.Build.Title = right.Hand, right.Title
	for i := range right.Build.Layers {
		l := &right.Build.Layers[i]
		if l.Over = l.File != left.File; !l.Over {
			l.File = right.File
		}
	}
	out := []Jig{left, right}
	if ok {
		out = append(out, base, bed)
	}
	for i := range out {
		out[i].Text = c.letter(out[i], name)
	}
	return out, nil
}

// how says how the cradle is put together and used.
func (c cradle) how(u *star.Unit, p Params, left *Jig, what string, based bool) *Build {
	t := c.place()
	h := &Build{
		Key: left.Key, Hand: left.Hand, Title: left.Title, Bore: bore(c.bit),
		What: what, Work: left.Seats[0].Work, Seats: left.Seats[0].Edges, Stop: t.Point(geom.Point{}),
		Fence: left.Seats[1].Edges, Cut: geom.Curve{B: geom.Pt(0, c.severed())}, Tip: t.Point(geom.Pt(c.long, 0)).Y,
		Offcut: sawTable, Height: float64(left.Quantity) * p.Thickness, Small: !based || c.hold < c.edge,
	}
	h.Clamps = clampsOf(left.Holes, func(m geom.Point) string {
		if m.Y < c.zone() {
			return "jig"
		}
		return "work"
	})
	screws := screwsIn(left.Holes)
	if based {
		h.Offcut, h.Bed = "off-cut base", p.Thickness
		h.Height += p.Thickness
		h.Layers = []Layer{{File: "jig-" + left.Key + "-base", Plate: "base", Count: 1, Screws: screws}}
	}
	h.Layers = append(h.Layers, Layer{File: left.File, Plate: "notched plate", Count: left.Quantity, Screws: screws})
	if based {
		h.Layers = append(h.Layers, Layer{File: "jig-" + left.Key + "-base-offcut", Plate: h.Offcut, Count: 1, Loose: true})
	}
	return h
}

// letter finds room for the name and what follows it in the title, or for the
// latter alone, along the fence or square to it.
func (c cradle) letter(j Jig, name string) []Label {
	o := j.Outline.Bounds()
	near := geom.Pt(o.Center().X, math.Copysign(c.zone(), o.Center().Y))
	room := newSeeker(newWood(j.Outline, j.Holes), near)
	defer room.free()
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
