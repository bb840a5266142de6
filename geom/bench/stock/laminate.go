package stock

import (
	"fmt"
	"math"
	"strconv"

	"starwright/geom/bench"
	"starwright/geom/problem"
)

// Clamps on an edge joint: common practice, no source.
const (
	clampSpacingMM = 200.0 // between clamps
	clampFromEndMM = 50.0  // first and last clamp to the ends
	minClamps      = 2
	maxStrips      = 24
	MinStripMM     = 12.0 // narrower strips tip and bow at the saw
)

// Lamination is a board of the star's width glued up from narrower strips.
type Lamination struct {
	Width      float64 // wanted, after the glue-up is trued
	Length     float64 // of one glue-up
	Thickness  float64
	BoardWidth float64 // of the boards to rip
	RipKerf    float64
	Jointing   float64 // planed off each edge that is glued, and each outer edge
	TwoWoods   bool    // the two halves are of two woods: there are two strips at least
	AllowOdd   bool    // a number of strips without a joint on the centre line will do
	Say        bench.Say
}

// Strips is how to make it.
type Strips struct {
	PerBlank   int     // strips side by side in one glue-up; 1 where the board is wide enough
	StripWidth float64 // ripped width, jointing included
	Planed     float64 // width of each strip when it is glued
	Across     int     // strips that one board's width gives
	Offcut     float64 // width left of each board, last kerf gone

	Joints      int     // glue joints in one glue-up
	CentreJoint bool    // a joint lies on the centre line, through the tip
	Statement   string  // where the joints lie, for the sheet
	GlueMM2     float64 // glued area of one glue-up, all joints, one face of each counted
	Clamps      int     // along one glue-up, by turns over and under it: common practice
}

// Strips returns the fewest strips of equal width that make the wanted width.
// Without AllowOdd their number is even, so that a joint lies on the centre
// line and runs through the tip of each segment.
//
// The fewest strips are wider than half a board, so each board gives one of
// them; what is left of its width is Offcut.
//
// Rip first, then cross-cut: for the plan the strips are boards - give [Make]
// each board with its count times Across - and a star takes PerBlank times as
// many pieces. A bad place then counts for every strip of its board.
func (l Lamination) Strips() (Strips, error) {
	if err := l.check().Err(); err != nil {
		return Strips{}, err
	}
	if l.Width <= l.BoardWidth && !l.TwoWoods {
		return Strips{PerBlank: 1, StripWidth: l.Width, Planed: l.Width, Across: l.across(l.Width),
			Offcut:    l.offcut(l.Width),
			Statement: "the boards are wide enough: no joint"}, nil
	}
	step := 2
	if l.AllowOdd && !l.TwoWoods {
		step = 1
	}
	for n := 2; n <= maxStrips; n += step {
		planed := l.Width / float64(n)
		rip := planed + 2*l.Jointing
		if rip < MinStripMM {
			break
		}
		if rip <= l.BoardWidth {
			return l.made(n, planed, rip), nil
		}
	}
	return Strips{}, problem.List{{Key: "board width", Got: l.Say.Of(l.BoardWidth),
		Why: "too narrow to make " + l.Say.Of(l.Width) + " of strips of " + l.Say.Of(MinStripMM) + " or more, " +
			strconv.Itoa(maxStrips) + " at most",
		Would: l.Say.Of(math.Ceil(l.Width/2 + 2*l.Jointing))}}
}

func (l Lamination) made(n int, planed, rip float64) Strips {
	s := Strips{PerBlank: n, Planed: planed, StripWidth: rip, Across: l.across(rip), Offcut: l.offcut(rip),
		Joints: n - 1, CentreJoint: n%2 == 0,
		GlueMM2: float64(n-1) * l.Length * l.Thickness,
		Clamps:  max(minClamps, 1+int(math.Ceil((l.Length-2*clampFromEndMM)/clampSpacingMM)))}
	if s.CentreJoint {
		s.Statement = fmt.Sprintf("%d strips of %s: the middle joint lies on the centre line and runs through the tip", n, l.Say.Of(planed))
	} else {
		s.Statement = fmt.Sprintf("%d strips of %s: no joint on the centre line; the middle strip lies astride it and makes the tip", n, l.Say.Of(planed))
	}
	return s
}

// ClampsAt returns where n clamps sit along one glue-up, mm from its end: the
// first and the last near the ends, the others evenly between them.
func (l Lamination) ClampsAt(n int) []float64 {
	const ends = 0.25 // of a short glue-up's length
	first := math.Min(clampFromEndMM, ends*l.Length)
	out := make([]float64, n)
	for i := range out {
		out[i] = l.Length / 2
		if n > 1 {
			out[i] = first + float64(i)*(l.Length-2*first)/float64(n-1)
		}
	}
	return out
}

// across returns how many strips a board's width gives: the last needs no cut
// where it ends at the board's edge.
func (l Lamination) across(rip float64) int {
	return int((toNM(l.BoardWidth) + toNM(l.RipKerf)) / (toNM(rip) + toNM(l.RipKerf)))
}

func (l Lamination) offcut(rip float64) float64 {
	return math.Max(0, toMM(toNM(l.BoardWidth)-int64(l.across(rip))*(toNM(rip)+toNM(l.RipKerf))))
}

func (l Lamination) check() problem.List {
	var ps problem.List
	for _, v := range []struct {
		field    string
		mm, want float64
		zero     bool
	}{
		{"width", l.Width, 140, false}, {"length", l.Length, 300, false}, {"thickness", l.Thickness, 19, false},
		{"board width", l.BoardWidth, 89, false}, {"rip kerf", l.RipKerf, 2.4, true}, {"jointing", l.Jointing, 0.8, true},
	} {
		if !bench.Finite(v.mm) || v.mm < 0 || v.mm == 0 && !v.zero || v.mm > MaxLength {
			ps = append(ps, problem.Problem{Key: v.field, Got: l.Say.Of(v.mm), Why: "not a length for this", Would: l.Say.Of(v.want)})
		}
	}
	return ps
}
