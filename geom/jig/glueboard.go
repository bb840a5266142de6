package jig

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/geom/problem"
	"starwright/geom/star"
)

// Sizes of a glue-up board, mm. Common practice, no source.
const (
	pinWide    = 8.0 // dowels, and their holes
	pinSmall   = 6.0 // for boards narrower than pinBoard
	pinBoard   = 40.0
	pinFree    = 0.3  // between valley pin and wood, so that the star can be lifted out
	pinWedge   = 8.0  // between edge pin and wood, for a wedge
	glueWide   = 12.0 // relief under a joint
	boardWeb   = 4.0  // between holes
	plateFree  = 0.1  // between a sector and the joint's line
	sectorNose = 4.0  // half the width of a sector's end at the star's centre
)

// makeGlueBoard makes the board on which the star is glued up: reliefs under
// the joints so that squeezed-out glue does not stick the star to it, a pin in
// each valley, and pins along the outer edges for wedges that press the
// segments inwards. A board that finds no room on the sheet is made in sectors.
func makeGlueBoard(u *star.Unit, p Params) ([]Jig, problem.List) {
	g := newGlue(u, p)
	if j := g.board(); p.fits(j.Outline) {
		return []Jig{j}, nil
	}
	j := g.sector(p)
	if !p.fits(j.Outline) {
		return nil, problem.List{p.tooLarge(u.Spec.Unit, j.Key, j.Title, j.Outline)}
	}
	return []Jig{j}, nil
}

// glue holds the sizes of a glue-up board.
type glue struct {
	star   star.Star
	cutter float64
	meat   float64
	pin    float64 // diameter
	relief float64 // width under a joint
	open   geom.Angle
}

func newGlue(u *star.Unit, p Params) glue {
	s := u.Star
	g := glue{star: s, cutter: p.Cutter, meat: meat(s.Segment.Width), pin: pinWide}
	if s.Segment.Width < pinBoard {
		g.pin = pinSmall
	}
	g.pin = math.Max(g.pin, p.Cutter+boreSlack)
	g.relief = math.Min(glueWide, s.Segment.Facet/5)
	g.relief = math.Max(g.relief, 2*insideRadius(p.Cutter)+1)
	g.relief = math.Max(g.relief, leastBore)
	g.open = (s.Segment.Center + s.Segment.Tip) / 2
	return g
}

// rim is how far the wood reaches beyond the star's outer edges.
func (g glue) rim() float64 { return pinWedge + g.pin + g.meat }

// axes returns the placement of each segment, whose tip lies on +x before it:
// the first tip points up, the others follow counter-clockwise.
func (g glue) axes() []geom.Place {
	out := make([]geom.Place, g.star.Points)
	for k := range out {
		out[k].Turn = 90*geom.Degree + geom.Deg(360*float64(k)/float64(g.star.Points))
	}
	return out
}

// setPins bores pin holes along the outer edges of the segments with the given
// axes: one near the valley and one towards the tip, at least off from the line
// from O through the valley and clear of other holes and edges by web.
func (g glue) setPins(j *Jig, axes []geom.Place, off, web float64) {
	s := g.star.Segment
	v := s.Valley()
	along, h := geom.Polar(1, s.Tip/2), pinWedge+g.pin/2
	hole := func(d float64) geom.Contour { // along the lower edge of the first segment
		at := geom.Pt(v.X, -v.Y).Add(along.Mul(d)).Add(along.Left().Mul(-h))
		return geom.Circle(at, g.pin/2)
	}
	// The hole keeps off the joint's line, and the wedge off the valley's pin.
	first := math.Max((off+h*g.open.Cos())/g.open.Sin(), 0.25*s.Edge)
	const step = 1.0 // mm
	for first < 0.9*s.Edge && !inside(axes[0].Contour(hole(first)), j.Outline, j.Holes, web*0.999) {
		first += step
	}
	places := []float64{first}
	if first >= 0.9*s.Edge {
		return
	}
	if second := 0.75 * s.Edge; second > first+3*g.pin {
		places = append(places, second)
	}
	for _, a := range axes {
		for _, d := range places {
			low := hole(d)
			for _, c := range [...]geom.Contour{low, mirrored(low)} {
				if c = a.Contour(c); inside(c, j.Outline, j.Holes, web*0.999) {
					j.Holes = append(j.Holes, Hole{"pin", c})
				}
			}
		}
	}
}

