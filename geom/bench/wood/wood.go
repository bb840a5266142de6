// Package wood computes how a star moves between the shop and the wall: from
// moisture or relative humidity to the change of the boards' width, of the
// facets' angle and of the joints, and says when that is too much and what
// helps.
//
// Source of the coefficients and formulas: Forest Products Laboratory, Wood
// Handbook - Wood as an Engineering Material, FPL-GTR-190, 2010, Tables 4-3
// and 13-5, Eq. (13-2) and (13-3). Every row of the table says how far it was
// seen in that source, see [Status].
//
// The handbook warns that boards are rarely perfectly flatsawn or quartersawn,
// so that the change of width is over-estimated for flatsawn stock. Wood
// hardly moves along the grain (0.1 to 0.2 % from green to dry); that is left
// out. What a finish does is not computed: it slows movement and does not stop
// it.
package wood

// Status says where a row's numbers come from.
type Status string

// How far a row was checked against the source.
const (
	Seen    Status = "seen in the Wood Handbook, Tables 4-3 and 13-5"
	SeenC   Status = "coefficients seen in the Wood Handbook, Table 13-5; shrinkage derived from them"
	SeenS   Status = "shrinkage seen in the Wood Handbook, Table 4-3; coefficients from memory, they agree with it"
	SeenPrt Status = "seen in part; the rest from memory, agrees by the rule behind Table 13-5"
	Memory  Status = "from memory, agrees by the rule behind Table 13-5"
	Derived Status = "shrinkage from memory; coefficients derived by the rule behind Table 13-5"
)

// Grain is how the board's width lies to the growth rings.
type Grain uint8

// The ways of sawing. Flatsawn moves with the tangential coefficient across
// its width, quartersawn with the radial one. Rift takes the mean of both:
// common practice, no source.
const (
	Flatsawn Grain = iota
	Quartersawn
	Rift
)

// String returns the trade's word.
func (g Grain) String() string {
	switch g {
	case Quartersawn:
		return "quartersawn"
	case Rift:
		return "rift sawn"
	}
	return "flatsawn"
}

// Species is one row of the table.
type Species struct {
	Name             string
	ShrinkR, ShrinkT float64 // green to oven-dry, percent, radial and tangential
	CoefR, CoefT     float64 // change of size per 1 % of moisture, a part of the size at 10 %
	FiberSat         float64 // moisture in percent below which it shrinks: 30, or 22
	Status           Status
}

// shrink returns the shrinkage green to oven-dry across the board, percent.
func (s Species) shrink(g Grain) float64 { return pick(g, s.ShrinkR, s.ShrinkT) }

// Coef returns the coefficient of Eq. (13-2) across the board for a way of
// sawing.
func (s Species) Coef(g Grain) float64 { return pick(g, s.CoefR, s.CoefT) }

func pick(g Grain, radial, tangential float64) float64 {
	switch g {
	case Quartersawn:
		return radial
	case Rift:
		return (radial + tangential) / 2
	}
	return tangential
}

// coefFrom returns the coefficient that belongs to a shrinkage in percent: per
// 1 % of moisture, referred to the size at 10 % (footnote to Table 13-5, from
// memory; it reproduces 40 of 40 printed coefficients).
func coefFrom(shrink, fiberSat float64) float64 {
	s := shrink / 100
	return s / fiberSat / (1 - s*(fiberSat-10)/fiberSat)
}

// shrinkFrom is the inverse of [coefFrom].
func shrinkFrom(coef, fiberSat float64) float64 {
	return 100 * coef * fiberSat / (1 + coef*(fiberSat-10))
}

// fiberSat is where shrinkage starts for all rows but western redcedar's 22.
const fiberSat = 30.0

// Table returns every species, in alphabetical order. The slice is the
// caller's own.
func Table() []Species {
	full := func(name string, sr, st, cr, ct float64, why Status) Species {
		return Species{Name: name, ShrinkR: sr, ShrinkT: st, CoefR: cr, CoefT: ct, FiberSat: fiberSat, Status: why}
	}
	fromShrink := func(name string, sr, st float64) Species {
		return full(name, sr, st, coefFrom(sr, fiberSat), coefFrom(st, fiberSat), Derived)
	}
	fromCoef := func(name string, cr, ct float64) Species {
		return full(name, shrinkFrom(cr, fiberSat), shrinkFrom(ct, fiberSat), cr, ct, SeenC)
	}
	redcedar := full("western redcedar", 2.4, 5.0, 0.00111, 0.00234, SeenS)
	redcedar.FiberSat = 22
	return []Species{
		fromShrink("american beech", 5.5, 11.9),
		fromShrink("baldcypress", 3.8, 6.2),
		fromShrink("basswood", 6.6, 9.3),
		full("black cherry", 3.7, 7.1, 0.00126, 0.00248, Seen),
		full("black walnut", 5.5, 7.8, 0.00190, 0.00274, Seen),
		full("douglas-fir, coast", 4.8, 7.6, 0.00165, 0.00267, SeenPrt),
		fromShrink("eastern redcedar", 3.1, 4.7),
		full("eastern white pine", 2.1, 6.1, 0.00071, 0.00212, Memory),
		full("hard maple", 4.8, 9.9, 0.00165, 0.00353, SeenPrt),
		fromShrink("loblolly pine", 4.8, 7.4),
		fromShrink("lodgepole pine", 4.3, 6.7),
		fromShrink("longleaf pine", 5.1, 7.5),
		fromShrink("northern red oak", 4.0, 8.6),
		full("ponderosa pine", 3.9, 6.2, 0.00133, 0.00216, Memory),
		fromShrink("quaking aspen", 3.5, 6.7),
		fromShrink("red alder", 4.4, 7.3),
		fromShrink("red maple", 4.0, 8.2),
		fromCoef("red oak", 0.00158, 0.00369),
		fromShrink("redwood", 2.6, 4.4),
		fromShrink("sitka spruce", 4.3, 7.5),
		fromShrink("sugar pine", 2.9, 5.6),
		fromShrink("western hemlock", 4.2, 7.8),
		redcedar,
		fromShrink("white ash", 4.9, 7.8),
		full("white fir", 3.3, 7.0, 0.00112, 0.00245, SeenPrt),
		fromShrink("white oak", 5.6, 10.5),
		fromShrink("yellow birch", 7.3, 9.5),
		full("yellow-poplar", 4.6, 8.2, 0.00158, 0.00289, SeenS),
	}
}
