package picture

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"starwright/geom"
)

// Mark says how a label is tied to its place.
type Mark uint8

// The marks.
const (
	Near  Mark = iota // stands next to it, no line
	Dot               // a leader that ends in a dot: on an area
	Arrow             // a leader that ends in an arrow head: on a line
	On                // stands on the place itself or within In; else a leader
)

// Label is words for a place of the model. Where they stand is found when they
// are drawn: free of lines and other words, near the place, and if possible in
// the direction Away from it.
type Label struct {
	At    geom.Point
	Text  string // "\n" breaks the line
	Mark  Mark
	Away  geom.Point     // direction on the page, zero for any
	Color Color          // 0 for ink
	In    geom.Contour   // of an On label: anywhere within this part of the model will do
	NotIn []geom.Contour // but not in one of these
	Spare bool           // of an On label: left out where its area has no room
}

// tied reports whether the label needs a leader when it stands on a plate.
func (l Label) tied(at geom.Point, p plate) bool {
	switch l.Mark {
	case Near:
		return p.dist(at) > nearGap
	case On:
		return p.o != at && !l.holds(p)
	}
	return true
}

// holds reports whether a plate lies within the label's area. In is in page
// coordinates by then.
func (l Label) holds(p plate) bool {
	if len(l.In) == 0 || !l.In.Contains(p.o) || crossed(l.In, p) {
		return false
	}
	for _, c := range l.NotIn {
		if c.Contains(p.o) || crossed(c, p) {
			return false
		}
	}
	return true
}

// crossed reports whether a contour's line passes over a plate.
func crossed(c geom.Contour, p plate) bool {
	for i := range c {
		if e := c.Curve(i); p.meets(e.A, e.B, 0) {
			return true
		}
	}
	return false
}

// block is a piece of text of several lines.
type block struct {
	lines []string
	t     Type
	p     plate // its middle is set when it is placed
}

func newBlock(text string, t Type) block {
	b := block{lines: strings.Split(text, "\n"), t: t}
	for _, l := range b.lines {
		b.p.hw = math.Max(b.p.hw, t.Width(l)/2)
	}
	b.p.u = geom.Pt(1, 0)
	b.p.hh = (t.em()*(capEm+descentEm) + float64(len(b.lines)-1)*t.Line()) / 2
	return b
}

// label draws a label for a place on the page.
func (s *Picture) label(at geom.Point, l Label, within geom.Box) {
	color := l.Color
	if color == 0 {
		color = Ink
	}
	b := newBlock(l.Text, Type{Size: SizeText, Color: color, Align: AlignCenter})
	var ok bool
	if b.p.o, ok = s.place(at, b.p, l, within); !ok {
		return
	}
	backed := s.overHatch(b.p)
	if !s.free(b.p.grow(-0.1)) {
		s.crowded = append(s.crowded, l.Text)
		backed = true
	}
	if l.tied(at, b.p) {
		s.leader(b.p.grow(textGap/2).toward(at), at, l.Mark, color)
	}
	if backed {
		s.Fill(White, b.p.grow(0.5).contour())
	}
	s.setBlock(b, backed)
}

// setBlock sets the lines of a block that has its place, on a plate or straight
// on the drawing.
func (s *Picture) setBlock(b block, backed bool) {
	y := b.p.o.Y + b.p.hh - b.t.em()*capEm
	for _, l := range b.lines {
		s.set(Word{Text: clean(l), Type: b.t, At: geom.Pt(b.p.o.X, y), Plate: backed})
		y -= b.t.Line()
	}
}

func (s *Picture) leader(from, to geom.Point, m Mark, c Color) {
	s.Line(from, to, Thin(c))
	switch m {
	case Arrow:
		s.arrow(to, to.Sub(from).Unit(), c)
	default:
		s.Fill(c, geom.Circle(to, 0.6))
	}
}

// nearGap is how far (mm on the page) a label without a leader may stand from
// its place.
const nearGap = 3.5

// leastLeader is the shortest leader, mm on the page: its arrow head twice.
const leastLeader = 2 * arrowLong

// spot is a place that a label might take.
type spot struct {
	o    geom.Point
	cost float64
}

// place returns the middle of the best free place for a plate that belongs to
// a point. If there is none it returns the nearest place within the box, and
// false for a spare label.
func (s *Picture) place(at geom.Point, p plate, l Label, within geom.Box) (o geom.Point, ok bool) {
	best := spot{cost: math.Inf(1)}
	if p.o = at; l.Mark == On && (len(l.In) == 0 || l.holds(p)) {
		s.choose(&best, []spot{{at, 0}}, at, p, l, within)
		if best.cost == 0 {
			return at, true
		}
	}
	on := onSpots(at, p, l)
	s.choose(&best, on, at, p, l, within)
	if l.Spare {
		return best.o, !math.IsInf(best.cost, 1)
	}
	round := leastRound(l)
	var outer []spot
	if best.cost > round {
		outer = roundSpots(at, p, l)
		s.choose(&best, outer, at, p, l, within)
	}
	if !math.IsInf(best.cost, 1) {
		return best.o, true
	}
	for _, c := range slices.Concat(on, outer) {
		p.o = c.o
		if within.Holds(p.bounds()) && !s.overWords(p) {
			return c.o, true
		}
	}
	return at, true
}

