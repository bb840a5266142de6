// Package draw composes the pictures of a job: it knows what a star, a segment
// and a slot are, and says with the primitives of post/picture what one
// sees of them, in the words of the bench. It decides nothing about the work
// and writes no files.
//
// Lengths are millimetres; how they are printed is the caller's, who hands in
// a function for it, so that the pictures of an inch job show fractions.
package draw
