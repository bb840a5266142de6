// Package ncread reads RS-274 programs: strictly, in one pass, in fixed
// memory however long the file is, and fast enough that a program of a
// million blocks is no wait. It replays the program by the modal rules and
// the order of execution of the standard (NISTIR 6556, Table 8) and hands
// every motion to the caller, who judges what it does to the wood. Lines of a
// long program are taken apart ahead on a second processor, where there is one;
// the caller is called in order and from its own goroutine. It shares no code
// with the writer.
//
// # What it says about a file
//
// Two layers of faults, told apart by the rule's name. Both fail a file:
//
//   - std-...: the block breaks NISTIR 6556; the clause is given.
//   - sub-...: valid RS-274, but outside the conservative subset of package
//     rs274, or resting on something the program has not said. Small
//     controllers read such a block differently; the reason is given.
//
// Where interpreters of the standard differ in what stops them, the stricter
// one is right, and its reason is a rule: a line that ends with CR alone, G94
// that makes it forget the feed, text after the end.
//
// Beside them stand notes: remarks on what is harmless, such as G91, arcs by
// radius, comments after a semicolon or lines of %, which are read properly. Spacing, lower case, line numbers,
// leading zeros, and the order and number of words in a block are nobody's
// business and give neither. [Rules] lists every rule.
//
// # Nothing is guessed
//
// A unit, plane, distance mode, work offset, feed or spindle speed that is
// needed before the program has given it is a fault, and so is a cut from a
// place that the program has not set. The position before the first move is
// unknown, each axis by itself. A move is handed out once all three axes of
// its end are known; a start that is unknown in an axis is given as equal to
// the end in that axis, so such a move has no length there.
//
// After a fault reading goes on where that is possible, so that one look
// finds all that is wrong; the moves that follow are then replayed as well as
// can be, and the file has failed whatever they look like. What is not
// executed at all, each with a fault: parameters, expressions, canned cycles,
// compensation, tool changes, other planes, offsets and reference positions.
package ncread