// choose takes the best free one of spots, cheapest first, where it is better
// than what was found before.
func (s *Picture) choose(best *spot, spots []spot, at geom.Point, p plate, l Label, within geom.Box) {
	for _, c := range spots {
		if c.cost >= best.cost {
			break // no later one costs less
		}
		p.o = c.o
		if !within.Holds(p.bounds()) || !s.free(p) {
			continue
		}
		from := p.grow(textGap / 2).toward(at)
		tied := l.tied(at, p)
		if tied && l.Mark != Near && at.Dist(from) < leastLeader {
			continue
		}
		cost := c.cost
		if tied {
			// The leader's last piece lies on what it points to.
			end := at.Lerp(from, math.Min(1, 1/math.Max(geom.Rounding, at.Dist(from))))
			if s.overWords(bar(from, end)) {
				continue
			}
			const perLine = 4.0 // mm of leader that a crossed line is worth
			cost += perLine * float64(s.ink.crossings(from, end))
		}
		if cost < best.cost {
			*best = spot{c.o, cost}
		}
	}
}

// onSpots returns where else than on its place the plate of an On label may
// stand in its area, cheapest first; none for other labels.
func onSpots(at geom.Point, p plate, l Label) []spot {
	if l.Mark != On {
		return nil
	}
	out := areaSpots(at, p, l)
	slices.SortStableFunc(out, byCost)
	return out
}

func byCost(a, b spot) int { return cmp.Compare(a.cost, b.cost) }

// rings are the distances (mm on the page) at which a plate may stand round a
// point; the first three only without a leader.
var rings = [...]float64{1.2, 2.2, 3.2, 6, 9, 12, 16, 20, 25, 31, 38, 46, 55, 65}

const leaderRing = 3

// leastRound returns what the cheapest of [roundSpots] can cost.
func leastRound(l Label) float64 {
	if l.Mark != Near {
		return rings[leaderRing]
	}
	return rings[0]
}

// roundSpots returns where a plate may stand round a point, cheapest first.
func roundSpots(at geom.Point, p plate, l Label) []spot {
	dists := rings[:]
	if l.Mark != Near {
		dists = dists[leaderRing:]
	}
	const directions = 32
	const turnCost = 12.0 // mm of leader that the opposite direction is worth
	out := make([]spot, 0, directions*len(dists))
	for i := range directions {
		u := geom.Polar(1, geom.Deg(360*float64(i)/directions))
		turn := 0.0
		if l.Away != (geom.Point{}) {
			turn = turnCost * (1 - u.Dot(l.Away.Unit())) / 2
		}
		for _, d := range dists {
			cost := d + turn
			if d > nearGap && l.Mark == Near {
				cost += 10
			}
			out = append(out, spot{at.Add(geom.Pt(u.X*(d+p.hw), u.Y*(d+p.hh))), cost})
		}
	}
	slices.SortStableFunc(out, byCost)
	return out
}

// areaSpots returns places for a plate all over the label's area.
func areaSpots(at geom.Point, p plate, l Label) []spot {
	const across = 14   // places along each side of the area's box
	const farCost = 0.3 // mm of leader that a mm away from the place is worth
	b := l.In.Bounds()
	if b.Empty() {
		return nil
	}
	var out []spot
	for i := range across * across {
		p.o = geom.Pt(b.Min.X+b.W()*(float64(i%across)+0.5)/across, b.Min.Y+b.H()*(float64(i/across)+0.5)/across)
		if l.holds(p) {
			out = append(out, spot{p.o, farCost * p.o.Dist(at)})
		}
	}
	return out
}

// flag sets a number in a ring near a place, with a leader and a cross on the
// place itself.
func (s *Picture) flag(at geom.Point, n int, within geom.Box) {
	t := Type{Size: SizeText, Bold: true, Color: Red, Align: AlignCenter}
	text := strconv.Itoa(n)
	r := math.Max(2.6, t.Width(text)/2+1.2)
	p := plate{u: geom.Pt(1, 0), hw: r, hh: r}
	p.o, _ = s.place(at, p, Label{Mark: Dot}, within)
	if !s.free(p.grow(-0.1)) {
		s.crowded = append(s.crowded, text)
	}
	const cross = 1.2
	for _, d := range []geom.Point{geom.Pt(cross, cross), geom.Pt(cross, -cross)} {
		s.Line(at.Sub(d), at.Add(d), Medium(Red))
	}
	ring := geom.Circle(p.o, r)
	s.Line(at, p.o.Add(at.Sub(p.o).Unit().Mul(r)), Thin(Red))
	s.Fill(White, ring)
	s.Outline(ring, Medium(Red))
	s.Text(p.o.Sub(geom.Pt(0, t.em()*capEm/2)), text, t)
}
