package jig

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"starwright/geom"
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

// makeBlocks makes one wedge for each block angle of the stars from boards.
// Those from off-cuts are not sawn with a block.
func makeBlocks(units []*star.Unit, p Params) ([]Jig, []star.Problem) {
	var angles []geom.Angle
	serves := map[geom.Angle][]served{}
	widest := geom.Angle(0)
	for _, u := range of(units, p, fromBoard) {
		s := u.Segment
		widest = max(widest, s.CenterMiter(), s.TipMiter())
		for _, k := range Blocks(s, p.MaxMiter) {
			i := slices.IndexFunc(angles, func(a geom.Angle) bool { return math.Abs(float64(a-k.Angle)) < float64(angleSlack) })
			if i < 0 {
				i, angles = len(angles), append(angles, k.Angle)
			}
			serves[angles[i]] = append(serves[angles[i]], served{k, u})
		}
	}
	if len(angles) == 0 {
		return nil, []star.Problem{{
			Key: "jigs.make", Got: "angle-block",
			Why: fmt.Sprintf("the saw reaches %s and so makes every cut of this star, the widest at %s, without a block",
				star.FormatAngle(p.MaxMiter), star.FormatAngle(widest)),
			Would: "a list without angle-block",
		}}
	}
	var out []Jig
	for _, a := range angles { // one wedge, several cuts
		out = append(out, wedge(p, a, serves[a]))
	}
	return out, nil
}

// wedge makes the block of one angle, for the widest and the thickest board
// that lies against it. The fence face lies on the X axis, the blade stands to
// the left. The work face rises from a blunt nose on the left at the block's
// angle; the foot on the right holds the window for the clamp that presses the
// block against the fence.
func wedge(p Params, angle geom.Angle, serves []served) Jig {
	w, thick := 0.0, 0.0
	for _, s := range serves {
		w, thick = max(w, s.unit.Segment.Width), max(thick, s.unit.Thickness())
	}
	m := meat(w)
	k := m / fullMeat
	foot := windowW*k + 2*m
	nose, face := wedgeFace(w, foot, angle, p)
	top := geom.Polar(face, angle).Add(geom.Pt(0, nose))
	raw := geom.Polygon(geom.Pt(0, 0), geom.Pt(top.X+foot, 0), geom.Pt(top.X+foot, top.Y), top, geom.Pt(0, nose))
	high := layers(thick, p.Thickness)
	j := Jig{
		Key:      "angle-block",
		File:     "jig-angle-block-" + fileAngle(angle),
		Title:    "angle block " + star.FormatAngle(angle),
		Use:      blockUse(high, serves, p.MaxMiter),
		Outline:  finish(raw, p.Cutter, nil, easing, 0, 3, 4),
		Quantity: high, Screwed: high > 1,
	}
	window := geom.RoundedRect(geom.Box{
		Min: geom.Pt(top.X+foot-m-windowW*k, 1.5*m), Max: geom.Pt(top.X+foot-m, 1.5*m+windowH*k)},
		max(easing, insideRadius(p.Cutter)))
	j.Holes = append(j.Holes, Hole{"clamp", window})
	j.Holes = screws(j.Outline, j.Holes, p.Cutter, leastMeat,
		geom.Pt(m, nose/2), top.Add(geom.Pt(0, -m)), geom.Pt(top.X/2, nose/2))
	lines := []string{star.FormatAngle(angle)}
	for _, s := range serves {
		line := s.Cut + ": saw at " + star.FormatAngle(s.Setting)
		if second := s.Second(s.unit.Segment.Tip); s.Cut == "tip" && second >= 0 {
			line += ", then " + star.FormatAngle(second)
		}
		lines = once(lines, line)
	}
	j.Text = inscribe(j.Outline, j.Holes, top.Mul(0.5), 0, lines...)
	for _, s := range serves {
		if !slices.Contains(j.For, s.unit) {
			j.For = append(j.For, s.unit)
		}
		work := geom.Place{Turn: angle, Move: geom.Pt(0, nose)}.Contour(cutWork(s.unit, s.Cut))
		j.Seats = append(j.Seats, Seat{What: "board, " + s.Cut + " cut", Work: work, Edges: against(work, j.Outline)})
	}
	fence := geom.Rect(geom.Box{Min: geom.Pt(-2*foot, -foot/2), Max: geom.Pt(top.X+2*foot, 0)})
	j.Seats = append(j.Seats, Seat{What: "saw fence", Work: fence, Edges: against(fence, j.Outline)})
	return j
}

// once adds a line that is not there yet.
func once(lines []string, line string) []string {
	if slices.Contains(lines, line) {
		return lines
	}
	return append(lines, line)
}

// wedgeFace returns the height of the nose and the length of the work face: as
// long as the board is wide and a hand more, less where the sheet has no room.
func wedgeFace(w, foot float64, angle geom.Angle, p Params) (nose, face float64) {
	m := meat(w)
	face = w + faceOver
	size := func() (x, y float64) {
		nose = max(m, 2.5*m+windowH*m/fullMeat-face*angle.Sin())
		return face*angle.Cos() + foot, nose + face*angle.Sin()
	}
	for x, y := size(); face > leastFace && p.MaxW > 0 && p.MaxH > 0 &&
		(x > p.MaxW || y > p.MaxH) && (y > p.MaxW || x > p.MaxH); x, y = size() {
		face = max(leastFace, face*0.95)
	}
	size()
	return nose, face
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

// blockUse says how a block of some layers is used by a saw that swings as far
// as most.
func blockUse(layers int, serves []served, most geom.Angle) string {
	var cuts, second []string
	for _, s := range serves {
		which := s.Cut + " cuts"
		if s.Cut == "tip" {
			which = "first tip cut of each board"
			second = once(second, secondUse(s.Second(s.unit.Segment.Tip), most))
		}
		cuts = once(cuts, fmt.Sprintf("%s for the %s (%s in all)", swing(s.Setting), which, star.FormatAngle(s.Needed)))
	}
	stack := ""
	if layers > 1 {
		stack = fmt.Sprintf("Screw %d layers together. ", layers)
	}
	return stack + "Clamp the block to the fence through its window, thin end towards the blade, the board against the sloping face; " +
		"set the saw " + strings.Join(cuts, " and ") + ". " + strings.Join(second, "") + "Turn the block over for the other side of the blade."
}

// swing says how the saw is set beside a block.
func swing(a geom.Angle) string {
	switch {
	case a == 0:
		return "square (0°)"
	case a < 0:
		return star.FormatAngle(-a) + " away from the block"
	}
	return star.FormatAngle(a) + " towards the block"
}

// secondUse says how a block serves the second cut of a tip.
func secondUse(setting, most geom.Angle) string {
	if setting < -most-angleSlack {
		return "The second tip cut is made in the tip cradle. "
	}
	return "For the second tip cut turn the board over, lay the edge just cut against the sloping face and set the saw " + swing(setting) + ". "
}

// fileAngle writes an angle for a file's name: 22-5 for 22.5 degrees.
func fileAngle(a geom.Angle) string {
	return strings.ReplaceAll(strings.TrimSuffix(star.FormatAngle(a), "°"), ".", "-")
}