// board makes the board in one piece.
func (g glue) board() Jig {
	up := geom.Place{Turn: 90 * geom.Degree}
	outline := up.Contour(g.star.Outline())
	box := outline.Bounds().Grow(g.rim())
	j := Jig{
		Key: "glue-board", File: "jig-glue-board", Title: "glue-up board",
		Outline: ease(geom.Rect(box), easing), Marks: []geom.Contour{outline}, Quantity: 1,
	}
	j.Holes = g.reliefs()
	pin := geom.Circle(geom.Pt(g.star.Segment.Facet+g.valleyPin(), 0), g.pin/2)
	half := g.star.Segment.Center / 2
	for _, a := range g.axes() {
		a.Turn += half
		if hole := a.Contour(pin); inside(hole, j.Outline, j.Holes, boardWeb*0.999) {
			j.Holes = append(j.Holes, Hole{"pin", hole})
		}
	}
	g.setPins(&j, g.axes(), g.pin/2+boardWeb/2, boardWeb)
	in := g.meat + leastBore
	j.Holes = screws(j.Outline, j.Holes, g.cutter, g.meat*0.75,
		box.Min.Add(geom.Pt(in, in)), geom.Pt(box.Max.X-in, box.Min.Y+in), box.Max.Sub(geom.Pt(in, in)), geom.Pt(box.Min.X+in, box.Max.Y-in))
	g.markBoard(&j)
	j.Build = g.how(&j)
	return j
}

// valleyPin returns how far outside the valley the middle of its pin stands.
func (g glue) valleyPin() float64 { return (g.pin/2 + pinFree) / g.open.Sin() }

// reliefs returns the openings under the joints and the centre. Where joints
// are too short for one each, a round one under the centre serves all.
func (g glue) reliefs() []Hole {
	s, r := g.star.Segment, g.relief/2
	inner := (g.relief + boardWeb) / (2 * (s.Center / 2).Sin())
	outer := s.Facet + g.valleyPin() - g.pin/2 - boardWeb - r
	if outer-inner < g.relief/2 {
		round := math.Min(0.6*s.Facet, s.Facet+g.valleyPin()-g.pin/2-boardWeb)
		if least := math.Max(leastBore, g.cutter+boreSlack) / 2; round < least {
			return nil
		}
		return []Hole{{"relief", geom.Circle(geom.Point{}, round)}}
	}
	var out []Hole
	if round := inner - r - boardWeb; 2*round >= math.Max(leastBore, g.cutter+boreSlack) {
		out = append(out, Hole{"relief", geom.Circle(geom.Point{}, round)})
	}
	slot := geom.RoundedRect(geom.Box{Min: geom.Pt(inner-r, -r), Max: geom.Pt(outer+r, r)}, r)
	for _, a := range g.axes() {
		a.Turn += s.Center / 2
		out = append(out, Hole{"relief", a.Contour(slot)})
	}
	return out
}

// halves returns how many segments the two halves of the star have.
func halves(n int) (a, b int) { return n - n/2, n / 2 }

// how says how the board is put together and used.
func (g glue) how(j *Jig) *Build {
	h := &Build{Key: j.Key, Title: j.Title, Bore: bore(g.cutter), What: "segment", Wedges: true, Pin: g.pin,
		Layers: []Layer{{File: j.File, Plate: "plate", Count: j.Quantity, Screws: screwsIn(j.Holes)}}}
	for _, o := range j.Holes {
		if o.Kind == "pin" {
			h.Pins += j.Quantity
		}
	}
	h.Halves[0], h.Halves[1] = halves(g.star.Points)
	return h
}

// markBoard names the segments in the order of assembly.
func (g glue) markBoard(j *Jig) {
	taken := append([]Hole(nil), j.Holes...)
	write := func(near geom.Point, lines ...string) {
		for _, l := range inscribe(j.Outline, taken, near, 0, lines...) {
			taken = append(taken, Hole{"text", textBox(l)})
			j.Text = append(j.Text, l)
		}
	}
	a, _ := halves(g.star.Points)
	for k, ax := range g.axes() {
		name := fmt.Sprintf("A%d", k+1)
		if k >= a {
			name = fmt.Sprintf("B%d", k+1-a)
		}
		v := g.star.Segment.Valley()
		write(ax.Point(geom.Pt((v.X+g.star.Segment.Length)/2, 0)), name)
	}
	low := j.Outline.Bounds().Min
	write(low.Add(geom.Pt(60, 30)), "glue-up board",
		fmt.Sprintf("1: glue all %d A", a), fmt.Sprintf("2: glue all %d B", g.star.Points-a), "3: true, glue A to B")
}
