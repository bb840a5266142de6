package star

import (
	"fmt"

	"starwright/geom/problem"
)

// Halves says how the two woods of a star come together.
type Halves string

// The ways. Seen from the front with its tip up, a segment has a left and a
// right half.
const (
	Turning  Halves = "turning"  // every segment of both woods, the first always on the left
	Mirrored Halves = "mirrored" // every segment of both, and like meets like at every joint
	Whole    Halves = "whole"    // segments of one wood, by turns
)

// TwoWoods reports whether the star is of two woods.
func (u *Unit) TwoWoods() bool { return u.Spec.Woods[0] != "" }

// Halved reports whether every segment is of two woods, which meet on its middle
// line. A star from tip off-cuts of such segments is halved too: of the two
// off-cuts of a blank the first is of the left half's wood and the second of the
// right one's, see [Offcuts], and they are glued together along their edges.
func (u *Unit) Halved() bool { return u.TwoWoods() && u.Spec.Halves != Whole }

// WoodsOf returns the woods of segment k, 0 or 1 of the two, left and right half
// as seen from the front with its tip up. Segments count counter-clockwise.
func (u *Unit) WoodsOf(k int) (left, right int) {
	odd := k % 2
	switch {
	case !u.TwoWoods():
		return 0, 0
	case u.Spec.Halves == Mirrored:
		return odd, 1 - odd
	case u.Spec.Halves == Whole:
		return odd, odd
	}
	return 0, 1
}

// Alternates reports whether neighbouring segments differ by their woods.
func (u *Unit) Alternates() bool { return u.TwoWoods() && u.Spec.Halves != Turning }

// woods refuses halves that do not close into a ring: segments that take turns
// need a neighbour each.
func (o *Order) woods(u *Unit) problem.List {
	if !u.Alternates() || u.Points%2 == 0 {
		return nil
	}
	why := "whole segments of two woods take turns"
	if u.Spec.Halves == Mirrored {
		why = "like meets like where neighbours are mirrored"
	}
	return problem.List{{Key: "star.halves", Got: string(u.Spec.Halves),
		Why:   fmt.Sprintf("%s, and round a star of %d points the last meets the first wrong", why, u.Points),
		Would: fmt.Sprintf("halves = %q, or an even number of points", Turning)}}
}
