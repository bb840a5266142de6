package choose

import (
	"math"

	"starwright/geom"
	"starwright/geom/route"
)

// shimStep is what shims are counted in, and the decimals that say it.
type shimStep struct {
	mm       float64
	decimals int
}

// Correct is a correction after a test fit: each facet of a unit is to stand so
// much steeper to the board's axis, or flatter where it is negative.
type Correct struct {
	Unit  int
	Angle geom.Angle
}

// The shims that are tried, the coarsest first: whole sheets of paper, then what is
// filed or scraped to a hundredth, then to half of one, as far as a caliper reads.
var (
	shims     = []shimStep{{sheetOfPaper, 2}, {0.01, 2}, {0.005, 3}}
	inchShims = []shimStep{{inchPaper * geom.MMPerInch, 3}, {1e-3 * geom.MMPerInch, 3}, {5e-4 * geom.MMPerInch, 4}}
)

// Measures of shims, mm. Common practice, no source.
const (
	sheetOfPaper = 0.1  // office paper; shims are so many sheets
	inchPaper    = 4e-3 // of an inch: the same, as inch jobs write it
	thinnest     = 1e-3 // less turns nothing that can be measured
	shimFromEnd  = 10.0 // a shim lies at least so far within what it lifts
	stiff        = 0.55 // of the length along the fence: nearer to the end that stays, the work would rock over the shim
	pointed      = 5.0  // gain of what places a corrected cut: to a hundredth, so that both facets still meet in a point
	finer        = 10.0 // numbers that carry a correction are written so much finer than others
	throat       = 20.0 // and so far from the line of cut, where a saw's fence is open
)

// corrected turns the work, or the jig with the work in it, by a shim at the
// fence, so that the facet comes out by the correction steeper to the axis.
func (m *maker) corrected(u *unit, c cutting, h held) (held, error) {
	delta := m.correct.Angle
	if h.method == route.ByHand {
		return m.handCorrected(u, c, h, delta), nil
	}
	// The way in which the work must turn: the facet is where the line of cut
	// is; the axis turns away from it, or towards it.
	s := u.Segment
	centre := geom.Point{}
	v := c.line.a
	if v.Len() < near {
		v = c.line.b
	}
	axis := h.exact.Point(geom.Pt(s.Length, 0)).Sub(h.exact.Point(centre))
	facet := h.exact.Point(v).Sub(h.exact.Point(centre))
	turn := delta
	if axis.Cross(facet) > 0 { // the facet lies counter-clockwise from the axis
		turn = -delta
	}
	from, to := h.onFence(c) // what lies along the fence, from left to right
	pivot, end := from, to   // clockwise: the left end stays
	if turn > 0 {
		pivot, end = to, from
	}
	shim, at, real := m.shim(u, h.left, pivot, end, geom.Angle(math.Abs(float64(turn))))
	if *shim.MM == 0 && turn != 0 && h.lean != 0 && h.method != route.OnBlock {
		return m.sawCorrected(u, c, h, turn), nil
	}
	if turn < 0 {
		real = -real
	}
	moved := func(t geom.Place) geom.Place { return turnedAbout(t, geom.Pt(pivot, 0), real) }
	h.exact, h.place = moved(h.exact), moved(h.place)
	// Work and block are then moved along the fence until the star's centre lies
	// on the line of cut again. A cradle stays where its corner is: nothing but
	// the eye sets it.
	back := 0.0
	if h.method != route.Cradled {
		p := h.exact.Point(centre)
		back = -p.X - p.Y*h.lean.Tan() // to the line of cut, which passes the origin
	}
	h.exact.Move.X += back
	h.place.Move.X += back
	h.shift(u, back, pivot, real)
	// Twice what the last joint gives for a millimetre that the shim lies elsewhere:
	// of a corrected joint only half may go to its place.
	gain := 4 * float64(u.Points) * s.Facet * real.Tan() / math.Max(near, math.Abs(at-pivot))
	h.readings = append(h.readings, set(shim), set(u.place(route.ReadShimAt, math.Abs(at+back), math.Max(0.1, math.Abs(gain)))))
	h.free, h.side = true, c.side()
	return h, nil
}

// sawCorrected turns the saw instead of the work, where there is no room for a
// shim that holds the work still.
func (m *maker) sawCorrected(u *unit, c cutting, h held, turn geom.Angle) held {
	way := h.lean - turn // from the setting as it was printed: the gap came from that
	saw := set(angle(route.ReadSaw, geom.Angle(math.Abs(float64(way))), finer*u.Segment.Facet*u.facetGain()))
	h.lean = geom.Deg(*saw.Deg)
	if way < 0 {
		h.lean = -h.lean
	}
	p := h.exact.Point(geom.Point{})
	back := -p.X - p.Y*way.Tan()
	h.exact.Move.X += back
	h.place.Move.X += back
	for i, r := range h.readings {
		if r.Name == route.ReadSaw {
			h.readings[i] = saw
		}
	}
	h.shift(u, back, 0, 0)
	h.free, h.side = true, c.side()
	return h
}

// turnedAbout returns a placement turned further about a point of the machine.
func turnedAbout(t geom.Place, about geom.Point, by geom.Angle) geom.Place {
	r := geom.Place{Turn: by}
	t.Turn += by
	t.Move = r.Point(t.Move.Sub(about)).Add(about)
	return t
}

