package picture

import (
	"math"
	"slices"

	"starwright/geom"
)

// Side says where a dimension line runs.
type Side uint8

// The sides. On the first four the dimension is of the distance along X or Y
// only and its line runs outside of the model.
const (
	Below Side = iota
	Above
	Left
	Right
	Aligned // along the way from A to B
)

// Dim is a dimension between two places of the model.
type Dim struct {
	A, B geom.Point
	Side Side
	Off  float64 // of an aligned one: mm on the page to the left of the way from A to B
	Text string  // instead of the distance
}

// Arrow heads, mm on the page.
const (
	arrowLong = 2.4
	arrowWide = 0.8
	tail      = 4.5 // of an arrow that points inwards from outside
	overshoot = 1.2 // of an extension line beyond the dimension line
	offPart   = 0.8 // of an extension line from what it belongs to
	textGap   = 1.0 // between a dimension line and its text
)

// dimLine is a dimension as it lies on the page.
type dimLine struct {
	Dim
	a, b  geom.Point // measured places
	p, q  geom.Point // ends of the dimension line
	text  string
	width float64
	owner int32
}

func (d *dimLine) span() float64 { return d.p.Dist(d.q) }

func (d *dimLine) dir() geom.Point { return d.q.Sub(d.p).Unit() }

// inside reports whether text and arrows fit between the arrows' points.
func (d *dimLine) inside() bool { return d.span() >= d.width+2*(arrowLong+textGap) }

// arrowsInside reports whether the arrow heads fit alone.
func (d *dimLine) arrowsInside() bool { return d.span() >= 2*arrowLong+1 }

// reach is how far text and tails stand out beyond each end.
func (d *dimLine) reach() float64 {
	if d.inside() {
		return 0
	}
	return tail + 2*textGap + d.width
}

func dimType() Type { return Type{Size: SizeText, Color: Blue, Align: AlignCenter} }

// dims draws the dimensions of a panel whose model lies in body.
// Their words stay within a box of the page.
func (s *Picture) dims(v View, dims []Dim, body, within geom.Box, say Say) {
	var lines []*dimLine
	for _, d := range dims {
		l := &dimLine{Dim: d, a: v.Point(d.A), b: v.Point(d.B), text: d.Text, owner: s.ink.newOwner()}
		if l.text == "" {
			l.text = say(d.length())
		}
		l.width = dimType().Width(l.text)
		lines = append(lines, l)
	}
	for _, side := range []Side{Below, Above, Left, Right} {
		layRows(lines, side, body)
	}
	for _, l := range lines {
		if l.Side == Aligned {
			n := l.b.Sub(l.a).Unit().Left().Mul(l.Off)
			l.p, l.q = l.a.Add(n), l.b.Add(n)
		}
		s.extension(l.a, l.p)
		s.extension(l.b, l.q)
		s.ink.owned(l.p, l.q, l.owner)
	}
	for _, l := range lines {
		s.dimText(l, within)
	}
}

// length returns the distance that is measured, in mm of the model.
func (d Dim) length() float64 {
	switch d.Side {
	case Below, Above:
		return math.Abs(d.A.X - d.B.X)
	case Left, Right:
		return math.Abs(d.A.Y - d.B.Y)
	}
	return d.A.Dist(d.B)
}

// layRows lays the dimension lines of one side in rows, short ones next to the
// model, so that extension lines of long ones pass outside of them.
func layRows(all []*dimLine, side Side, body geom.Box) {
	var lines []*dimLine
	for _, l := range all {
		if l.Side == side {
			lines = append(lines, l)
			along := func(p geom.Point) float64 {
				if side == Below || side == Above {
					return p.X
				}
				return p.Y
			}
			if along(l.a) > along(l.b) {
				l.a, l.b = l.b, l.a
			}
			l.p, l.q = row(l.a, side, body, 0), row(l.b, side, body, 0)
		}
	}
	slices.SortStableFunc(lines, func(l, m *dimLine) int {
		switch d := l.span() - m.span(); {
		case d < -geom.Rounding:
			return -1
		case d > geom.Rounding:
			return 1
		}
		return 0
	})
	var rows [][][2]float64
	for _, l := range lines {
		u := l.dir()
		lo, hi := l.p.Dot(u), l.q.Dot(u)+l.reach()
		k := 0
		for k < len(rows) && slices.ContainsFunc(rows[k], func(t [2]float64) bool {
			return lo < t[1]+clearWord && t[0] < hi+clearWord && !(lo >= t[1]-geom.Rounding || hi <= t[0]+geom.Rounding)
		}) {
			k++
		}
		if k == len(rows) {
			rows = append(rows, nil)
		}
		rows[k] = append(rows[k], [2]float64{lo, hi})
		l.p, l.q = row(l.a, side, body, k), row(l.b, side, body, k)
	}
}

// row returns the end of a dimension line for a measured place.
func row(p geom.Point, side Side, body geom.Box, k int) geom.Point {
	off := firstRow + nextRow*float64(k)
	switch side {
	case Below:
		return geom.Pt(p.X, body.Min.Y-off)
	case Above:
		return geom.Pt(p.X, body.Max.Y+off)
	case Left:
		return geom.Pt(body.Min.X-off, p.Y)
	}
	return geom.Pt(body.Max.X+off, p.Y)
}

