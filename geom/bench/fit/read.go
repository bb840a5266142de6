package fit

import (
	"math"

	"starwright/geom"
	"starwright/geom/bench"
	"starwright/geom/problem"
)

// Reading is what a measured gap says of the saw.
type Reading struct {
	Opening            // the gap as read
	Error   geom.Angle // of every facet: > 0 too large, < 0 too small
	Move    Move
}

// Move is how to set the saw to take an error out.
type Move struct {
	By geom.Angle // always positive

	// TowardsSquare is the way on a saw's scale that reads 0 for a square
	// cross-cut, where the right setting is 90 - c/2. Facets whose angle to
	// the board's axis is too small were cut with the arm too far from square.
	TowardsSquare bool

	// OpenBlock is the way for an angle block between fence and board: true turns
	// the board farther from the fence. Saw and block together make 90 - c/2, so
	// that it is the way away from square.
	OpenBlock bool
}

// At returns how far the arm, fence or block moves at a place so far from
// its pivot in mm, measured square to the arm: r tan(By).
func (m Move) At(fromPivotMM float64) float64 { return fromPivotMM * m.By.Tan() }

// MoveFor returns the move that takes an error of e out.
func MoveFor(e geom.Angle) Move {
	return Move{By: geom.Angle(math.Abs(float64(e))), TowardsSquare: e < 0, OpenBlock: e > 0}
}

// Read turns a measured gap in mm into the error of each facet and the move
// that takes it out. say writes lengths in the errors, nil in mm.
func (s Ring) Read(gap float64, at End, t Test, say bench.Say) (Reading, error) {
	ps := s.check(t)
	if len(ps) > 0 {
		return Reading{}, ps
	}
	if at > Centre {
		return Reading{}, problem.List{{Key: "place", Why: "unknown end of a joint", Would: "valley or centre"}}
	}
	most := s.gap(sign(at)*s.MaxError(), t).MM
	if bad, found := refuse(gap, most, s.facet(0), say); found {
		return Reading{}, problem.List{bad}
	}
	e := s.solve(gap, at, t)
	o := s.gap(e, t)
	o.At, o.MM = at, gap // a gap of nothing keeps the place where it was looked for
	return Reading{Opening: o, Error: e, Move: MoveFor(e)}, nil
}

// refuse names what is wrong with a gap, found false where nothing is.
func refuse(gap, most, facet float64, say bench.Say) (p problem.Problem, found bool) {
	p = problem.Problem{Key: "gap", Got: say.Of(gap), Would: "0 to " + say.Of(math.Floor(most*10)/10)}
	switch {
	case !bench.Finite(gap) || gap < 0:
		p.Why = "not a gap"
	case gap > facet:
		p.Why = "larger than a whole facet of " + say.Of(facet)
	case gap > most:
		p.Why = "too large for an error of the setting; the wrong mark was read, or another joint was open too"
	default:
		return problem.Problem{}, false
	}
	return p, true
}

// sign returns the sign of the error that opens a joint at this place.
func sign(at End) geom.Angle {
	if at == Centre {
		return 1
	}
	return -1
}

// solve finds e by halving the interval from 0 to the largest error, over
// which every gap grows with the error. 60 halvings leave less than 1e-17 rad.
func (s Ring) solve(gap float64, at End, t Test) geom.Angle {
	const halvings = 60
	lo, hi := geom.Angle(0), s.MaxError()
	for range halvings {
		mid := (lo + hi) / 2
		if s.gap(sign(at)*mid, t).MM < gap {
			lo = mid
		} else {
			hi = mid
		}
	}
	if gap == 0 {
		return 0
	}
	return sign(at) * hi
}

// Finest returns how exactly the saw must be set, in either direction, for
// gaps of at most limit in a test. It is never more than [Ring.MaxError].
func (s Ring) Finest(limit float64, t Test, say bench.Say) (geom.Angle, error) {
	if ps := s.check(t); len(ps) > 0 {
		return 0, ps
	}
	if !bench.Finite(limit) || limit <= 0 {
		return 0, problem.List{{Key: "limit", Got: say.Of(limit),
			Why: "a limit above nothing is needed", Would: say.Of(0.2)}}
	}
	least := s.MaxError()
	for _, at := range []End{Valley, Centre} {
		e := geom.Angle(math.Abs(float64(s.solve(limit, at, t))))
		if e < least {
			least = e
		}
	}
	return least, nil
}
