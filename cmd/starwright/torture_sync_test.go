//go:build torture && linux

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// What strace prints of one call: the process, the call, the file behind its
// first number, and the rest. A call that another interrupts ends on a line of
// its own.
var (
	tracedCall = regexp.MustCompile(`^(\d+) +(\w+)\((?:\d+<([^>]*)>)?(.*)$`)
	tracedEnd  = regexp.MustCompile(`^(\d+) +<\.\.\. (\w+) resumed>.*= 0$`)
)

// The system's own record of a run: each file and folder of the packet is synced
// after the last byte was written to it and before the folders are swapped, and
// the folder they stand in after that.
func TestTortureSyncedBeforeSwap(t *testing.T) {
	s := newShop(t)
	record := filepath.Join(t.TempDir(), "trace")
	cmd := exec.Command("strace", "-f", "-y", "-s", "0", "-o", record, "-e", "trace=write,pwrite64,fsync,renameat2",
		s.bin, "make", "-o", "packet", s.job(0))
	cmd.Dir = s.dir
	if said, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	data, err := os.ReadFile(record)
	if err != nil {
		t.Fatal(err)
	}
	synced, began, after, swapped := map[string]bool{}, map[string]string{}, false, false
	finish := func(path string) {
		if !swapped {
			synced[path] = true
		} else if path == s.dir {
			after = true
		}
	}
	for line := range strings.Lines(string(data)) {
		line = strings.TrimSpace(line)
		if end := tracedEnd.FindStringSubmatch(line); end != nil && end[2] == "fsync" {
			finish(began[end[1]])
			continue
		}
		call := tracedCall.FindStringSubmatch(line)
		switch {
		case call == nil:
		case call[2] == "renameat2" && strings.Contains(call[4], "RENAME_EXCHANGE"):
			swapped = true
		case call[2] == "fsync" && strings.HasSuffix(call[4], "= 0"):
			finish(call[3])
		case call[2] == "fsync":
			began[call[1]] = call[3]
		case strings.Contains(call[2], "write"):
			delete(synced, call[3])
		}
	}
	missing, places := 0, 0
	want := map[string]bool{}
	for path := range s.want[0] {
		for p := path; !want[p]; p = filepath.Dir(p) {
			want[p] = true
		}
	}
	stage := "" // the stage's folder under the name that it had
	for path := range synced {
		if filepath.Base(path) == "manifest.json" {
			stage = filepath.Dir(path)
		}
	}
	for path := range want {
		places++
		if !synced[filepath.Join(stage, path)] {
			t.Errorf("%s was not synced before the swap", path)
			missing++
		}
	}
	if !swapped || !after || stage == "" {
		t.Errorf("swapped %v, the folder synced after it %v, stage %q", swapped, after, stage)
	}
	t.Logf("%d files and folders synced before the swap, %d not; the folder they stand in after it: %v", places-missing, missing, after)
}
