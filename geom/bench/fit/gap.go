package fit

import (
	"math"

	"starwright/geom"
	"starwright/geom/bench"
	"starwright/geom/problem"
)

// Opening is the gap that an error of the saw makes.
type Opening struct {
	Test   Test
	At     End
	MM     float64    // each open joint, as the package comment measures it
	Angle  geom.Angle // between the two facets of each open joint
	Joints int        // how many joints are open alike
	Facets int        // how many facets' errors add up in the open joints together
}

// Gap returns the opening that an error of e of every facet makes in a test:
// e > 0 where the facets' angle to the board's axis is too large.
func (s Ring) Gap(e geom.Angle, t Test) (Opening, error) {
	ps := s.check(t)
	if len(ps) > 0 {
		return Opening{}, ps
	}
	if !bench.Finite(float64(e)) || geom.Angle(math.Abs(float64(e))) > s.MaxError() {
		return Opening{}, problem.List{{Key: "error", Got: degrees(e),
			Why:   "too large for an error of the setting; the wrong mark was read",
			Would: "at most " + degrees(s.MaxError())}}
	}
	return s.gap(e, t), nil
}

// Expect returns the opening in every test that the star allows.
func (s Ring) Expect(e geom.Angle) ([]Opening, error) {
	var out []Opening
	for _, t := range Tests(s.Points) {
		o, err := s.Gap(e, t)
		if err != nil {
			return nil, err
		}
		out = append(out, o)
	}
	return out, nil
}

// gap is [Ring.Gap] for values that have been checked.
func (s Ring) gap(e geom.Angle, t Test) Opening {
	o := Opening{Test: t, At: Valley}
	if e > 0 {
		o.At = Centre
	}
	total := s.total(e)
	switch t {
	case LastJoint:
		o.Joints, o.Facets, o.Angle = 1, 2*s.Points, total
	case Halves:
		o.Joints, o.Facets, o.Angle = 2, 2*s.Points, total/2
	case OneJoint:
		o.Joints, o.Facets, o.Angle = s.Points, 2*s.Points, total/geom.Angle(s.Points)
	case Straightedge:
		o.Joints, o.Facets, o.Angle = 1, s.Points, total/2
		if o.At == Centre {
			o.Joints, o.Angle = 2, total/4
		}
	}
	if o.At == Centre {
		o.MM = s.gapCentre(e, t)
	} else {
		o.MM = s.gapValley(e, t)
	}
	return o
}

// gapValley is the gap for e <= 0: the segments share the centre.
func (s Ring) gapValley(e geom.Angle, t Test) float64 {
	f, d := s.facet(e), s.total(e)
	switch t {
	case LastJoint:
		return 2 * f * (d / 2).Sin()
	case Halves:
		return 2 * f * (d / 4).Sin()
	case OneJoint:
		return 2 * f * (-e).Sin()
	default:
		return f * (d / 2).Sin()
	}
}

// gapCentre is the gap for e > 0: the segments touch at valleys.
//
// LastJoint: O is the others' centre, A the last segment's centre corner, slid
// out along the shut facet, P the valley corner that its other facet strikes.
// In the triangle O A P the angle at O is what is left for the segment,
// c+2e-D, the outer angle at A is c+2e, so the angle at P is D, and OP = f.
//
// Halves: the smaller half, of the angle 2b = h(c+2e), stands D wider than the
// notch left for it and is held by the notch's two valley corners; the same
// triangle on the line of symmetry, with D/2 and b.
func (s Ring) gapCentre(e geom.Angle, t Test) float64 {
	f, d := s.facet(e), s.total(e)
	switch t {
	case LastJoint:
		return f * d.Sin() / (2 * (s.half() + e)).Sin()
	case Halves:
		return f * (d / 2).Sin() / (geom.Angle(s.smaller()) * (s.half() + e)).Sin()
	case OneJoint:
		return 2 * f * e.Sin()
	default:
		return f * (d / 4).Sin()
	}
}

func degrees(a geom.Angle) string { return bench.Num(a.Degrees(), 3) + " deg" }
