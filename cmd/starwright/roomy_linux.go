package main

import (
	"runtime"
	"runtime/debug"
	"sync"

	"golang.org/x/sys/unix"
)

// roomBytes is how much of the heap's room is asked for in huge pages: more than a
// common job takes. What is not used of it costs nothing.
const roomBytes = 128 << 20

// takeRoom has the system hand out the heap's room in huge pages. A run of a few
// tenths of a second touches most of its memory once, and each first touch of 4 kB
// is a trap into the system; in huge pages there are five hundred times fewer. On a
// machine where such traps are dear this took a fifth off make and check, and a
// third off plan.
//
// The room is one slice, of which nothing is ever touched. It is given up at once,
// and the heap then fills it from its beginning.
var takeRoom = sync.OnceFunc(func() {
	percent := debug.SetGCPercent(-1) // so large a slice would begin a collection by itself
	defer debug.SetGCPercent(percent)
	if unix.Madvise(make([]byte, roomBytes), unix.MADV_HUGEPAGE) == nil {
		runtime.GC()
	}
})
