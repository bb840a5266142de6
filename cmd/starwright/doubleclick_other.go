//go:build !windows

package main

// doubleClicked reports whether the program was started by a double click,
// which only Windows tells.
func doubleClicked() bool { return false }
