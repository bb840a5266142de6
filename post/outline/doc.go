// Package outline is the judge of cut drawings, whatever format they were read
// from. It answers two questions about a [cut.File]:
//
//   - may it be cut? [Judge] looks at the drawing for itself: that the check bar
//     is as long as it says, that everything lies on one of the four layers,
//     that contours are closed and enclose something, that none is repeated,
//     crosses, touches or runs along another or itself, that holes lie in
//     outlines and outlines in none.
//   - is it the drawing that was wanted? [Compare] holds it against a
//     [cut.Drawing], contour by contour and line by line, whatever their order,
//     first vertex and direction, and names what is missing, displaced, on
//     another layer or not wanted, with the line of the file.
//
// Findings say what is wrong, by how much, where, and what it does to the wood.
// The package knows contours and layers, no format and no star; it reads no
// file, and what a format asks of its files is for the reader to say
// ([cut.File.Form]). Work is bounded: a file built to cost time ends in the
// finding "tangle".
//
// That two contours meet, and that one lies in the other, follows the rules for
// rings and polygons of the simple features standard (OGC 06-103r4, 6.1.11),
// with arcs as curves of their own.
package outline
