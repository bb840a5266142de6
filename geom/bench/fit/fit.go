// Package fit turns what the maker sees at the test fit into a correction of
// the saw, and a saw's error into the gap to expect.
//
// One kind of error is treated: every facet of every segment stands off its
// angle c/2 to the board's axis by the same e, because one set-up cut them
// all. e > 0 is too large, e < 0 too small. The board keeps its width w, so a
// facet is f = (w/2)/sin(c/2+e) long. The n segments together turn through
// 360 + 2ne degrees: D = 2n|e| is missing or too much.
//
//	too small                        too large
//
//	 \        /  valley gap           \  /   touch at the valleys
//	  \      /                        |  |
//	   \    /                         |  |   gap at the centre
//	    \  /  touch at the centre     /  \
//
// A gap is measured with a rule from corner to corner: between the two valley
// corners that should meet, or between the two centre corners that should
// meet. Against a straightedge it is measured square to the straightedge. What
// the fit looks like depends on how the segments are laid; each [Test] says so
// and gives its formula. All formulas are plane trigonometry of rigid segments
// with straight facets; none is an approximation for small e.
//
// The package knows no saw: [Move] gives the way and the amount for any scale
// or stop.
package fit

import (
	"math"
	"strconv"

	"starwright/geom"
	"starwright/geom/bench"
	"starwright/geom/problem"
)

// Limits within which the formulas hold and are tested.
const (
	MinPoints = 4
	MaxPoints = 12

	// MaxTotal is the largest sum of all facets' errors that is taken for an
	// error of the setting. Beyond it a corner of one half would strike the
	// outer edges of the other, and no saw is off by so much: the wrong mark
	// was read.
	MaxTotal = 30 * geom.Degree
)

// Ring is what the fit depends on.
type Ring struct {
	Points     int
	BoardWidth float64    // valley to valley across a segment
	Tip        geom.Angle // tip angle; only [Ring.True] uses it, for the roundness
}

// Place is where a gap shows.
type End uint8

// The two ends of a joint.
const (
	Valley End = iota // outer end: the angles are too small
	Centre            // star's centre: the angles are too large
)

// String returns the trade's word.
func (p End) String() string {
	if p == Centre {
		return "centre"
	}
	return "valley"
}

// Test is a way of laying the segments for the test fit.
type Test uint8

// The tests. f, e, D as in the package comment; h = n/2 rounded down.
const (
	// LastJoint: n-1 joints are pressed shut facet on facet, one is left. Too
	// small: all centres meet and the last joint opens at its valley,
	// 2f sin(D/2). Too large: the last segment lies shut against one neighbour
	// and cannot slide home to the centre, because its other facet strikes the
	// other neighbour's valley corner; its centre corner stays
	// f sin(D)/sin(c+2e) away from the neighbours'.
	LastJoint Test = iota

	// Halves: two groups of h and n-h segments, all joints within a group
	// shut, are pushed together so that their two joints open alike. Too
	// small: 2f sin(D/4) at each of the two valleys. Too large: the groups
	// touch at both valleys and their centre corners stay
	// f sin(D/2)/sin(h(c/2+e)) apart; for even n that is 2f sin(D/4).
	Halves

	// OneJoint: the error is shared evenly by all n joints. Too small: each
	// valley is open by 2f sin|e|. Too large: all valley corners touch and
	// neighbours' centre corners are 2f sin(e) apart round a hole.
	OneJoint

	// Straightedge: for an even number of points, one half with its joints
	// shut against a straightedge. Too small: held against one outer facet the
	// other valley stands off by f sin(D/2). Too large: the straightedge
	// bridges both valleys and the centre lies f sin(D/4) under it.
	Straightedge
)

// String returns the test in words.
func (t Test) String() string {
	switch t {
	case LastJoint:
		return "last joint of the whole star"
	case Halves:
		return "two halves together"
	case OneJoint:
		return "one joint of many alike"
	case Straightedge:
		return "half star against a straightedge"
	}
	return "unknown test"
}

// Tests returns the tests that can be made with so many points.
func Tests(points int) []Test {
	if points%2 == 0 {
		return []Test{LastJoint, Halves, OneJoint, Straightedge}
	}
	return []Test{LastJoint, Halves, OneJoint}
}

// check returns what the star and the test cannot be computed with.
func (s Ring) check(t Test) problem.List {
	var ps problem.List
	if s.Points < MinPoints || s.Points > MaxPoints {
		ps = append(ps, problem.Problem{Key: "points", Got: strconv.Itoa(s.Points),
			Why: "no star with so many points", Would: "4 to 12"})
		return ps
	}
	if !bench.Finite(s.BoardWidth) || s.BoardWidth <= 0 {
		ps = append(ps, problem.Problem{Key: "board width", Got: bench.Say(nil).Of(s.BoardWidth),
			Why: "not a width", Would: "114 mm"})
	}
	if t > Straightedge {
		ps = append(ps, problem.Problem{Key: "test", Why: "unknown test", Would: LastJoint.String()})
	}
	if t == Straightedge && s.Points%2 != 0 {
		ps = append(ps, problem.Problem{Key: "test", Got: Straightedge.String(),
			Why: "half of an odd number of points has no straight edge", Would: Halves.String()})
	}
	return ps
}

// half returns c/2, the facet's angle to the board's axis.
func (s Ring) half() geom.Angle { return geom.Deg(180 / float64(s.Points)) }

// smaller returns h, the number of segments in the smaller half.
func (s Ring) smaller() int { return s.Points / 2 }

// facet returns f in mm for a facet that is off by e.
func (s Ring) facet(e geom.Angle) float64 { return s.BoardWidth / 2 / (s.half() + e).Sin() }

// total returns D for an error e.
func (s Ring) total(e geom.Angle) geom.Angle {
	return geom.Angle(2 * float64(s.Points) * math.Abs(float64(e)))
}

// MaxError returns the largest error of a facet that is taken for an error of
// the setting, see [MaxTotal].
func (s Ring) MaxError() geom.Angle {
	if s.Points <= 0 {
		return 0
	}
	return MaxTotal / geom.Angle(2*s.Points)
}
