package jig

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"starwright/geom"
	"starwright/geom/problem"
	"starwright/geom/star"
)

// Sizes of an angle block, mm. Common practice, no source.
const (
	faceOver  = 80.0 // the work face is longer than the board is wide by this
	leastFace = 60.0 // however small the sheet
	windowW   = 40.0 // clamp window, along the fence, where the meat is full
	windowH   = 26.0
)

func needBlocks(u *star.Unit, p Params) bool {
	return !u.IsOffcut() && len(Blocks(u.Segment, p.MaxMiter)) > 0
}

// served is a cut of a unit that a block serves.
type served struct {
	Block
	unit *star.Unit
}

// makeBlocks makes one wedge for each angle that is wanted, or where none is
// named for each block angle of the stars from boards. Those from off-cuts are
// not sawn with a block.
func makeBlocks(units []*star.Unit, p Params) ([]Jig, problem.List) {
	same := func(x, y geom.Angle) bool { return math.Abs(float64(x-y)) < float64(angleSlack) }
	boards := of(units, p, fromBoard)
	var angles []geom.Angle
	add := func(a geom.Angle) {
		if !slices.ContainsFunc(angles, func(o geom.Angle) bool { return same(o, a) }) {
			angles = append(angles, a)
		}
	}
	var cuts []served
	widest := geom.Angle(0)
	for _, u := range boards {
		s := u.Segment
		widest = max(widest, s.CenterMiter(), s.TipMiter())
		for _, k := range Blocks(s, p.MaxMiter) {
			cuts = append(cuts, served{k, u})
		}
	}
	for _, a := range p.angles {
		add(a)
	}
	if len(p.angles) == 0 {
		for _, c := range cuts {
			add(c.Angle)
		}
	}
	if len(angles) == 0 {
		return nil, problem.List{{
			Key: "jigs.make", Got: "angle-block",
			Why: fmt.Sprintf("the saw reaches %s and so makes every cut of this star, the widest at %s, without a block",
				star.FormatAngle(p.MaxMiter), star.FormatAngle(widest)),
			Would: without("angle-block"),
		}}
	}
	var out []Jig
	for _, a := range angles { // one wedge, several cuts
		j, ps := wedge(p, a, slices.DeleteFunc(slices.Clone(cuts), func(c served) bool { return !same(c.Angle, a) }), boards)
		if ps != nil {
			return nil, ps
		}
		out = append(out, j)
	}
	return uniqueFiles(out), nil
}

// wedge makes the block of one angle for some cuts, none where it only turns
// the board. The fence face lies on the X axis, the blade stands to the left.
// The work face rises from a blunt nose on the left at the block's angle; the
// foot on the right holds the window for the clamp that presses the block
// against the fence. The work face is as long as the board is wide and a hand
// more, less where the sheet has no room.
func wedge(p Params, angle geom.Angle, serves []served, boards []*star.Unit) (Jig, problem.List) {
	wide, thick := 0.0, 0.0
	for _, u := range boards {
		wide, thick = max(wide, u.Segment.Width), max(thick, u.Thickness())
	}
	w := wedgeSize{angle: angle, face: wide + faceOver, meat: meat(wide), bit: p.Cutter}
	usual := w.face
	for !p.fits(w.outline()) {
		if w.face *= 0.95; w.face < leastFace {
			return Jig{}, problem.List{p.tooLarge(boards[0].Spec.Unit, "angle-block", "angle block "+star.FormatAngle(angle), w.outline())}
		}
	}
	high := layers(thick, p.Thickness)
	j := Jig{
		Key: "angle-block", Angle: angle,
		File:    "jig-angle-block-" + fileAngle(angle),
		Title:   "angle block " + star.FormatAngle(angle),
		Outline: w.outline(), Quantity: high, Screwed: high > 1,
	}
	m, nose, top := w.meat, w.nose(), w.top()
	j.Holes = append(j.Holes, Hole{"clamp", w.window()})
	j.Holes = screws(j.Outline, j.Holes, p.Cutter, leastMeat,
		geom.Pt(m, nose/2), top.Add(geom.Pt(0, -m)), top.Add(geom.Pt(w.foot()-m, -m)))
	lay := geom.Place{Turn: angle, Move: geom.Pt(0, nose)}
	seat := func(what string, work geom.Contour) {
		work = lay.Contour(work)
		j.Seats = append(j.Seats, Seat{What: what, Work: work, Edges: against(work, j.Outline)})
	}
	facets := slices.ContainsFunc(serves, func(c served) bool { return c.Cut == "facet" })
	for _, c := range serves {
		if c.Cut == "facet" || !facets { // tips have other ways
			seat("board, "+c.Cut+" cut", cutWork(c.unit, c.Cut))
		}
	}
	if len(serves) == 0 {
		for _, u := range boards {
			seat("board", geom.Rect(geom.Box{Max: geom.Pt(u.Blank.Length, u.Segment.Width)}))
		}
	}
	j.For = boards
	fence := geom.Rect(geom.Box{Min: geom.Pt(-2*w.foot(), -w.foot()/2), Max: geom.Pt(top.X+2*w.foot(), 0)})
	j.Seats = append(j.Seats, Seat{What: fenceName, Work: fence, Edges: against(fence, j.Outline)})
	j.Text = w.letter(j)
	j.Build = w.how(p, &j)
	j.Build.Small = w.face < usual
	return j, nil
}

