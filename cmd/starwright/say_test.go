package main

import (
	"fmt"
	"io"
	"io/fs"
	"strings"
	"syscall"
	"testing"

	"starwright/cmd/internal/release"
)

// Messages say what the system does not permit without its own names for it.
func TestPlainPermission(t *testing.T) {
	for op, want := range map[string]string{
		"open": "read", "openat": "read", "statat": "read", "lstat": "read", "lstatat": "read", "readdirent": "read",
		"unlinkat": "change this", "mkdirat": "write in this folder", release.OpChange: "write in this folder",
	} {
		err := fmt.Errorf("packet: %w", &fs.PathError{Op: op, Path: "shelf/packet", Err: syscall.EACCES})
		if got := plainIO(err); !strings.HasPrefix(got, "shelf/packet: you may not "+want) {
			t.Errorf("%s: %q", op, got)
		}
	}
}

// run carries one command line out and returns the exit status.
func run(args []string, in io.Reader, out, errOut io.Writer) int {
	return newApp(in, out, errOut).run(args)
}
