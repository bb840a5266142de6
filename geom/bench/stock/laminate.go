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
	minStripMM     = 12.0 // narrower strips tip and bow at the saw
)

// Lamination is a board of the star's width glued up from narrower strips.
type Lamination struct {
	WidthMM      float64 // wanted, after the glue-up is trued
	LengthMM     float64 // of one glue-up
	ThicknessMM  float64
	BoardWidthMM float64 // of the boards to rip
	RipKerfMM    float64
	JointingMM   float64 // planed off each edge that is glued, and each outer edge
	AllowOdd     bool    // a number of strips without a joint on the centre line will do
	Say          bench.Say
}

// Strips is how to make it.
type Strips struct {
	PerBlank     int     // strips side by side in one glue-up; 1 where the board is wide enough
	StripWidthMM float64 // ripped width, jointing included
	PlanedMM     float64 // width of each strip when it is glued
	Across       int     // strips that one board's width gives
	OffcutMM     float64 // width left of each board, last kerf gone

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
// them; what is left of its width is OffcutMM.
//
// Rip first, then cross-cut: for the plan the strips are boards - give [Make]
// each board with its count times Across - and a star takes PerBlank times as
// many pieces. A bad place then counts for every strip of its board.
func (l Lamination) Strips() (Strips, error) {
	if err := l.check().Err(); err != nil {
		return Strips{}, err
	}
	if l.WidthMM <= l.BoardWidthMM {
		return Strips{PerBlank: 1, StripWidthMM: l.WidthMM, PlanedMM: l.WidthMM, Across: l.across(l.WidthMM),
			OffcutMM:  l.offcut(l.WidthMM),
			Statement: "the boards are wide enough: no joint"}, nil
	}
	step := 2
	if l.AllowOdd {
		step = 1
	}
	for n := 2; n <= maxStrips; n += step {
		planed := l.WidthMM / float64(n)
		rip := planed + 2*l.JointingMM
		if rip < minStripMM {
			break
		}
		if rip <= l.BoardWidthMM {
			return l.made(n, planed, rip), nil
		}
	}
	return Strips{}, problem.List{{Key: "board width", Got: l.Say.Of(l.BoardWidthMM),
		Why: "too narrow to make " + l.Say.Of(l.WidthMM) + " of strips of " + l.Say.Of(minStripMM) + " or more, " +
			strconv.Itoa(maxStrips) + " at most",
		Would: l.Say.Of(math.Ceil(l.WidthMM/2 + 2*l.JointingMM))}}
}

func (l Lamination) made(n int, planed, rip float64) Strips {
	s := Strips{PerBlank: n, PlanedMM: planed, StripWidthMM: rip, Across: l.across(rip), OffcutMM: l.offcut(rip),
		Joints: n - 1, CentreJoint: n%2 == 0,
		GlueMM2: float64(n-1) * l.LengthMM * l.ThicknessMM,
		Clamps:  max(minClamps, 1+int(math.Ceil((l.LengthMM-2*clampFromEndMM)/clampSpacingMM)))}
	if s.CentreJoint {
		s.Statement = fmt.Sprintf("%d strips of %s: the middle joint lies on the centre line and runs through the tip", n, l.Say.Of(planed))
	} else {
		s.Statement = fmt.Sprintf("%d strips of %s: no joint on the centre line; the middle strip lies astride it and makes the tip", n, l.Say.Of(planed))
	}
	return s
}

// ClampsAtMM returns where n clamps sit along one glue-up, mm from its end: the
// first and the last near the ends, the others evenly between them.
func (l Lamination) ClampsAtMM(n int) []float64 {
	const ends = 0.25 // of a short glue-up's length
	first := math.Min(clampFromEndMM, ends*l.LengthMM)
	out := make([]float64, n)
	for i := range out {
		out[i] = l.LengthMM / 2
		if n > 1 {
			out[i] = first + float64(i)*(l.LengthMM-2*first)/float64(n-1)
		}
	}
	return out
}

// across returns how many strips a board's width gives: the last needs no cut
// where it ends at the board's edge.
func (l Lamination) across(rip float64) int {
	return int((toNM(l.BoardWidthMM) + toNM(l.RipKerfMM)) / (toNM(rip) + toNM(l.RipKerfMM)))
}

func (l Lamination) offcut(rip float64) float64 {
	return math.Max(0, toMM(toNM(l.BoardWidthMM)-int64(l.across(rip))*(toNM(rip)+toNM(l.RipKerfMM))))
}

func (l Lamination) check() problem.List {
	var ps problem.List
	for _, v := range []struct {
		field    string
		mm, want float64
		zero     bool
	}{
		{"width", l.WidthMM, 140, false}, {"length", l.LengthMM, 300, false}, {"thickness", l.ThicknessMM, 19, false},
		{"board width", l.BoardWidthMM, 89, false}, {"rip kerf", l.RipKerfMM, 2.4, true}, {"jointing", l.JointingMM, 0.8, true},
	} {
		if !bench.Finite(v.mm) || v.mm < 0 || v.mm == 0 && !v.zero || v.mm > MaxLengthMM {
			ps = append(ps, problem.Problem{Key: v.field, Got: l.Say.Of(v.mm), Why: "not a length for this", Would: l.Say.Of(v.want)})
		}
	}
	return ps
}
