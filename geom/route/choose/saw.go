package choose

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/geom/route"
)

// cutting is one cut of a piece: where it runs in the piece's own plane, what is
// there before and what stays.
type cutting struct {
	piece  string
	before []geom.Point
	line   line // what stays lies to its left
	falls  string
	final  []geom.Point
}

// after returns what stays.
func (c cutting) after() []geom.Point {
	if c.final != nil {
		return c.final
	}
	return clip(c.before, c.line)
}

// contact is what work lies against: an edge along a line of its own plane, or
// a corner.
type contact struct {
	what   string
	edge   *line
	corner *geom.Point
	jig    string
}

func onEdge(what string, a, b geom.Point) contact { return contact{what: what, edge: &line{a, b}} }
func onCorner(what string, p geom.Point) contact  { return contact{what: what, corner: &p} }

// held is how a cut is set up. The line of cut leaves the fence at the origin of
// the machine; lean is its way from square, positive where it runs to the right
// on its way to the operator. What stays lies to the right of the line.
type held struct {
	method   route.Method
	exact    geom.Place // as the model would like it
	place    geom.Place // as the printed numbers put it
	from     geom.Point // of the line of cut; the origin but for work by hand
	lean     geom.Angle // as printed
	way      geom.Angle // as the model would like it
	left     bool       // what stays lies to the left of the line instead
	readings []route.Reading
	contacts []contact
	jigs     []route.JigUse
	foot     [2]float64 // stretch of the fence along which a jig lies, from left to right
	nose     float64    // where a block's nose stands on the fence
	side     float64    // of the piece that is cut, where that is settled; see [cutting.side]
	free     bool       // corrected after a test fit: the line of cut is not the model's
}

// mirror turns the set-up for a saw whose arm swings the other way.
func (h held) mirror() held {
	h.exact, h.place = mirrored(h.exact), mirrored(h.place)
	h.lean, h.way, h.left = -h.lean, -h.way, !h.left
	h.foot, h.nose = [2]float64{-h.foot[1], -h.foot[0]}, -h.nose
	return h
}

// ray returns a line of cut outwards from the fence.
func ray(from geom.Point, lean geom.Angle) line {
	return line{from, from.Add(geom.Pt(lean.Sin(), -lean.Cos()))}
}

// swing says which way the arm goes for a way from square.
func swing(lean geom.Angle) route.Side {
	switch {
	case lean < -geom.Rounding:
		return route.Left
	case lean > geom.Rounding:
		return route.Right
	}
	return ""
}

// direct holds a board by its edge against the fence, the end that keeps its
// length at the stop on the right: a facet of which the valley lies at the
// fence. down turns the show face to the table, and the other facet is cut.
func (m *maker) direct(u *unit, down bool) held {
	s, l := u.Segment, u.Blank.Length
	v := s.Valley()
	way := -s.CenterMiter()
	saw := angle(route.ReadSaw, -way, s.Facet*u.angleGain())
	stop := u.place(route.ReadStop, l-v.X, way.Cos()*u.facetGain())
	at := func(stop float64) geom.Place {
		return geom.Place{Mirror: down, Move: geom.Pt(stop-l, -s.Width/2)}
	}
	side := sideOf(down)
	h := side * s.Width / 2
	return held{
		method: route.Direct, exact: at(l - v.X), place: at(*stop.MM), way: way, lean: -geom.Deg(*saw.Deg),
		readings: []route.Reading{set(saw), set(stop)},
		contacts: []contact{onEdge(route.TouchFence, geom.Pt(0, h), geom.Pt(l, h)), onEdge(route.TouchStop, geom.Pt(l, -h), geom.Pt(l, h))},
	}
}

// sideOf returns the side of the work, 1 left or -1 right, that a set-up with
// the show face up has at the fence, and the other one with it down.
func sideOf(down bool) float64 {
	if down {
		return -1
	}
	return 1
}

