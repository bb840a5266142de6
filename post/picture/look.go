package picture

import (
	"math"

	"starwright/geom"
)

// Look says what a shape or a line stands for, and so how it is drawn.
type Look uint8

// The looks.
const (
	Part    Look = iota // wood that is made: tinted, thick outline
	Dark                // wood that is made, of the first of two kinds: darker tint, hatched
	Board               // wood before it is cut: medium outline
	Waste               // wood that is cut away: hatched
	Kerf                // wood that the saw turns to dust: solid grey
	Cleared             // wood that a program is to clear: thick outline, no tint
	Facet               // a face that a machine cuts into: tinted, medium outline
	Joint               // where parts meet: medium line
	Edge                // any other visible edge: medium line
	Slot                // a slot that lies behind wood: short dashes
	Spline              // a spline that lies behind wood: tinted and hatched, dashed
	Axis                // axis or line of reference: long dash, dot
	Hole                // a hole: white, medium outline
	Work                // work that lies in a jig: pale hatching, long dash, two dots
	Seat                // where work lies against a jig: very thick line
	Zone                // keep out: sparse hatching, dashed
	Tab                 // what holds a part in its sheet: solid, thick line
	Solid               // an arrow head or a mark: black
)

// looks is how a Look is drawn.
type looks struct {
	fill   Color
	filled bool
	hatch  geom.Angle // direction of the hatching
	gap    float64    // mm on the page between its lines, 0 for none
	lines  Color      // of the hatching, 0 for the usual
	pen    Pen        // of width 0 for none
}

func (l Look) looks() looks {
	switch l {
	case Part:
		return looks{fill: Wood, filled: true, pen: Thick(Ink)}
	case Dark:
		return looks{fill: Dusk, filled: true, hatch: 75 * geom.Degree, gap: 1.5, pen: Thick(Ink)}
	case Board:
		return looks{pen: Medium(Ink)}
	case Waste:
		return looks{fill: Shade, filled: true, hatch: 45 * geom.Degree, gap: 2.2, pen: Thin(Ink)}
	case Kerf:
		return looks{fill: Saw, filled: true}
	case Cleared:
		return looks{pen: Thick(Ink)}
	case Facet:
		return looks{fill: Wood, filled: true, pen: Medium(Ink)}
	case Slot:
		return looks{pen: Hidden(Ink)}
	case Spline:
		return looks{fill: Tongue, filled: true, hatch: 135 * geom.Degree, gap: 1.4, pen: Pen{Color: Rust, Width: 0.25, Dash: []float64{1.2, 0.7}}}
	case Axis:
		return looks{pen: Chain(Ink)}
	case Hole:
		return looks{fill: White, filled: true, pen: Medium(Ink)}
	case Work:
		return looks{hatch: 60 * geom.Degree, gap: 2.6, lines: Seated, pen: Phantom(Blue)}
	case Seat:
		return looks{pen: Pen{Color: Blue, Width: 0.9}}
	case Zone:
		return looks{hatch: 135 * geom.Degree, gap: 3.5, pen: Pen{Color: Grey, Width: thin, Dash: []float64{2.5, 1.5}}}
	case Solid:
		return looks{fill: Ink, filled: true}
	case Tab:
		return looks{fill: Gold, filled: true, pen: Medium(Ink)}
	}
	return looks{pen: Medium(Ink)}
}

// Shape is an area of a model with what it stands for.
type Shape struct {
	geom.Contour
	Holes []geom.Contour // left out of tint and hatching; not drawn
	Look  Look
}

// Path is an open line of a model.
type Path struct {
	Curves []geom.Curve
	Look   Look
}

// Straight makes a Path of one straight line.
func Straight(a, b geom.Point, l Look) Path {
	return Path{[]geom.Curve{{A: a, B: b}}, l}
}

// shape draws an area that is already in page coordinates.
func (s *Picture) shape(c geom.Contour, holes []geom.Contour, k looks) {
	area := []geom.Contour{c.CCW()}
	for _, h := range holes {
		area = append(area, h.CCW().Reversed())
	}
	if k.filled {
		s.Fill(k.fill, area...)
	}
	if k.filled || k.gap > 0 {
		s.grounds = append(s.grounds, ground{c, k.gap > 0})
	}
	if k.gap > 0 {
		c := k.lines
		if c == 0 {
			c = Ink.mix(White, 0.35)
		}
		s.Hatch(k.hatch, k.gap, Pen{Color: c, Width: 0.15}, area...)
	}
	if k.pen.Width > 0 {
		s.Outline(c, k.pen)
	}
}

// maxHatch bounds the lines of one hatching.
const maxHatch = 2000

// Hatch draws parallel lines in direction a, gap (mm on the page) apart, where
// an odd number of contours lie round them.
func (s *Picture) Hatch(a geom.Angle, gap float64, p Pen, area ...geom.Contour) {
	const tol = 0.05 // mm
	turn := geom.Place{Turn: -a}
	back := geom.Place{Turn: a}
	var rings [][]geom.Point
	b := geom.EmptyBox()
	for _, c := range area {
		pts := turn.Contour(c).Flatten(tol)
		for _, q := range pts {
			b = b.With(q)
		}
		rings = append(rings, pts)
	}
	if b.Empty() || gap <= 0 {
		return
	}
	var runs []Run
	// Lines stand at whole multiples of the gap, so that neighbours agree.
	n := int(math.Min(maxHatch, b.H()/gap)) + 1
	y := math.Ceil(b.Min.Y/gap) * gap
	for i := 0; i < n && y < b.Max.Y; i++ {
		xs := crossX(rings, y)
		for j := 1; j < len(xs); j += 2 {
			if xs[j]-xs[j-1] > tol {
				runs = append(runs, Run{[]geom.Curve{{A: back.Point(geom.Pt(xs[j-1], y)), B: back.Point(geom.Pt(xs[j], y))}}, false})
			}
		}
		y += gap
	}
	s.stroke(runs, p, false)
}

// ground is an area that was painted, and whether it is hatched.
type ground struct {
	geom.Contour
	hatched bool
}

// overHatch reports whether a plate lies on hatching that is still to be seen:
// what was painted last counts.
func (s *Picture) overHatch(p plate) bool {
	for i := len(s.grounds) - 1; i >= 0; i-- {
		g := s.grounds[i]
		if !g.Bounds().Overlaps(p.bounds()) {
			continue
		}
		cuts := false
		for _, e := range g.Curves() {
			cuts = cuts || p.meets(e.A, e.B, 0)
		}
		switch {
		case cuts && g.hatched:
			return true
		case !cuts && g.Contains(p.o):
			return g.hatched
		}
	}
	return false
}
