package release

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// hold opens a folder as a program does that stands in it, or shows it.
func hold(t *testing.T, dir string) *os.File {
	t.Helper()
	f, err := os.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

// A packet that another program has open cannot be moved here. The old one
// stays whole, and the error says what to do.
func TestPacketInUse(t *testing.T) {
	dir := t.TempDir()
	target := filepath.Join(dir, "packet")
	put(t, "old", target, "file")
	hold(t, target)
	_, err := begin(t, target).Commit()
	if err == nil || !strings.HasPrefix(err.Error(), target+": another program has this folder or a file in it open") {
		t.Errorf("%v", err)
	}
	if got := names(t, dir); !slices.Equal(got, []string{"packet"}) || words(t, target, "file") != "old" {
		t.Errorf("there are %v", got)
	}
}

// One that is open for a moment only is waited for.
func TestPacketInUseForAMoment(t *testing.T) {
	dir := t.TempDir()
	target := filepath.Join(dir, "packet")
	put(t, "old", target, "file")
	open := hold(t, target)
	s := begin(t, target)
	time.AfterFunc(200*time.Millisecond, func() { open.Close() })
	if _, err := s.Commit(); err != nil {
		t.Fatal(err)
	}
	if got := names(t, dir); !slices.Equal(got, []string{"packet"}) || words(t, target, "sub", "file") != "new" {
		t.Errorf("there are %v", got)
	}
}

// What was replaced and cannot be moved now is left whole, does not stop the
// next run, and is dealt with when it can be.
func TestLeftInUse(t *testing.T) {
	dir := t.TempDir()
	target := filepath.Join(dir, "packet")
	put(t, "stands", target, "file")
	put(t, "older", dir, ".packet.aside-1", "mine")
	put(t, "going", dir, ".packet.gone-1", "file")
	var open []*os.File
	for _, name := range []string{".packet.aside-1", ".packet.gone-1"} {
		open = append(open, hold(t, filepath.Join(dir, name)))
	}
	if _, err := begin(t, target).Commit(); err != nil {
		t.Fatal(err)
	}
	if got := names(t, dir); !slices.Contains(got, "packet") || words(t, target, "sub", "file") != "new" || words(t, dir, ".packet.aside-1", "mine") != "older" {
		t.Errorf("there are %v", got)
	}
	for _, f := range open {
		f.Close()
	}
	begin(t, target).Abort()
	if got := names(t, dir); !slices.Equal(got, []string{"packet", "packet.edited-1"}) || words(t, dir, "packet.edited-1", "mine") != "older" {
		t.Errorf("there are %v", got)
	}
}

// Paths beyond the 260 letters of old programs.
func TestLongPath(t *testing.T) {
	dir := t.TempDir()
	for range 6 {
		dir = filepath.Join(dir, strings.Repeat("long-", 12))
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	target := filepath.Join(dir, "packet")
	for range 2 {
		if _, err := begin(t, target).Commit(); err != nil {
			t.Fatal(err)
		}
	}
	if got := names(t, dir); !slices.Equal(got, []string{"packet"}) || words(t, target, "sub", "file") != "new" {
		t.Errorf("there are %v", got)
	}
}
