package wood

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"starwright/geom"
	"starwright/geom/bench"
	"starwright/geom/bench/fit"
	"starwright/geom/problem"
)

// Change is a star on its way from the shop to where it hangs.
type Change struct {
	Points       int
	BoardWidth   float64
	Species      Species
	Second       *Species // of a star of two woods: half of the facets are of it; else nil
	Thickness    float64  // of the boards, for two woods
	Grain        Grain
	FromMC, ToMC float64   // moisture in the shop and in service, percent
	Limit        float64   // largest opening to be content with; 0 asks for no warning
	Say          bench.Say // how lengths are written in texts
}

// Movement is what the change of moisture does.
//
// Wood moves across the board by the part m and not along it, so a facet turns
// from c/2 to atan((1+m) tan(c/2)): smaller angles when it dries, which open
// the joints at the valleys, larger when it takes up moisture, which open them
// at the centre.
type Movement struct {
	Fraction    float64  // m, a part of the width at FromMC
	Equation    Equation // the formula it comes from
	WidthChange float64
	NewWidth    float64

	HalfBefore, HalfAfter geom.Angle // facet to the board's axis
	AllJoints             geom.Angle // all facets together, 2n(HalfAfter-HalfBefore): about n m sin(c)

	// Of two woods that meet in a joint, mm: by how much the one is thicker than the
	// other, half of it on either face; and how far their facets slide along each
	// other. Both 0 with one wood.
	Step, Slide float64

	Each fit.Opening // the joints share the movement evenly
	Last fit.Opening // the worst: one joint takes all of it

	Warning string   // "" within the limit
	Helps   []string // what would bring the opening down, with numbers
}

// leastWorth is how narrow boards may be made of the star's before that is
// another star, and no help.
const leastWorth = 0.4

// Move computes the movement. A warning is made where one joint that takes all
// the movement would open by more than the limit.
func Move(j Change) (Movement, error) {
	if !bench.Finite(j.Limit) || j.Limit < 0 {
		return Movement{}, problem.List{{Key: "limit", Got: j.Say.Of(j.Limit),
			Why: "not an opening", Would: j.Say.Of(0.5)}}
	}
	m, err := j.move()
	if err != nil {
		return Movement{}, err
	}
	if j.Limit > 0 && m.Last.MM > j.Limit {
		m.Warning = j.warning(m)
		m.Helps = j.helps(m)
	}
	return m, nil
}

// move is [Move] without warning and help, so that help can try other values.
func (j Change) move() (Movement, error) {
	frac, eq, err := j.Species.Fraction(j.Grain, j.FromMC, j.ToMC)
	if err != nil {
		return Movement{}, err
	}
	star := fit.Ring{Points: j.Points, BoardWidth: j.BoardWidth}
	if _, err := star.Gap(0, fit.LastJoint); err != nil {
		return Movement{}, err
	}
	half := geom.Deg(180 / float64(j.Points))
	after := turned(half, frac)
	var step, slide float64
	if j.Second != nil {
		// Half of the facets are of each wood, so that the ring as a whole opens as
		// one whose facets turn by the mean of both.
		other, eq2, err := j.Second.Fraction(j.Grain, j.FromMC, j.ToMC)
		if err != nil {
			return Movement{}, err
		}
		if eq2 != eq {
			eq += "; " + eq2
		}
		step, slide = j.apart(frac, other)
		after = (after + turned(half, other)) / 2
		frac = (frac + other) / 2
	}
	m := Movement{
		Fraction: frac, Equation: eq, Step: step, Slide: slide,
		WidthChange: frac * j.BoardWidth, NewWidth: (1 + frac) * j.BoardWidth,
		HalfBefore: half, HalfAfter: after,
		AllJoints: geom.Angle(2*j.Points) * (after - half),
	}
	star.BoardWidth = m.NewWidth
	for _, o := range []struct {
		test fit.Test
		into *fit.Opening
	}{{fit.LastJoint, &m.Last}, {fit.OneJoint, &m.Each}} {
		if *o.into, err = star.Gap(after-half, o.test); err != nil {
			return Movement{}, problem.List{{Key: "moisture in service", Got: percentText(j.ToMC),
				Why: fmt.Sprintf("from %s on, %s %s turns all facets together by %s deg: no joint stands that",
					percentText(j.FromMC), j.Grain, j.Species.Name, bench.Num(m.AllJoints.Degrees(), 1)),
				Would: "boards cut nearer to the moisture in service"}}
		}
	}
	return m, nil
}

