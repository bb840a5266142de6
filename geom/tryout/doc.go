// Package tryout is a virtual bench: it carries out a route as a maker would,
// with the numbers as they are printed, and says how far what comes out is from
// the star that was wanted.
//
// A route says of each set-up how the work is held: which of its edges lies on
// the fence, which corner meets the stop, on which block or in which notch. The
// bench takes these contacts, the printed settings and the jigs as they were
// read back from their drawings, solves where the work then lies, cuts it kerf
// and all, and carries on with what is left. Where the route claims to know
// where the work lies ([route.Hold]) or what comes out ([route.Piece]), the claim
// is held against what happened. Nothing of it is believed.
//
// The package shares the types of [starwright/geom/route] with the choice of the
// route, and no code: no formula of the star, no method of a cut.
//
// It does not look at wood, time or safety, and it does not replay programs: a
// program is proven by the back-plot. It asks whether the words and numbers on
// the printed sheet make the star.
package tryout

import "starwright/geom"

// Limits of what may be off when a route is done as printed.
const (
	// OutlineTol is how far a piece may be from its model, mm. Half a millimetre
	// shows at the saw's joint; two fifths of that are for the numbers' rounding,
	// the rest is the maker's.
	OutlineTol = 0.2
	// JointTol is how far the last joint of a star may stand open, mm.
	JointTol = 0.2
	// SlotTol is how far a slot's place may be off, mm: a tenth is what a careful
	// rule shows.
	SlotTol = 0.1
	// ReachTol is how much less than the wood a printed reach may say, mm.
	ReachTol = 0.5
	// angleTol is how far a jig read back may be from its printed angle, radians:
	// a hundredth of a degree, the last place that is printed.
	angleTol = 0.011 * geom.Degree
)

// sameCorner is how far a corner of the work may be from the corner that the
// route names, mm: more than any rounding adds up to, less than any edge.
const sameCorner = 1.0
