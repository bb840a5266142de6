// Package cuttest holds what the tests of writers, readers and judges of cut files
// share: drawings, fixed and random, and small ways to spoil a file's text and to
// say what was found. It is for tests alone and knows no format.
package cuttest

// Tolerance is how far a contour may lie from the drawing's, mm, by the contract.
const Tolerance = 0.002
