// Package rs274 is the house of the program format: ncwrite writes programs
// and ncread reads them. The two share the types of package toolpath and no
// code, not even a constant, so that what is written is proven by reading it
// with the other. This package itself holds nothing but this page.
//
// The standard is T. R. Kramer, F. M. Proctor, E. Messina, The NIST RS274NGC
// Interpreter - Version 3, NISTIR 6556, National Institute of Standards and
// Technology, 17 August 2000. Clause numbers in both packages are of that
// report.
//
// What is written is a conservative subset of it, which every small
// controller reads the same way:
//
//	G0 G1                   rapid and straight feed
//	G2 G3                   arcs in the XY plane, centre as I and J
//	G4 P2.0                 dwell in seconds, always with a decimal point
//	G17 G20/G21 G40 G54     plane, unit, no compensation, work offset,
//	G80 G90 G94             no cycle, absolute, feed per minute
//	M3 M5 M0 M2             spindle on and off, stop, end
//	F S X Y Z I J           fixed-point numbers, never an exponent
//	(plain ASCII words)     comments, one pair of parentheses
//
// in upper case, one command a line, at most 70 characters a line, and none
// of %, O, N, T, M6, offsets, cycles, parameters, expressions or semicolons.
// A job may say of its controller that it needs more than that, see
// [starwright/toolpath.Controller]: the writer then writes it, and the reader takes it from such a
// job alone.
//
// What else a program may have is for the reader to say: words that change no
// move for any interpreter pass with a remark, and what interpreters take in
// different ways is refused, with the reason.
package rs274
