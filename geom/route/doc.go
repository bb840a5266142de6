// Package route is the way from board to finished star, as data: an ordered
// list of set-ups. A set-up knows its machine, the piece before and after, how
// the piece is held, where the cut runs, which side is kept, every number that
// the maker sets or measures as the text and value that are printed, what is
// turned between two cuts, and how many there are to do. Pages, plan, bench
// page, jigs and the correction after a test fit are derived from it and hold no
// method of their own.
//
// The package has the types only. It chooses nothing (that is
// [starwright/geom/route/choose]) and proves nothing: what
// carries a route out to prove it needs the types, and shares no code with the
// choice.
//
// # Three planes
//
// A piece has coordinates of its own: show face up, the star's centre at 0,0,
// the axis along +x to the tip; so left, seen with the tip up, is y > 0.
//
// A machine has coordinates seen from above: X to the right along the fence, the
// fence's face Y = 0, the work at Y <= 0, the operator at negative Y.
//
//	   fence
//	========|=====================  Y = 0
//	        |/ board /            |
//	        /       /           [stop]
//	line of cut
//	     operator
//
// The line of cut crosses the fence at X = 0. With the saw turned by s it leaves
// the fence at s from square. The kerf lies on the side that is not kept, its
// edge on the line.
//
// A [Hold] brings the one into the other: face down, the piece is mirrored first
// (y to -y); then it is turned counter-clockwise; then moved.
package route
