package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
	"unicode"
)

// Names of files and folders may hold anything but zero and a slash. Whatever a
// command is given, the terminal gets to see plain text only.
func TestHostileNames(t *testing.T) {
	for name, odd := range map[string]string{
		"clears the screen": "a\x1b[2J\x07b", "in one byte": "a\u009b31mb", "turns writing": "a\u202e\u200bb", "line end": "a\n\r\bb",
	} {
		t.Run(name, func(t *testing.T) { hostileName(t, odd) })
	}
}

// hostileName runs every command with a name wherever one may stand.
func hostileName(t *testing.T, odd string) {
	dir := filepath.Join(t.TempDir(), odd)
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Skipf("this file system has no such name: %v", err)
	}
	file, packet := filepath.Join(dir, odd+".toml"), filepath.Join(dir, "packet")
	if err := os.WriteFile(file, []byte("[star]\nboard_width = \"100 mm\"\n[slot]\nmake = false\n[jigs]\nmake = []\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	said := func(want int, args ...string) {
		t.Helper()
		for _, more := range [][]string{nil, {"--json"}} {
			var out, errOut bytes.Buffer
			exit := run(append(args[:len(args):len(args)], more...), nil, &out, &errOut)
			if exit != want && more == nil {
				t.Errorf("%q: exit %d, want %d: %s", args, exit, want, errOut.String())
			}
			for _, r := range out.String() + errOut.String() {
				if r != '\n' && !unicode.IsPrint(r) {
					t.Errorf("%q: %U reaches the terminal", args, r)
					break
				}
			}
		}
	}
	said(exitOK, "plan", file)
	said(exitIO, "plan", filepath.Join(dir, "none"))
	said(exitUsage, "plan", dir)
	said(exitUsage, "plan", "--"+odd)
	said(exitUsage, odd)
	said(exitUsage, "fit", "--gap", odd)
	said(exitOK, "make", "-o", packet, file)
	said(exitUsage, "make", "-o", filepath.Join(dir, odd), file) // the packet's own name has to print
	said(exitIO, "make", "-o", filepath.Join(dir, "none", "packet"), file)
	said(exitUsage, "make", "-o", file, file)
	said(exitOK, "check", packet)
	said(exitUsage, "check", packet, odd)
	said(exitIO, "check", filepath.Join(dir, "none"))
	said(exitUsage, "check", dir)
	if err := os.WriteFile(filepath.Join(packet, odd), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	said(exitFail, "check", packet) // a file was added, and is named
	said(exitUsage, "make", "-o", packet, file)
	said(exitOK, "make", "--force", "-o", packet, file)
	said(exitOK, "init", filepath.Join(dir, "new.toml"))
	said(exitUsage, "init", filepath.Join(dir, "new.toml"))
	said(exitIO, "init", filepath.Join(dir, "none", "new.toml"))
}
