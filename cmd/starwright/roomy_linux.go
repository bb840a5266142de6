package main

import (
	"runtime"
	"runtime/debug"
	"sync"
	"unsafe"

	"golang.org/x/sys/unix"
)

// roomBytes is how much of the heap's room is asked for in huge pages: more than a
// common job takes. What is not used of it costs nothing. hugeBytes is a huge page.
const (
	roomBytes = 128 << 20
	hugeBytes = 2 << 20
)

// takeRoom has the system hand out the heap's room in huge pages. A run of a few
// tenths of a second touches most of its memory once, and each first touch of 4 kB
// is a trap into the system; in huge pages there are five hundred times fewer. On a
// machine where such traps are dear this took a fifth off make and check, and a
// third off plan.
//
// The room is one slice, of which nothing is ever touched. It is given up at once,
// and the heap then fills it from its beginning. Before it lies what the heap began
// with, of which most is untouched still: it is made huge pages too.
var takeRoom = sync.OnceFunc(func() {
	percent := debug.SetGCPercent(-1) // so large a slice would begin a collection by itself
	defer debug.SetGCPercent(percent)
	room := make([]byte, roomBytes)
	begin := uintptr(unsafe.Pointer(unsafe.SliceData(room))) &^ (hugeBytes - 1)
	if advise(begin, roomBytes, unix.MADV_HUGEPAGE) {
		advise(begin-hugeBytes, hugeBytes, unix.MADV_HUGEPAGE)
		advise(begin-hugeBytes, hugeBytes, unix.MADV_COLLAPSE)
		advise(begin, hugeBytes, unix.MADV_COLLAPSE)
		runtime.GC()
	}
})

// advise tells the system what memory is used for, and reports whether it listens.
// That the heap has all of it does not matter: none of these pieces of advice changes
// what is in it.
func advise(at, size, advice uintptr) bool {
	_, _, errno := unix.Syscall(unix.SYS_MADVISE, at, size, advice)
	return errno == 0
}
