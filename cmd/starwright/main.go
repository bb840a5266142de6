// Command starwright takes a job file for a batch of wooden stars to a checked
// packet: every number, outlines for a laser, slot programs for a small CNC,
// each file read back from disk and back-plotted before it is released.
//
// Rules for what it says, all kept in say.go: errors go to standard error, one
// per line, with the place, the value and a value that goes through; results go to
// standard output; with --json standard output holds one document and nothing
// else. Exit status: 0 all is well, 1 a file fails its check, 2 the job or the
// command line is wrong, 3 reading or writing failed, 129, 130 and 143 stopped
// by a closed terminal, Ctrl-C and the system (128 and the signal's number, as
// shells count).
package main

import (
	"os"
	"runtime/debug"
)

// gcPercent lets the memory grow somewhat further than usual before it is
// collected: a packet is made in a blink and needs little.
const gcPercent = 150

func main() {
	const unset = 100 // what it is unless the caller has set it (package runtime, GOGC)
	if was := debug.SetGCPercent(gcPercent); was != unset {
		debug.SetGCPercent(was)
	}
	bearLimits()
	a := newApp(os.Stdin, os.Stdout, os.Stderr)
	a.heedSignals()
	os.Exit(a.run(os.Args[1:]))
}
