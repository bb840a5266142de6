package mutate

import (
	"fmt"
	"math"
)

// arcsEach is how many arcs of a program are rewritten.
const arcsEach = 6

// arcKinds write arcs otherwise: by their radius, in two, with another centre or
// turn.
func (p *program) arcKinds() []Change {
	var arcs []*move
	for i := range p.run.moves {
		if m := &p.run.moves[i]; m.g > 1 {
			arcs = append(arcs, m)
		}
	}
	var out []Change
	for k := range min(arcsEach, len(arcs)) {
		out = append(out, p.arcAs(arcs[(2*k+1)*len(arcs)/(2*min(arcsEach, len(arcs)))])...)
	}
	return out
}

// arcAs are the ways to write one arc.
func (p *program) arcAs(m *move) []Change {
	i, u := m.line-1, p.brief.UnitMM
	n := func(v float64) string { return number(v/u, u) }
	feed := ""
	for _, t := range tokens(p.lines[i]) {
		if t.letter == 'F' {
			feed = " " + same(t)
		}
	}
	end := func(q [3]float64) string { return fmt.Sprintf("X%s Y%s Z%s", n(q[0]), n(q[1]), n(q[2])) }
	by := func(from [3]float64, dx, dy float64) string {
		return fmt.Sprintf("I%s J%s", n(m.o[0]-from[0]+dx), n(m.o[1]-from[1]+dy))
	}
	one := func(class, l string) Change { return p.replaced(class, i, l+feed) }
	g, other := fmt.Sprintf("G%d ", m.g), fmt.Sprintf("G%d ", 5-m.g)
	r := math.Hypot(m.from[0]-m.o[0], m.from[1]-m.o[1])
	start := math.Atan2(m.from[1]-m.o[1], m.from[0]-m.o[0])
	half := [3]float64{m.o[0] + r*math.Cos(start+m.sweep/2), m.o[1] + r*math.Sin(start+m.sweep/2), (m.from[2] + m.to[2]) / 2}
	turned := [3]float64{m.from[0], m.from[1], m.to[2]}
	out := []Change{
		one("arc by its radius", g+end(m.to)+" R"+n(r)),
		one("arc by its radius, the long way", g+end(m.to)+" R"+n(-r)),
		one("arc by a radius too small", g+end(m.to)+" R"+n(r*0.4)),
		one("arc by a radius a little larger", g+end(m.to)+" R"+n(r+0.1)),
		one("arc by radius and centre", g+end(m.to)+" "+by(m.from, 0, 0)+" R"+n(r)),
		one("arc the other way", other+end(m.to)+" "+by(m.from, 0, 0)),
		one("arc with its centre as a place", g+end(m.to)+" I"+n(m.o[0])+" J"+n(m.o[1])),
		one("arc with its centre from the end", g+end(m.to)+" "+by(m.to, 0, 0)),
		one("arc with I and J turned round", g+end(m.to)+fmt.Sprintf(" I%s J%s", n(m.from[0]-m.o[0]), n(m.from[1]-m.o[1]))),
		one("arc with I and J exchanged", g+end(m.to)+fmt.Sprintf(" I%s J%s", n(m.o[1]-m.from[1]), n(m.o[0]-m.from[0]))),
		one("arc with its centre a hair aside", g+end(m.to)+" "+by(m.from, 0.001, 0)),
		one("arc with its centre aside", g+end(m.to)+" "+by(m.from, 0.02, 0.02)),
		one("arc with K", g+end(m.to)+" "+by(m.from, 0, 0)+" K0.0"),
		one("arc with a number of turns", g+end(m.to)+" "+by(m.from, 0, 0)+" P1"),
		one("arc in another plane", "G18 "+g+end(m.to)+" "+by(m.from, 0, 0)),
		one("arc with its plane", "G17 "+g+end(m.to)+" "+by(m.from, 0, 0)),
		one("arc without its end", g+by(m.from, 0, 0)),
		one("arc all the way round", g+end(turned)+" "+by(m.from, 0, 0)),
		one("arc as a straight line", "G1 "+end(m.to)),
		{"arc in two", p.lines[i], 0, p.with(i, i+1, g+end(half)+" "+by(m.from, 0, 0)+feed, g+end(m.to)+" "+by(half, 0, 0))},
		{"arc in two, the second on its own way", p.lines[i], 0, p.with(i, i+1, g+end(half)+" "+by(m.from, 0, 0)+feed, "G1 "+end(m.to))},
	}
	if math.Hypot(m.from[0]-m.to[0], m.from[1]-m.to[1]) < fullCircle {
		out = append(out, one("circle by half of its ends", g+"X"+n(m.to[0])+" Z"+n(m.to[2])+" "+by(m.from, 0, 0)))
	}
	return out
}