// onBlock holds a board by its edge against an angle block, its far end at a
// stop on the block. As drawn and turned half round the block stands to the
// left of the line of cut, nose towards it; the board slopes away from the
// fence to the left, and the facet far from the block is cut.
func (m *maker) onBlock(u *unit, b block, down bool) held {
	s, l, half := u.Segment, u.Blank.Length, u.Segment.Width/2
	way := -b.setting
	centre := b.nose + half*b.angle.Cos() // of the star's centre from the fence
	saw := angle(route.ReadSaw, b.setting, (centre/way.Cos()+s.Facet)*u.angleGain())
	turn := angle(route.ReadBlock, b.angle, s.Facet*u.angleGain())
	off := half*b.angle.Sin() + centre*b.setting.Tan()
	nose := u.place(route.ReadNose, off, way.Cos()*u.facetGain())
	stop := u.place(route.ReadStop, l, (b.angle+b.setting).Cos()*u.facetGain())
	// The board lies turned half round, and sloping on from there: its far end
	// points to the left and to the operator.
	a := 180*geom.Degree + b.angle
	at := func(nose, stop float64) geom.Place {
		corner := geom.Pt(-nose, -b.nose)                     // of the nose, where the board's end lies when the stop is right
		corner = corner.Add(geom.Polar(stop-l, a))            // where it lies
		mid := corner.Add(geom.Polar(half, a+90*geom.Degree)) // of the board's end: the fence is on its right
		return geom.Place{Mirror: down, Turn: a, Move: mid}
	}
	side := -sideOf(down)
	h := side * half
	touches := []contact{onEdge(route.TouchBlock, geom.Pt(0, h), geom.Pt(l, h)), onEdge(route.TouchStop, geom.Pt(l, -h), geom.Pt(l, h))}
	touches[0].jig, touches[1].jig = b.use.Path, b.use.Path
	return held{
		method: route.OnBlock, exact: at(off, l), place: at(*nose.MM, *stop.MM), way: way, lean: -geom.Deg(*saw.Deg), left: true,
		readings: []route.Reading{set(saw), turn, set(nose), set(stop)},
		contacts: touches, jigs: []route.JigUse{b.use}, nose: -off, foot: [2]float64{-off - b.foot[1], -off - b.foot[0]},
	}
}

// block is the angle block of a facet cut.
type block struct {
	angle, setting geom.Angle
	nose           float64    // height of its nose over the fence, mm
	foot           [2]float64 // from the nose along the fence: where its fence edge begins and ends, mm
	use            route.JigUse
}

// onFacet holds a segment by a finished facet against the fence, the star's
// centre at the stop on the right; the cut runs from the facet's valley, at the
// fence, to the tip.
func (m *maker) onFacet(u *unit, down bool) held {
	s := u.Segment
	way := -(90*geom.Degree - s.Center/2 - s.Tip/2)
	saw := angle(route.ReadSaw, -way, u.tipReach())
	stop := u.place(route.ReadStop, s.Facet, way.Cos()*u.tipGain())
	at := func(stop float64) geom.Place {
		// The right facet (the left one, show face down) runs from the centre
		// at the stop to the left.
		return geom.Place{Mirror: down, Turn: 180*geom.Degree + s.Center/2, Move: geom.Pt(stop, 0)}
	}
	v := valley(s, -sideOf(down))
	return held{
		method: route.OnFacet, exact: at(s.Facet), place: at(*stop.MM), way: way, lean: -geom.Deg(*saw.Deg),
		readings: []route.Reading{set(saw), set(stop)},
		contacts: []contact{onEdge(route.TouchFence, geom.Pt(0, 0), v), onCorner(route.TouchStop, geom.Pt(0, 0))},
	}
}

// onTipEdge holds a glued pair by an outer edge against the fence, the tip at
// the stop on the right; the cut runs from the edge's valley, at the fence,
// through the star's centre.
func (m *maker) onTipEdge(u *unit, down bool) held {
	s := u.Segment
	way := -(90*geom.Degree - s.Center/2 - s.Tip/2)
	saw := angle(route.ReadSaw, -way, s.Facet*u.angleGain())
	stop := u.place(route.ReadStop, s.Edge, way.Cos()*u.facetGain())
	at := func(stop float64) geom.Place {
		// The left edge (the right one, show face down) runs from the tip at the
		// stop to the left: in the piece from (L,0) at 180° - t/2.
		t := geom.Place{Mirror: down, Turn: s.Tip / 2}
		t.Move = geom.Pt(stop, 0).Sub(t.Point(geom.Pt(s.Length, 0)))
		return t
	}
	tip := geom.Pt(s.Length, 0)
	v := valley(s, sideOf(down))
	return held{
		method: route.OnEdge, exact: at(s.Edge), place: at(*stop.MM), way: way, lean: -geom.Deg(*saw.Deg),
		readings: []route.Reading{set(saw), set(stop)},
		contacts: []contact{onEdge(route.TouchFence, tip, v), onCorner(route.TouchStop, tip)},
	}
}

// cradled holds work in the left or right plate of a cradle, show face up. The
// jig's drawing, turned half round, is the machine's plane: its fence edge lies
// along the fence, its line of cut is the machine's.
func (m *maker) cradled(c cradle, right bool) held {
	half := 180 * geom.Degree
	at := geom.Place{Turn: c.lies.Turn + half, Move: c.lies.Move.Mul(-1)}
	h := held{method: route.Cradled, left: true, readings: []route.Reading{set(angle(route.ReadSaw, 0, 1))}}
	use, v, w := c.left, c.near, c.far
	if right {
		// The right plate is the left one seen in a mirror. The work that lies in
		// it is not: it is turned about its axis in thought.
		at = mirrored(geom.Place{Mirror: true, Turn: at.Turn, Move: at.Move})
		// The place before was for work mirrored in its axis, which runs through
		// the origin of the notch along x.
		h.left = false
		use, v, w = c.right, c.far, c.near
	}
	at = c.own(at)
	h.exact, h.place = at, at
	h.foot = [2]float64{-c.foot[1], -c.foot[0]}
	if right {
		h.foot = c.foot
	}
	h.jigs = []route.JigUse{use}
	for _, p := range []geom.Point{v, w} {
		t := onEdge(route.TouchCradle, c.notch, p)
		t.jig = use.Path
		h.contacts = append(h.contacts, t)
	}
	return h
}

