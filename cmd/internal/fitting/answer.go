package fitting

import (
	"starwright/cmd/internal/plan"
	"starwright/geom"
	"starwright/geom/bench/fit"
)

// Question is what is asked. Lengths are mm. Each of Gap, SawError and
// Limit is nil where it is not asked about.
type Question struct {
	Star     fit.Ring
	Unit     geom.Unit // in which lengths are printed
	Gap      *float64
	At       fit.End
	Test     fit.Test
	Pivot    float64     // where a correction is given as a length
	SawError *geom.Angle // of each facet, without a sign: the answer gives both ways
	Limit    *float64
}

// Answer is the JSON document of `fit --json`: lengths mm, angles degrees.
type Answer struct {
	Star    StarDocument `json:"star"`
	Pivot   float64      `json:"pivot_mm"`
	Reading *Reading     `json:"reading,omitempty"`
	Expect  []Opening    `json:"expect,omitempty"`
	Finest  []Finest     `json:"finest,omitempty"`

	// Route is the set-ups that cut the facets of the job, corrected.
	Route []plan.SetupDocument `json:"route,omitzero"`

	way *Way
	q   Question
}

// StarDocument is what the fit depends on.
type StarDocument struct {
	Points     int     `json:"points"`
	BoardWidth float64 `json:"board_width_mm"`
	Facet      float64 `json:"facet_mm"`
	Half       float64 `json:"facet_to_axis_deg"` // the right angle
	Miter      float64 `json:"center_miter_deg"`
}

// Reading is what a gap says.
type Reading struct {
	Test          string  `json:"test"`
	At            string  `json:"at"`
	Gap           float64 `json:"gap_mm"`
	Error         float64 `json:"facet_error_deg"` // > 0 too large
	Facets        int     `json:"facets"`
	Sum           float64 `json:"all_facets_error_deg"`
	TurnBy        float64 `json:"turn_saw_deg"`
	TowardsSquare bool    `json:"towards_square"`
	OpenBlock     bool    `json:"open_block"`
	AtPivot       float64 `json:"move_at_pivot_mm"`
	True          Truing  `json:"true_last_joint"`

	r fit.Reading
	t fit.Truing
}

// Truing is the way out without a new cut.
type Truing struct {
	Facets  int     `json:"facets"`
	WideEnd string  `json:"wide_end"`
	TakeOff float64 `json:"take_off_mm"`
	Wedge   float64 `json:"wedge_deg"`
	Tips    float64 `json:"tip_distances_differ_mm"`
}

// Opening is the gap that an error makes in one test.
type Opening struct {
	Error  float64 `json:"facet_error_deg"`
	Test   string  `json:"test"`
	At     string  `json:"at"`
	Gap    float64 `json:"gap_mm"`
	Joints int     `json:"joints"`
}

// Finest is how exactly the saw must be set for a limit in one test.
type Finest struct {
	Test    string  `json:"test"`
	Limit   float64 `json:"limit_mm"`
	Within  float64 `json:"within_deg"`
	AtPivot float64 `json:"at_pivot_mm"`
}

// Ask answers a question. Errors are problem.List.
func Ask(q Question) (*Answer, error) {
	s := q.Star
	half := geom.Deg(180 / float64(s.Points))
	a := &Answer{q: q, Pivot: q.Pivot, Star: StarDocument{s.Points, s.BoardWidth, s.BoardWidth / 2 / half.Sin(), half.Degrees(), 90 - half.Degrees()}}
	if q.Gap != nil {
		if err := a.read(); err != nil {
			return nil, err
		}
	}
	if q.SawError != nil {
		for _, e := range []geom.Angle{-*q.SawError, *q.SawError} {
			open, err := s.Expect(e)
			if err != nil {
				return nil, err
			}
			for _, o := range open {
				a.Expect = append(a.Expect, Opening{e.Degrees(), o.Test.String(), o.At.String(), o.MM, o.Joints})
			}
		}
	}
	if q.Limit != nil {
		for _, t := range fit.Tests(s.Points) {
			e, err := s.Finest(*q.Limit, t, q.Unit.FormatFine)
			if err != nil {
				return nil, err
			}
			a.Finest = append(a.Finest, Finest{t.String(), *q.Limit, e.Degrees(), fit.MoveFor(e).At(q.Pivot)})
		}
	}
	return a, nil
}

func (a *Answer) read() error {
	q := a.q
	r, err := q.Star.Read(*q.Gap, q.At, q.Test, q.Unit.FormatFine)
	if err != nil {
		return err
	}
	t, err := q.Star.True(r.Error)
	if err != nil {
		return err
	}
	a.Reading = &Reading{
		Test: r.Test.String(), At: r.At.String(), Gap: r.MM, Error: r.Error.Degrees(), Facets: r.Facets,
		Sum: r.Error.Degrees() * float64(2*q.Star.Points), TurnBy: r.Move.By.Degrees(), TowardsSquare: r.Move.TowardsSquare, OpenBlock: r.Move.OpenBlock,
		AtPivot: r.Move.At(q.Pivot),
		True:    Truing{t.Facets, t.WideEnd.String(), t.TakeOff, t.Wedge.Degrees(), t.TipDiff},
		r:       r, t: t,
	}
	return nil
}
