//go:build unix

package main

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"
)

// longJob takes the program a second or more.
const longJob = "[star]\nboard_width = \"114 mm\"\ncount = 1000\n"

// started runs the program in a folder until it has begun to write a packet.
func started(t *testing.T, dir string, args ...string) (cmd *exec.Cmd, out, said *bytes.Buffer) {
	t.Helper()
	bin, err := exec.LookPath("starwright")
	if err != nil {
		t.Fatal(err)
	}
	cmd, out, said = exec.Command(bin, args...), new(bytes.Buffer), new(bytes.Buffer)
	cmd.Dir, cmd.Stdout, cmd.Stderr = dir, out, said
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	for range 3000 {
		if found, _ := filepath.Glob(filepath.Join(dir, ".packet.making-*", "gcode")); len(found) > 0 {
			return cmd, out, said
		}
		time.Sleep(5 * time.Millisecond)
	}
	cmd.Process.Kill()
	t.Fatalf("nothing was begun: %s", said)
	return nil, nil, nil
}

// A program that somebody stops leaves the old packet, says so, and ends as a
// shell expects (128 and the signal's number: POSIX.1-2017, sh, 2.8.2).
func TestToldToStop(t *testing.T) {
	for _, c := range []struct {
		signal syscall.Signal
		exit   int
		args   []string
	}{
		{syscall.SIGINT, 130, nil},
		{syscall.SIGTERM, 143, nil},
		{syscall.SIGHUP, 129, nil},
		{syscall.SIGINT, 130, []string{"--json"}},
	} {
		t.Run(c.signal.String()+strings.Join(c.args, ""), func(t *testing.T) {
			if signal.Ignored(c.signal) {
				t.Skip("who runs the tests has this signal ignored, as nohup does, and the program respects that")
			}
			t.Parallel()
			dir := t.TempDir()
			if err := os.WriteFile(filepath.Join(dir, "job.toml"), []byte(longJob), 0o644); err != nil {
				t.Fatal(err)
			}
			cmd, out, said := started(t, dir, append([]string{"make", "-o", "packet", "job.toml"}, c.args...)...)
			if err := cmd.Process.Signal(c.signal); err != nil {
				t.Fatal(err)
			}
			cmd.Wait()
			if got := cmd.ProcessState.ExitCode(); got != c.exit || said.String() != "starwright: stopped; nothing was changed\n" {
				t.Errorf("exit %d, want %d: %q", got, c.exit, said)
			}
			entries, err := os.ReadDir(dir)
			if err != nil {
				t.Fatal(err)
			}
			var left []string
			for _, e := range entries {
				left = append(left, e.Name())
			}
			if !slices.Equal(left, []string{"job.toml"}) {
				t.Errorf("left: %v", left)
			}
			var doc struct{ Status int }
			switch {
			case c.args == nil && out.Len() > 0:
				t.Errorf("printed %q", out)
			case c.args != nil && (json.Unmarshal(out.Bytes(), &doc) != nil || doc.Status != c.exit):
				t.Errorf("printed %q", out)
			}
		})
	}
}

// Under nohup the end of the terminal stops nothing.
func TestSignalTurnedOff(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "job.toml"), []byte(longJob), 0o644); err != nil {
		t.Fatal(err)
	}
	bin, err := exec.LookPath("starwright")
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("sh", "-c", `trap "" HUP; "$0" make -o packet job.toml >out 2>err & kill -HUP $!; sleep 0.3; kill -HUP $!; wait $!`, bin)
	cmd.Dir = dir
	if err := cmd.Run(); err != nil {
		t.Errorf("%v", err)
	}
	if _, err := os.Stat(filepath.Join(dir, "packet", "manifest.json")); err != nil {
		t.Error(err)
	}
}

// What a stop has thrown away the proof finds missing: that is nobody's fault, and
// nothing is printed of it.
func TestStopHasTheLastWord(t *testing.T) {
	var said, printed atomic.Int64
	a := newApp(strings.NewReader(""), counting{&printed}, counting{&said})
	a.stopping.Lock() // as a signal's goroutine does, for good
	dir := filepath.Join(t.TempDir(), "packet")
	ended := make(chan error)
	go func() { ended <- a.makePacket(nil, dir, false) }()
	for range 600 {
		if _, err := os.Stat(dir); err == nil {
			break
		}
		time.Sleep(50 * time.Millisecond)
	}
	select {
	case err := <-ended:
		t.Errorf("the command came to its end: %v", err)
	case <-time.After(200 * time.Millisecond):
	}
	if said.Load()+printed.Load() > 0 {
		t.Errorf("%d bytes were said and %d printed", said.Load(), printed.Load())
	}
	a.stopping.Unlock()
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

// counting counts what is written.
type counting struct{ n *atomic.Int64 }

func (c counting) Write(p []byte) (int, error) {
	c.n.Add(int64(len(p)))
	return len(p), nil
}
