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

// How far the memory grows before it is collected, in percent of what is in use:
// somewhat further than usual, and where only a job is worked out, which takes some
// tens of megabytes at most, far enough that little is ever collected. It bought a
// tenth of the time of plan.
const (
	gcPercent = 150
	gcOfAJob  = 400
)

// softLimit is how much memory a run takes, bytes, before it is collected as often
// as it would be by itself: common jobs stay far below, and the largest gain
// nothing by waste.
const softLimit = 192 << 20

// collectAt sets when memory is collected, unless the caller has set it (package
// runtime, GOGC).
func collectAt(percent int) {
	const unset = 100 // what it is where nobody has
	if was := debug.SetGCPercent(percent); was != unset && was != gcPercent {
		debug.SetGCPercent(was)
		return
	}
	debug.SetMemoryLimit(softLimit)
}

func main() {
	collectAt(gcPercent)
	bearLimits()
	a := newApp(os.Stdin, os.Stdout, os.Stderr)
	a.heedSignals()
	os.Exit(a.run(os.Args[1:]))
}
