package main

import (
	"errors"
	"os"
	"os/exec"
	"strconv"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"
)

// status runs a program and asks for an exit status; the script's own stdout
// and stderr commands look at what it printed:
//
//	status 2 starwright plan bad.toml
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N PROGRAM ARG...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit %d, want %d\n%s%s", got, want, ts.ReadFile("stdout"), ts.ReadFile("stderr"))
	}
}

// replace changes the Nth occurrence of a text in a file, from 1:
//
//	replace packet/gcode/slot-left.nc 1 'M3' ''
func replace(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 4 {
		ts.Fatalf("usage: replace FILE N OLD NEW")
	}
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	name := ts.MkAbs(args[0])
	data, err := os.ReadFile(name)
	ts.Check(err)
	at := 0
	for ; n > 0; n-- {
		i := strings.Index(string(data[at:]), args[2])
		if i < 0 {
			ts.Fatalf("%s: %q does not stand there so often", args[0], args[2])
		}
		at += i
		if n > 1 {
			at += len(args[2])
		}
	}
	changed := string(data[:at]) + args[3] + string(data[at+len(args[2]):])
	ts.Check(os.WriteFile(name, []byte(changed), 0o644))
}
