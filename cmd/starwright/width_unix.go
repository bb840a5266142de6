//go:build linux || darwin

package main

import (
	"os"

	"golang.org/x/sys/unix"
)

// terminalWidth is how many letters a line of a terminal holds, 0 where the file
// is none.
func terminalWidth(f *os.File) int {
	size, err := unix.IoctlGetWinsize(int(f.Fd()), unix.TIOCGWINSZ)
	if err != nil {
		return 0
	}
	return int(size.Col)
}