// extension draws the line from a measured place to its dimension line.
func (s *Picture) extension(from, to geom.Point) {
	d := to.Sub(from)
	if d.Len() <= offPart+0.2 {
		return
	}
	u := d.Unit()
	s.Line(from.Add(u.Mul(offPart)), to.Add(u.Mul(overshoot)), Thin(Blue))
}

// upright returns the direction of text along u so that it can be read from
// below or from the right.
func upright(u geom.Point) geom.Angle {
	const level = geom.Rounding
	if u.X < -level || math.Abs(u.X) <= level && u.Y < 0 {
		u = u.Mul(-1)
	}
	a := u.Angle()
	if math.Abs(float64(a)) < level {
		return 0
	}
	return a
}

// dimText finds a place for the text and draws text, line and arrows: between
// the arrows, beside an upright line, beyond an end, or apart with a leader.
func (s *Picture) dimText(l *dimLine, within geom.Box) {
	u := l.dir()
	w := Word{Text: l.text, Type: dimType(), width: l.width}
	w.Turn = upright(u)
	down := geom.Polar(1, w.Turn).Left().Mul(-w.em() * capEm / 2)
	out := textGap + l.width/2
	if !l.arrowsInside() {
		out += tail
	}
	var mids []geom.Point
	if l.inside() {
		free := (l.span() - l.width - 2*(arrowLong+textGap)) / l.span() / 2
		for _, t := range []float64{0, -0.5, 0.5, -0.9, 0.9} {
			mids = append(mids, l.p.Lerp(l.q, 0.5+t*free))
		}
	} else if s.beside(l, w, within) {
		return
	}
	mids = append(mids, l.q.Add(u.Mul(out)), l.p.Sub(u.Mul(out)))
	for _, mid := range mids {
		w.At = mid.Add(down)
		if s.dimFree(w, l, within) {
			s.dimDraw(l, mid)
			s.dimWord(w)
			return
		}
	}
	s.dimDraw(l, l.p.Sub(u.Mul(offPage)))
	s.label(l.p.Lerp(l.q, 0.5), Label{Text: l.text, Mark: Dot, Color: Blue, Away: l.p.Sub(l.a)}, within)
}

func (s *Picture) dimFree(w Word, l *dimLine, within geom.Box) bool {
	p := w.plate()
	return within.Holds(p.bounds()) && !s.overWords(p) && !s.ink.hitsBut(p, l.owner)
}

func (s *Picture) dimWord(w Word) {
	w.Plate = s.overHatch(w.plate())
	s.set(w)
}

// beside sets the text of an upright dimension that is too short for it level
// beside its line, if that is free.
func (s *Picture) beside(l *dimLine, w Word, within geom.Box) bool {
	if l.Side != Left && l.Side != Right {
		return false
	}
	out := textGap + l.width/2
	if l.Side == Left {
		out = -out
	}
	w.Turn = 0
	w.At = l.p.Lerp(l.q, 0.5).Add(geom.Pt(out, -w.em()*capEm/2))
	if !s.dimFree(w, l, within) {
		return false
	}
	s.dimDraw(l, l.p.Sub(l.dir().Mul(offPage)))
	s.dimWord(w)
	return true
}

// offPage stands for the distance of a dimension's text from its line where the text
// is elsewhere, mm: farther than any page, so that the line gets no gap for it.
const offPage = 1e3

// dimDraw draws line and arrows of a dimension whose text has its middle at
// mid; the line has a gap there.
func (s *Picture) dimDraw(l *dimLine, mid geom.Point) {
	u, pen := l.dir(), Thin(Blue)
	t := mid.Sub(l.p).Dot(u)
	half := l.width/2 + textGap
	if t-half > 0 && t+half < l.span() {
		s.Line(l.p, l.p.Add(u.Mul(t-half)), pen)
		s.Line(l.p.Add(u.Mul(t+half)), l.q, pen)
	} else {
		s.Line(l.p, l.q, pen)
	}
	if l.arrowsInside() {
		s.arrow(l.p, u.Mul(-1), Blue)
		s.arrow(l.q, u, Blue)
	} else {
		s.arrow(l.p, u, Blue)
		s.arrow(l.q, u.Mul(-1), Blue)
		for _, end := range []geom.Curve{{A: l.p, B: l.p.Sub(u.Mul(tail))}, {A: l.q, B: l.q.Add(u.Mul(tail))}} {
			if !s.overWords(bar(end.A, end.B)) {
				s.Line(end.A, end.B, pen)
			}
		}
	}
}

// arrow draws an arrow head with its point at p, pointing along u.
func (s *Picture) arrow(p, u geom.Point, c Color) {
	back := p.Sub(u.Mul(arrowLong))
	n := u.Left().Mul(arrowWide / 2)
	s.Fill(c, geom.Polygon(p, back.Add(n), back.Sub(n)))
}
