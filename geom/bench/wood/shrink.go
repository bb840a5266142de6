package wood

import (
	"math"

	"starwright/geom/bench"
	"starwright/geom/problem"
)

// Limits of moisture, percent.
const (
	MaxMC         = 30.0 // Eq. (13-3): neither moisture above it; no wood shrinks there
	coefMin       = 6.0  // title of Table 13-5: Eq. (13-2) holds from 6
	coefMax       = 14.0 // to 14 %
	moistureWould = "0 to 30 %; indoors 6 to 9 %, a damp shed 12 to 16 %"
)

// Equation is the handbook's formula that was used.
type Equation string

// The two formulas.
const (
	Eq132 Equation = "Wood Handbook Eq. (13-2), 6 to 14 % moisture"
	Eq133 Equation = "Wood Handbook Eq. (13-3), up to 30 % moisture"
)

// Fraction returns the change of a size across the grain between two moistures
// in percent, as a part of the size at the first: < 0 shrinks.
//
// Within 6 to 14 % it is C (M2 - M1), Eq. (13-2); outside
// (M2 - M1) / (30*100/S - 30 + M1), Eq. (13-3). For western redcedar, which
// shrinks from 22 %, 22 stands for 30 and a moisture above it counts as 22.
func (s Species) Fraction(g Grain, fromMC, toMC float64) (float64, Equation, error) {
	var ps problem.List
	for _, m := range []struct {
		field string
		mc    float64
	}{{"moisture now", fromMC}, {"moisture in service", toMC}} {
		if !bench.Finite(m.mc) || m.mc < 0 || m.mc > MaxMC {
			ps = append(ps, problem.Problem{Key: m.field, Got: percentText(m.mc),
				Why: "wood moves between 0 and 30 %", Would: moistureWould})
		}
	}
	if len(ps) > 0 {
		return 0, "", ps
	}
	m, eq := s.fraction(g, fromMC, toMC)
	return m, eq, nil
}

// fraction is [Species.Fraction] for moistures that have been checked.
func (s Species) fraction(g Grain, fromMC, toMC float64) (float64, Equation) {
	if math.Min(fromMC, toMC) >= coefMin && math.Max(fromMC, toMC) <= coefMax {
		return s.Coef(g) * (toMC - fromMC), Eq132
	}
	return s.byShrinkage(g, fromMC, toMC), Eq133
}

// byShrinkage is Eq. (13-3).
func (s Species) byShrinkage(g Grain, fromMC, toMC float64) float64 {
	from, to := math.Min(fromMC, s.FiberSat), math.Min(toMC, s.FiberSat)
	return (to - from) / (s.FiberSat*100/s.shrink(g) - s.FiberSat + from)
}