// wedgeSize is the measure of a block, mm.
type wedgeSize struct {
	angle geom.Angle
	face  float64
	meat  float64
	bit   float64
}

func (w wedgeSize) foot() float64 { return windowW*w.meat/fullMeat + 2*w.meat }

// nose is the height of the blunt end at the blade.
func (w wedgeSize) nose() float64 {
	return max(w.meat, 2.5*w.meat+windowH*w.meat/fullMeat-w.face*w.angle.Sin())
}

// top is the upper end of the work face.
func (w wedgeSize) top() geom.Point {
	return geom.Polar(w.face, w.angle).Add(geom.Pt(0, w.nose()))
}

func (w wedgeSize) outline() geom.Contour {
	top, foot := w.top(), w.foot()
	raw := geom.Polygon(geom.Pt(0, 0), geom.Pt(top.X+foot, 0), geom.Pt(top.X+foot, top.Y), top, geom.Pt(0, w.nose()))
	return finish(raw, w.bit, nil, easing, 0, 3, 4)
}

// window is the opening for the clamp.
func (w wedgeSize) window() geom.Contour {
	k, right := w.meat/fullMeat, w.top().X+w.foot()-w.meat
	return geom.RoundedRect(geom.Box{
		Min: geom.Pt(right-windowW*k, 1.5*w.meat), Max: geom.Pt(right, 1.5*w.meat+windowH*k)},
		max(easing, insideRadius(w.bit)))
}

// letter writes the angle on a block, which edge goes against the fence and
// which end of it to the blade, and where the batten for the stop goes; what
// finds no room is left out, the angle last.
func (w wedgeSize) letter(j Jig) []Label {
	top := w.top()
	taken := slices.Clone(j.Holes)
	var out []Label
	write := func(near geom.Point, far float64, turn geom.Angle, text string) bool {
		for _, l := range inscribe(j.Outline, taken, near, turn, text) {
			box := textBox(l)
			if box.Bounds().Center().Dist(near) > far { // beside what it names it would name something else
				return false
			}
			taken = append(taken, Hole{"text", box})
			out = append(out, l)
		}
		return true
	}
	const beside = 25.0 // mm
	lean := w.angle.Cos()
	write(geom.Pt(top.X*0.6, w.nose()+0.6*(top.Y-w.nose())-0.7*w.meat/lean), beside, w.angle, "stop batten")
	for _, words := range [...]string{"< blade, fence edge", "fence edge"} {
		if write(geom.Pt(top.X*0.55, w.meat*0.7), beside, 0, words) {
			break
		}
	}
	angle := func() bool {
		n := len(out)
		write(geom.Pt(top.X*0.7, top.Y*0.4), math.Inf(1), 0, star.FormatAngle(w.angle))
		return len(out) > n
	}
	if !angle() {
		taken, out = slices.Clone(j.Holes), nil
		angle()
	}
	return out
}

// how says how the block is put together and used.
func (w wedgeSize) how(p Params, j *Jig) *Build {
	from := geom.Pt(0, w.nose())
	in := geom.Polar(w.meat, w.angle-90*geom.Degree)
	first, fence := j.Seats[0], j.Seats[len(j.Seats)-1]
	return &Build{
		Key: j.Key, Angle: j.Angle, Title: j.Title, Bore: bore(w.bit), Height: float64(j.Quantity) * p.Thickness,
		What: first.What, Work: first.Work, Seats: first.Edges, Fence: fence.Edges, Stop: from,
		Clamps: []Clamp{{From: w.window().Bounds().Center(), To: w.window().Bounds().Center(), Holds: "jig"}},
		Batten: geom.Curve{A: from.Lerp(w.top(), 0.35).Add(in), B: w.top().Add(in)},
		Layers: []Layer{{File: j.File, Plate: "plate", Count: j.Quantity, Screws: screwsIn(j.Holes)}},
	}
}

// cutWork returns the work as the first of two like cuts leaves it, the edge
// that lies against the block on the X axis and the end at the blade at x 0.
// For the facet it is the blank with one facet; for the tip the blank with both
// facets at its far end and one edge.
func cutWork(u *star.Unit, cut string) geom.Contour {
	s := u.Segment
	half := s.Width / 2
	if cut == "facet" {
		return geom.Polygon(geom.Pt(0, 0), geom.Pt(u.Blank.Length, 0), geom.Pt(u.Blank.Length, s.Width),
			geom.Pt(s.Valley().X, s.Width), geom.Pt(0, half))
	}
	trim := u.Blank.Length - s.Length
	valley := u.Blank.Length - s.Valley().X
	body := []geom.Point{geom.Pt(valley, 0), geom.Pt(u.Blank.Length, half), geom.Pt(valley, s.Width)}
	// Beyond the tip the cut runs on to the blank's end, or out through the
	// edge, where the work then begins.
	y := half - trim*(s.Tip/2).Tan()
	if y > 0 {
		return geom.Polygon(append(body, geom.Pt(0, y), geom.Point{})...)
	}
	start := geom.Pt(trim-half*(s.Tip/2).Cot(), 0)
	return geom.Place{Move: start.Mul(-1)}.Contour(geom.Polygon(append(body, start)...))
}

// fileAngle writes an angle for a file's name: 22-5 for 22.5 degrees.
func fileAngle(a geom.Angle) string {
	return strings.ReplaceAll(strings.TrimSuffix(star.FormatAngle(a), "°"), ".", "-")
}