// cradle is a cradle with the work in it.
type cradle struct {
	lies        geom.Place                  // of work whose notch corner is the origin and whose axis is +x, in the left plate's drawing
	own         func(geom.Place) geom.Place // turns a place of such work into one of the piece's own plane
	notch       geom.Point                  // of the piece: the corner in the notch
	near, far   geom.Point                  // ends of the two edges in it, at the line of cut in the left plate and not
	left, right route.JigUse
	foot        [2]float64 // of its fence edge, from the line of cut
	carries     string
}

// drawn holds work by a line drawn on it, for hand tools: the piece lies as in
// its own plane, its left edge along the bench's. The line runs from a point on
// the edge to a point of the axis or the end.
func drawn(u *unit, c cutting, top float64, from, to geom.Point) held {
	t := geom.Place{Move: geom.Pt(0, -top)}
	a, b := t.Point(from), t.Point(to)
	d := b.Sub(a)
	lean := geom.Angle(math.Atan2(d.X, -d.Y))
	e := t.Point(c.line.a)
	f := t.Point(c.line.b).Sub(e)
	if f.Dot(d) < 0 {
		f = f.Mul(-1)
	}
	h := held{method: route.ByHand, exact: t, place: t, from: a, lean: lean, way: geom.Angle(math.Atan2(f.X, -f.Y))}
	keep := t.Point(inside(c.after()))
	h.left = ray(a, lean).off(keep) < 0
	h.contacts = []contact{{what: route.TouchLine}}
	return h
}

// inside returns a point within a convex outline.
func inside(poly []geom.Point) geom.Point {
	var sum geom.Point
	for _, p := range poly {
		sum = sum.Add(p)
	}
	return sum.Mul(1 / float64(len(poly)))
}

// sawn fills a set-up with how a cut is held. It says so where the two do not
// belong together, which would be a slip in this package.
func (m *maker) sawn(s *route.Setup, u *unit, c cutting, h held) error {
	const same = 1e-5 // mm
	want := ray(h.from, h.way)
	if h.method == route.ByHand {
		want = line{h.exact.Point(c.line.a), h.exact.Point(c.line.b)}
	}
	for _, p := range []geom.Point{c.line.a, c.line.b} {
		if off := want.off(h.exact.Point(p)); math.Abs(off) > same && !h.free {
			return fmt.Errorf("route: %s: the cut lies %.4f mm beside the line of cut", s.Name, off)
		}
	}
	kerf := u.Spec.Kerf
	cut := ray(h.from, h.lean)
	fall := -kerf // the kerf lies to the right of the line, seen from the fence
	if h.left {
		fall = kerf
	}
	// Seen from the fence outwards, what lies at greater X is on the left.
	if keep := cut.off(h.place.Point(inside(c.after()))); (keep > 0) == h.left {
		return fmt.Errorf("route: %s: the wrong side of the cut is kept", s.Name)
	}
	reach := reachOn(placed(c.before, h.place), cut, fall)
	s.Method = h.method
	s.Readings = append(s.Readings, h.readings...)
	over := reach
	if h.method != route.ByHand {
		r := u.atLeast(route.ReadReach, reach)
		s.Readings = append(s.Readings, r)
		over = max(reach, *r.MM)
		s.Swing, s.Setting = swing(h.lean), geom.Angle(math.Abs(float64(h.lean)))
	}
	dir := cut.b.Sub(cut.a)
	from := cut.a
	if h.method == route.ByHand { // a hand saw starts before the wood and ends behind it
		from = from.Sub(dir.Mul(u.Segment.Width))
		over += u.Segment.Width
	}
	s.Cut = &route.Cut{From: from, To: cut.a.Add(dir.Mul(over)), KeepLeft: !h.left, Kerf: kerf, Reach: reach}
	s.Hold = &route.Hold{ShowFaceDown: h.place.Mirror, Turn: h.place.Turn, X: h.place.Move.X, Y: h.place.Move.Y}
	s.Piece = &route.Piece{Kind: c.piece, Before: c.before, After: c.after(), Falls: c.falls}
	s.Jigs = h.jigs
	for _, t := range h.contacts {
		touch := route.Touch{What: t.what, Edge: -1, Corner: -1, Jig: t.jig}
		if t.edge != nil {
			touch.Edge = edgeAlong(c.before, *t.edge)
		}
		if t.corner != nil {
			touch.Corner = cornerAt(c.before, *t.corner)
		}
		if t.edge != nil && touch.Edge < 0 || t.corner != nil && touch.Corner < 0 {
			return fmt.Errorf("route: %s: the piece has nothing to lie against the %s", s.Name, t.what)
		}
		s.Touches = append(s.Touches, touch)
	}
	return nil
}
