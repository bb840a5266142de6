// Package ncwrite writes a planned program as RS-274 text in the conservative
// subset that package rs274 describes.
//
// Every program begins with its header comments and states unit, plane,
// distance mode, work offset and the rest before it moves; the first motion
// lifts the cutter to the safe height, then the spindle starts and is given
// time. Every program ends with the spindle off (M5) and M2. G words stand on
// every motion line, axis words where they change.
//
// The writer plans nothing: it refuses a program that travels in the wood,
// cuts without a feed or ends with the cutter down, and never mends one.
// Nothing is written of a program that is refused.
//
//	mm    three decimals at most: X20.0 Y-0.125
//	inch  five decimals at most:  X0.78740
//
// with trailing zeros trimmed down to one decimal.
package ncwrite
