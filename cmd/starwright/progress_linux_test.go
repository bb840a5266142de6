package main

import (
	"fmt"
	"os"
	"testing"

	"golang.org/x/sys/unix"
)

// terminal opens a pair of pseudo terminals (pty(7)) and returns the end that
// a program writes to.
func terminal(t *testing.T) *os.File {
	t.Helper()
	master, err := os.OpenFile("/dev/ptmx", os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Skip("no pseudo terminals here: ", err)
	}
	t.Cleanup(func() { master.Close() })
	if err := unix.IoctlSetPointerInt(int(master.Fd()), unix.TIOCSPTLCK, 0); err != nil {
		t.Fatal(err)
	}
	n, err := unix.IoctlGetInt(int(master.Fd()), unix.TIOCGPTN)
	if err != nil {
		t.Fatal(err)
	}
	slave, err := os.OpenFile(fmt.Sprintf("/dev/pts/%d", n), os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Skip("no pseudo terminals here: ", err)
	}
	t.Cleanup(func() { slave.Close() })
	return slave
}

func TestBarOnTerminal(t *testing.T) {
	tty := terminal(t)
	b := (&app{err: tty}).progress()
	if b == nil {
		t.Error("no bar on a terminal")
	}
	b.end()
	if b := (&app{err: tty, json: true}).progress(); b != nil {
		b.end()
		t.Error("a bar with --json")
	}
}
