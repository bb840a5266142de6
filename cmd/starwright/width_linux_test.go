package main

import (
	"io"
	"testing"

	"golang.org/x/sys/unix"
)

// A page is as wide as the terminal, within reason; what is no terminal gets 78.
func TestWidth(t *testing.T) {
	tty := terminal(t)
	for cols, want := range map[uint16]int{0: 78, 20: 48, 64: 63, 80: 79, 250: 110} {
		if err := unix.IoctlSetWinsize(int(tty.Fd()), unix.TIOCSWINSZ, &unix.Winsize{Row: 40, Col: cols}); err != nil {
			t.Fatal(err)
		}
		if got := (&app{out: tty}).width(); got != want {
			t.Errorf("a terminal of %d columns: a page of %d, want %d", cols, got, want)
		}
	}
	if got := (&app{out: io.Discard}).width(); got != 78 {
		t.Errorf("no terminal: %d", got)
	}
}
