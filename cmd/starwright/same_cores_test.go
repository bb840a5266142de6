package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// How many processors share the work changes no byte of what is written or
// said: the whole built-in job with jigs, nests, pictures and page; the plan;
// and the findings of a packet in which files are at fault.
func TestSameBytesOnAnyProcessors(t *testing.T) {
	bin, err := exec.LookPath("starwright")
	if err != nil {
		t.Fatal(err)
	}
	s := &shop{t: t, dir: shopFolder(t), bin: bin}
	run := func(processors, status int, args ...string) []byte {
		t.Helper()
		cmd := exec.Command(bin, args...)
		cmd.Dir = s.dir
		cmd.Env = append(os.Environ(), fmt.Sprintf("GOMAXPROCS=%d", processors))
		var said, failed bytes.Buffer
		cmd.Stdout, cmd.Stderr = &said, &failed
		_ = cmd.Run()
		if got := cmd.ProcessState.ExitCode(); got != status {
			t.Fatalf("%v on %d processors: exit status %d\n%s", args, processors, got, failed.Bytes())
		}
		return append(said.Bytes(), failed.Bytes()...)
	}
	var packet tree
	var said [][]byte
	for i, processors := range []int{1, 2, 7} {
		run(processors, exitOK, "make", "-o", "packet", "--force")
		made := s.tree("packet")
		// A tool that sinks by a millimetre more, and an outline moved.
		spoil(t, filepath.Join(s.dir, "packet/gcode/jigs-1.nc"), "Z-2.", "Z-3.")
		spoil(t, filepath.Join(s.dir, "packet/dxf/segment.dxf"), "48.0", "48.5")
		now := [][]byte{
			run(processors, exitOK, "plan", "--json"), run(processors, exitOK, "plan"),
			run(processors, exitFail, "check", "packet", "--json"), run(processors, exitFail, "check", "packet"),
		}
		if i == 0 {
			packet, said = made, now
			continue
		}
		for path, data := range packet {
			if made[path] != data {
				t.Errorf("%d processors: %s differs", processors, path)
			}
		}
		if len(made) != len(packet) || len(made) < 50 {
			t.Errorf("%d processors: %d files, not %d", processors, len(made), len(packet))
		}
		for k := range said {
			if !bytes.Equal(now[k], said[k]) {
				t.Errorf("%d processors: output %d differs", processors, k)
			}
		}
	}
}

// spoil changes one text in a file, wherever it stands.
func spoil(t *testing.T, name, from, to string) {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	changed := bytes.ReplaceAll(data, []byte(from), []byte(to))
	if bytes.Equal(changed, data) {
		t.Fatalf("%s holds no %s", name, from)
	}
	if err := os.WriteFile(name, changed, 0o644); err != nil {
		t.Fatal(err)
	}
}