// turned returns the angle of a facet when the board's width has changed by a
// part of it.
func turned(half geom.Angle, frac float64) geom.Angle {
	return geom.Angle(math.Atan((1 + frac) * half.Tan()))
}

// apart returns by how much two woods differ where they meet in a joint, when
// the widths of their boards have changed by two parts: in thickness, across
// which a flatsawn board moves as a quartersawn one does across its width and the
// other way round; and along the facet, which lies at half the centre's angle to
// the grain.
func (j Change) apart(one, other float64) (step, slide float64) {
	through := Rift
	switch j.Grain {
	case Flatsawn:
		through = Quartersawn
	case Quartersawn:
		through = Flatsawn
	}
	a, _ := j.Species.fraction(through, j.FromMC, j.ToMC)
	b, _ := j.Second.fraction(through, j.FromMC, j.ToMC)
	half := geom.Deg(180 / float64(j.Points))
	y := j.BoardWidth / 2
	x := y / half.Tan()
	return math.Abs(a-b) * j.Thickness, math.Abs(math.Hypot(x, (1+one)*y) - math.Hypot(x, (1+other)*y))
}

func (j Change) warning(m Movement) string {
	return fmt.Sprintf("from %s to %s moisture the joints open at the %s: %s each where all share it, %s where one takes all; the limit is %s",
		percentText(j.FromMC), percentText(j.ToMC), m.Last.At,
		j.Say.Of(round(m.Each.MM)), j.Say.Of(round(m.Last.MM)), j.Say.Of(j.Limit))
}

// helps lists what brings the opening down, each with the number it gives.
func (j Change) helps(m Movement) []string {
	var out []string
	if mc, ok := j.cutAt(); ok {
		out = append(out, fmt.Sprintf("let the boards come to %s before the facets are cut (in the room where the star will hang, or dried further): that stays within the limit", percentText(mc)))
	}
	if j.Grain != Quartersawn {
		q := j
		q.Grain = Quartersawn
		if r, err := q.move(); err == nil && r.Last.MM < m.Last.MM {
			out = append(out, fmt.Sprintf("quartersawn boards of the same wood: %s instead of %s", j.Say.Of(round(r.Last.MM)), j.Say.Of(round(m.Last.MM))))
		}
	}
	if w := math.Floor(j.BoardWidth * j.Limit / m.Last.MM); w >= leastWorth*j.BoardWidth {
		out = append(out, "boards no wider than "+j.Say.Of(w)+": the opening grows in proportion to the width")
	}
	if quiet := j.quieter(m.Last.MM); len(quiet) > 0 {
		one := "a wood that moves less: "
		if j.Second != nil {
			one = "one wood for all of it that moves less: "
		}
		out = append(out, one+strings.Join(quiet, ", "))
	}
	return append(out, "a finish on all faces and both ends slows the movement and does not stop it")
}

// cutAt returns the moisture nearest to today's at which the facets may be cut
// for an opening within the limit, to a tenth of a percent on the safe side.
func (j Change) cutAt() (float64, bool) {
	const step = 0.1
	steps := int(math.Abs(j.FromMC-j.ToMC) / step)
	for i := 1; i <= steps; i++ {
		at := j
		at.FromMC += math.Copysign(step*float64(i), j.ToMC-j.FromMC)
		at.FromMC = math.Round(at.FromMC/step) * step
		if m, err := at.move(); err == nil && m.Last.MM <= j.Limit {
			return at.FromMC, true
		}
	}
	return 0, false
}

// quieter names up to three woods of the table that open least with the same
// sawing, where that is less than worst.
func (j Change) quieter(worst float64) []string {
	type row struct {
		name string
		mm   float64
	}
	var rows []row
	for _, s := range Table() {
		k := j
		k.Species, k.Second = s, nil
		if m, err := k.move(); err == nil && m.Last.MM < worst {
			rows = append(rows, row{s.Name, m.Last.MM})
		}
	}
	slices.SortStableFunc(rows, func(a, b row) int { return cmp.Compare(a.mm, b.mm) })
	var out []string
	for _, r := range rows[:min(3, len(rows))] {
		out = append(out, fmt.Sprintf("%s (%s)", r.name, j.Say.Of(round(r.mm))))
	}
	return out
}

// round leaves a hundredth of a millimetre, for texts only.
func round(mm float64) float64 { return math.Round(mm*100) / 100 }
