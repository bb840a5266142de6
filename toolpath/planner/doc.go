// Package planner plans the way of a cutter: for a spline slot in a facet, and for
// parts and holes that are cut from a sheet, with offsets, ramps, equal passes,
// tabs and an order that keeps the travel short. It refuses what the stated
// cutter cannot do, each problem with a value that goes through.
//
// It lays no parts out (package nest does), writes no file and judges nothing
// that was read from one: the back-plot, which does, never calls it, so that a
// slip here is not repeated there.
package planner