// onFence returns the stretch of the fence along which the work or its jig lies.
func (h held) onFence(c cutting) (from, to float64) {
	if h.method == route.OnBlock || h.method == route.Cradled {
		return h.foot[0], h.foot[1]
	}
	from, to = math.Inf(1), math.Inf(-1)
	const same = 1e-4
	for _, p := range placed(c.before, h.exact) {
		if math.Abs(p.Y) < same {
			from, to = math.Min(from, p.X), math.Max(to, p.X)
		}
	}
	return from, to
}

// shift moves the readings that place the work along the fence after it was
// turned and moved.
func (h *held) shift(u *unit, back, pivot float64, by geom.Angle) {
	for i, r := range h.readings {
		var now float64
		switch {
		case r.Name == route.ReadNose:
			// The nose stands on the fence at the end of the block's foot that
			// is nearer to the line of cut.
			nose := geom.Pt(h.nose, 0)
			nose = turnedAbout(geom.Place{Move: nose}, geom.Pt(pivot, 0), by).Move
			now = math.Abs(nose.X + back)
		case r.Name == route.ReadStop && h.method != route.OnBlock:
			far := math.Inf(-1)
			for _, t := range h.contacts {
				if t.what != route.TouchStop {
					continue
				}
				for _, p := range t.points() {
					far = math.Max(far, h.exact.Point(p).X)
				}
			}
			now = far
		default:
			continue
		}
		next := set(u.place(r.Name, now, pointed))
		h.readings[i] = next
		// The printed number is what the work is pushed to.
		d := *next.MM - now
		if h.left {
			d = -d
		}
		h.place = h.exact
		h.place.Move.X += d
	}
}

// points returns the points by which a contact is given.
func (t contact) points() []geom.Point {
	if t.edge != nil {
		return []geom.Point{t.edge.a, t.edge.b}
	}
	if t.corner != nil {
		return []geom.Point{*t.corner}
	}
	return nil
}

// shim returns how thick a shim between fence and work turns it by an angle, and
// where it lies: as many sheets of paper as the length allows. pivot is the end
// that stays at the fence, end the other one; left says that what the cut leaves
// lies on the left.
func (m *maker) shim(u *unit, left bool, pivot, end float64, by geom.Angle) (thick route.Reading, at float64, real geom.Angle) {
	way, stays := 1.0, 1.0
	if end < pivot {
		way = -1
	}
	if left {
		stays = -1
	}
	span, tan := math.Abs(end-pivot), by.Tan()
	most, least := span-shimFromEnd, stiff*span
	if stays*end < throat { // on the side that stays, and clear of the opening at the blade
		most = math.Min(most, stays*pivot-throat)
	}
	if stays*pivot < 0 {
		least = math.Max(least, throat-stays*pivot)
	}
	if most < least { // a small piece: as near to the blade as it goes
		most = span - shimFromEnd/4
		if stays*end < 0 {
			most = math.Min(most, stays*pivot)
		}
	}
	// Whole sheets of paper where they turn it so far, else as thin as it must be.
	mm, decimals, steps := most*tan, 3, shims
	if u.Spec.Unit == geom.Inch {
		decimals, steps = 4, inchShims
	}
	for _, step := range steps {
		if n := math.Floor(mm/step.mm+near) * step.mm; n > 0 && n >= least*tan {
			mm, decimals = n, step.decimals
			break
		}
	}
	thick = u.exact(route.ReadShim, mm, decimals)
	if most < least || mm < thinnest {
		return u.exact(route.ReadShim, 0, 0), end, 0
	}
	lever := math.Min(*thick.MM/tan, span)
	return thick, pivot + way*lever, geom.Angle(math.Atan2(*thick.MM, lever))
}

// handCorrected moves the marks of a cut by hand. It starts from the line that
// the printed marks made, for the gap came from that.
func (m *maker) handCorrected(u *unit, c cutting, h held, delta geom.Angle) held {
	s, side := u.Segment, c.side()
	var from, to geom.Point
	var read []route.Reading
	if u.From == nil {
		across := h.readings[1]
		half := geom.Angle(math.Atan2(*across.MM, *h.readings[0].MM)) + delta
		along := set(u.place(route.ReadAlong, *across.MM*half.Cot(), finer*u.markGain()*half.Sin()))
		from, to = geom.Pt(*along.MM, side*s.Width/2), geom.Pt(0, side*(s.Width/2-*across.MM))
		read = []route.Reading{along, across}
	} else {
		along, tip := h.readings[0], geom.Pt(s.Length, 0)
		from = tip.Add(valley(s, side).Sub(tip).Unit().Mul(*along.MM))
		half := geom.Angle(math.Atan2(math.Abs(from.Y), from.X-(s.Length-*h.readings[1].MM))) + delta
		axis := set(u.place(route.ReadAxis, s.Length-(from.X-math.Abs(from.Y)*half.Cot()), finer*u.markGain()))
		to = geom.Pt(s.Length-*axis.MM, 0)
		read = []route.Reading{along, axis}
	}
	out := drawn(u, c, -h.place.Move.Y, from, to)
	out.readings, out.free = read, true
	return out
}
