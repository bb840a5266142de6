// Package flat lays parts such as a star's segments out on boards that lie flat
// on a machine: from which piece of which board each is cut, and where it lies.
//
// # The wood
//
// A board is as wide as it is all along, and has bad places across its whole
// width. Off each end comes the end trim. What lies between trims and bad
// places is clear wood; a bad place narrower than the kerf counts as one kerf
// wide. Clear wood is cross-cut into panels, no longer than the machine takes,
// with a kerf between two. A panel is no longer than its parts need, so that
// what is left of a board stays in one piece at its right end.
//
// # The parts
//
// Each lies with its grain along the board, as its outline gives it or turned
// by half a turn, nothing between. They are laid in rows by their real shapes:
// kites head to tail share their sloped edges, in one row of a board that is a
// little wider than they are, and in rows that reach into each other on a wide
// one. How near two parts may lie is worked out exactly for straight sides;
// arcs count as 0.01 mm larger than they are.
//
// # What is best
//
// In this order: the most of the wanted parts; the least length of boards that
// are cut into, whole boards counted; the fewest panels; the fewest different
// ones, since equal panels are cut by one program. The answer is searched and not
// proven; [Result.Bound] says what no layout could undercut. The work is
// counted, not timed, so that the same parts always lie the same way.
//
// The package does not rip boards, does not lay parts into each other's
// cut-outs or into gaps behind other parts, and plans no cutter's way.
package flat

import (
	"context"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/nest"
)

// Span is a bad place along a board, mm from its left end.
type Span struct{ Start, End float64 }

// Board is one board of the rack, or several alike. Lengths are mm.
type Board struct {
	Width, Length float64
	Bad           []Span // knots, splits, stains; in any order, may overlap
	Count         int    // boards alike; 0 counts as 1
}

// Item is a part that is wanted so many times.
type Item struct {
	Part  toolpath.Part // outline as it is cut, the grain along X
	Count int
}

// Options describe the machine and the cuts. Lengths are mm.
type Options struct {
	BedX, BedY float64 // longest and widest piece of board that lies on the machine; 0 sets no limit
	EndTrim    float64 // off each end of each board
	Kerf       float64 // of the cross-cut between two pieces of a board
	Step       float64 // a piece is a multiple of it long where the wood lasts, so that its length can be read off a rule; 0 leaves it
	// Margin, Spacing and Cutter are those of [nest.Options]: from a piece's edge
	// to a part, from part to part, the cutter's diameter.
	Margin, Spacing, Cutter float64
	// Zones returns where a piece, w long and h wide, is screwed down; nil where
	// it is held by other means.
	Zones func(w, h float64) []geom.Box
	Unit  geom.Unit // of the lengths in problems
}

// Panel is a stretch of a board that lies on the machine as one sheet, X along
// the grain, its lower left corner at the origin. Lengths are mm.
type Panel struct {
	Board  int     // place in the list of boards
	Copy   int     // 1-based among boards alike
	Start  float64 // of the panel, from the board's left end
	Length float64
	Width  float64
	Parts  []nest.Placement // in the order in which they were laid; Item is the place in the list of items
}

// Result is the finished layout.
type Result struct {
	Panels  []Panel // board by board, in the order of the rack, from left to right
	Laid    []int   // of each item, how many are laid
	Missing []int   // of each item, how many the boards do not give
	Taken   float64 // length of the boards that are cut into, mm
	// Bound is a length of boards that no layout of the same parts could
	// undercut, because of the area that parts and spacing take, mm.
	Bound float64
}

// Lay lays the items out on the boards. The error is of type [problem.List] where
// the options, boards or parts are wrong, of type [TooLarge] where a part fits on
// no board, and the context's own where that ends before the layout is found.
func Lay(ctx context.Context, items []Item, boards []Board, o Options) (Result, error) {
	if err := check(items, boards, o).Err(); err != nil {
		return Result{}, err
	}
	s := newSearch(items, o)
	single := rack(boards, o)
	if err := s.fits(single); err != nil {
		return Result{}, err
	}
	best := s.run(ctx, single)
	if err := ctx.Err(); err != nil {
		return Result{}, err
	}
	return s.result(best, single), nil
}
