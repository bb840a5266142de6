// Package geom holds the plane geometry that the rest of starwright stands
// on: points, angles, straight and circular pieces, closed contours, rigid
// placements, and lengths as people at a bench write them.
//
// Every length is in millimetres and every coordinate lies in a right-handed
// plane, X to the right and Y up. Angles have a type of their own, [Angle], so
// that degrees and radians cannot be mixed; a positive angle turns
// counter-clockwise.
//
//	       Y
//	       |   . bulge > 0: the arc from A to B runs counter-clockwise,
//	       |  /  so it lies to the right of the straight way from A to B
//	       | /
//	-------+------- X
//
// The package knows nothing of stars, jigs, tools or files, imports only the
// standard library, and never changes the values it is given.
package geom
