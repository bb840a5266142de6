package picture

import (
	"math"

	"starwright/geom"
)

// AngleDim is the dimension of an angle of the model, counter-clockwise from one
// direction to the other.
type AngleDim struct {
	At       geom.Point // where the sides meet
	From, To geom.Angle
	R        float64 // least radius of the arc, mm on the page; 0 for the usual
	Within   float64 // mm of the model that the arc had better not reach beyond; 0 for any
	Text     string
	Rays     bool // draw the sides too, where the model does not show them
}

// Radii of arcs, mm on the page.
const (
	usualRadius = 9.0
	leastRadius = 4.5 // smaller ones are not seen as arcs
)

// angle draws an angle's arc with its text on the bisector, as near beyond the
// arc as it is free; failing that the text stands apart, with a leader.
func (s *Picture) angle(v View, a AngleDim, within geom.Box) {
	o, sweep := v.Point(a.At), (a.To - a.From).Normal()
	mid := geom.Polar(1, a.From+sweep/2)
	w := Word{Text: a.Text, Type: dimType()}
	w.width = w.Type.Width(a.Text)
	least := a.R
	if least == 0 {
		least = usualRadius
	}
	if a.Within > 0 {
		least = math.Max(leastRadius, math.Min(least, a.Within*v.Scale))
	}
	least, ok := s.clearRadius(o, a, least)
	if !ok { // no arc that spares the words that are there
		s.label(o, Label{Text: a.Text, Mark: Arrow, Color: Blue, Away: mid}, within)
		return
	}
	const textNear = 8 // mm that the text may stand off the arc; else the arc moves out too
	const step, tries = 1.0, 16
	for i := range tries {
		r := least + step*float64(i)
		p := plate{u: geom.Pt(1, 0), hw: w.width / 2, hh: w.em() * capEm / 2}
		p.o = o.Add(mid.Mul(r + textGap + math.Abs(mid.X)*p.hw + math.Abs(mid.Y)*p.hh))
		w.At = p.o.Sub(geom.Pt(0, w.em()*capEm/2))
		if s.free(w.plate()) && within.Holds(w.plate().bounds()) {
			if i > textNear && s.arcMeetsWords(o, a, r) {
				break
			}
			if i <= textNear {
				r = least
			}
			s.arc(o, a, r)
			w.Plate = s.overHatch(w.plate())
			s.set(w)
			return
		}
	}
	s.arc(o, a, least)
	s.label(o.Add(mid.Mul(least)), Label{Text: a.Text, Mark: Dot, Color: Blue, Away: mid}, within)
}

// clearRadius returns the radius near the wanted one at which the arc crosses
// the fewest lines, and false where at any it runs through words.
func (s *Picture) clearRadius(o geom.Point, a AngleDim, want float64) (r float64, ok bool) {
	const word = 1000 // lines that a word counts for
	best, fewest := want, math.MaxInt
	for _, k := range []float64{1, 1.25, 0.8, 1.5, 0.65, 1.8, 0.5} {
		r := math.Max(leastRadius, want*k)
		n := 0
		if k != 1 && r*float64((a.To-a.From).Normal()) < 2*arrowLong+1 {
			n = 2 // the arrow heads come to stand outside
		}
		for _, c := range chords(o, a, r) {
			n += s.ink.crossings(c.A, c.B)
		}
		if s.arcMeetsWords(o, a, r) {
			n += word
		}
		if n < fewest {
			best, fewest = r, n
		}
	}
	return best, fewest < word
}

func (s *Picture) arcMeetsWords(o geom.Point, a AngleDim, r float64) bool {
	for _, c := range chords(o, a, r) {
		if s.overWords(bar(c.A, c.B)) {
			return true
		}
	}
	return false
}

// chords returns an angle's arc in straight pieces, without its ends, which
// lie on the angle's sides.
func chords(o geom.Point, a AngleDim, r float64) []geom.Curve {
	sweep := (a.To - a.From).Normal()
	ends := geom.Angle(math.Min(1.2/r, float64(sweep)/4))
	const n = 8
	out := make([]geom.Curve, n)
	at := func(i int) geom.Point { return o.Add(geom.Polar(r, a.From+ends+(sweep-2*ends)*geom.Angle(i)/n)) }
	for i := range out {
		out[i] = geom.Curve{A: at(i), B: at(i + 1)}
	}
	return out
}

// arc draws the arc and its arrow heads, inside where they fit.
func (s *Picture) arc(o geom.Point, a AngleDim, r float64) {
	sweep := (a.To - a.From).Normal()
	pen := Thin(Blue)
	if a.Rays {
		s.Line(o, o.Add(geom.Polar(r+overshoot, a.From)), pen)
		s.Line(o, o.Add(geom.Polar(r+overshoot, a.To)), pen)
	}
	at := func(t geom.Angle) geom.Point { return o.Add(geom.Polar(r, t)) }
	arc := func(from, sweep geom.Angle) {
		s.Curves([]geom.Curve{{A: at(from), B: at(from + sweep), Bulge: math.Tan(float64(sweep) / 4)}}, pen)
	}
	arc(a.From, sweep)
	out := 1.0 // which way the heads point: out of the angle
	if r*float64(sweep) < 2*arrowLong+1 {
		out = -1
		t := geom.Angle(tail / r)
		for _, from := range []geom.Angle{a.From - t, a.To} {
			if !s.overWords(bar(at(from), at(from+t))) {
				arc(from, t)
			}
		}
	}
	// A head lies along the chord of its own length, not along the tangent.
	bend := geom.Angle(arrowLong / r / 2 * out)
	s.arrow(at(a.From), geom.Polar(out, a.From-90*geom.Degree+bend), Blue)
	s.arrow(at(a.To), geom.Polar(out, a.To+90*geom.Degree-bend), Blue)
}

// Radius is the dimension of an arc or a circle of the model: a leader to its
// rim. The caller writes "R" or the diameter sign before the length.
type Radius struct {
	Center geom.Point
	R      float64 // mm
	Text   string
	Away   geom.Point // direction from the centre to the place on the rim; zero: to the upper right
}

func (s *Picture) radius(v View, r Radius, within geom.Box) {
	away := r.Away.Unit()
	if away == (geom.Point{}) {
		away = geom.Pt(1, 1).Unit()
	}
	rim := v.Point(r.Center.Add(away.Mul(r.R)))
	s.label(rim, Label{Text: r.Text, Mark: Arrow, Away: away, Color: Blue}, within)
}
