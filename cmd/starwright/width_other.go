//go:build !linux && !darwin

package main

import "os"

// terminalWidth is how many letters a line of a terminal holds; it is not known
// here.
func terminalWidth(*os.File) int { return 0 }
