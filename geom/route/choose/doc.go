// Package choose works out the route of an order: for each operation the best
// way that the shop can do, with the set-ups in the order of work, where each
// piece lies according to the numbers as they are printed, and the jigs that
// the set-ups use.
//
// Where a way does not exist - the saw swings too little, reaches too short,
// the shop lacks the machine - the next one is taken, down to hand tools; the
// choice says which, why, and what the next would need. The package draws no
// page and reads no file.
package choose
