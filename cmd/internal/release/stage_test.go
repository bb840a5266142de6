//go:build unix || windows

package release

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
)

// all keeps whatever was replaced.
func all(string) bool { return true }

// copyFolder copies a folder with all that is in it, as somebody does to be on the
// safe side; what is copied are other files by every number the system has.
func copyFolder(t *testing.T, to, from string) {
	t.Helper()
	if err := os.CopyFS(to, os.DirFS(from)); err != nil {
		t.Fatal(err)
	}
}

// What a killed run has left of a stage is known for one in a copy of the
// folder too, and never taken for a packet that was replaced.
func TestCopiedStage(t *testing.T) {
	dir := t.TempDir()
	shop, copied := filepath.Join(dir, "shop"), filepath.Join(dir, "copy")
	put(t, "old", shop, "packet", "file")
	s := begin(t, filepath.Join(shop, "packet"))
	s.die()
	copyFolder(t, copied, shop)
	for _, place := range []string{copied, shop} {
		next, err := Begin(filepath.Join(place, "packet"), all)
		if err != nil {
			t.Fatal(err)
		}
		next.Abort()
		if got := names(t, place); !slices.Equal(got, []string{"packet"}) || words(t, place, "packet", "file") != "old" {
			t.Errorf("%s: there are %v", place, got)
		}
	}
}

// The mark goes last, so that half a stage is one as well.
func TestRemovedStageKeepsItsMark(t *testing.T) {
	s := begin(t, filepath.Join(t.TempDir(), "packet"))
	defer s.Abort()
	for _, name := range []string{"a", "z", ".a"} {
		if err := s.Write(name, nil); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.early.wait(); err != nil { // an open file cannot be removed everywhere
		t.Fatal(err)
	}
	half := filepath.Join(s.dir, "sub")
	if err := os.RemoveAll(half); err != nil {
		t.Fatal(err)
	}
	if !marked(s.dir) {
		t.Error("a stage does not say that it is one")
	}
	moved := s.dir + "7"
	copyFolder(t, moved, s.dir)
	if marked(moved) {
		t.Error("a folder of another name is taken for the stage")
	}
}

// What another program does to a stage between its proof and the exchange is
// not released.
func TestChangedStage(t *testing.T) {
	for name, change := range map[string]func(dir string) error{
		"a file edited": func(dir string) error {
			return os.WriteFile(filepath.Join(dir, "sub", "file"), []byte("bad"), 0o644)
		},
		"a file longer": func(dir string) error {
			return os.WriteFile(filepath.Join(dir, "sub", "file"), []byte("new and more"), 0o644)
		},
		"a file removed": func(dir string) error { return os.Remove(filepath.Join(dir, "sub", "file")) },
		"a file added":   func(dir string) error { return os.WriteFile(filepath.Join(dir, "sub", "more"), nil, 0o644) },
		"a folder added": func(dir string) error { return os.Mkdir(filepath.Join(dir, "more"), 0o755) },
		"another in place": func(dir string) error {
			return errors.Join(os.Remove(filepath.Join(dir, "sub", "file")), os.Mkdir(filepath.Join(dir, "sub", "file"), 0o755))
		},
		"all removed": func(dir string) error { return os.RemoveAll(filepath.Join(dir, "sub")) },
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			target := filepath.Join(dir, "packet")
			put(t, "old", target, "file")
			s := begin(t, target)
			if err := s.early.wait(); err != nil { // an open file cannot be replaced everywhere
				t.Fatal(err)
			}
			if err := change(s.dir); err != nil {
				t.Fatal(err)
			}
			_, err := s.Commit()
			var changed *ChangedError
			if !errors.As(err, &changed) || changed.Target != target {
				t.Errorf("released: %v", err)
			}
			if got := names(t, dir); !slices.Equal(got, []string{"packet"}) || words(t, target, "file") != "old" {
				t.Errorf("there are %v", got)
			}
		})
	}
}

// Names beside the target that are taken, and stay so, do not stop anybody.
func TestNamesThatAreTaken(t *testing.T) {
	dir := t.TempDir()
	target := filepath.Join(dir, "packet")
	put(t, "old", target, "file")
	taken := []string{".packet.aside-1", ".packet.gone-1", ".packet.gone-7", ".packet.making-1"}
	for _, name := range taken { // files, which are nobody's here
		put(t, "mine", dir, name)
	}
	s := begin(t, target)
	s.letGo(t)
	old, err := s.twoSteps()
	if err != nil {
		t.Fatal(err)
	}
	s.dir = ""
	if _, err := s.settle(old); err != nil {
		t.Fatal(err)
	}
	s.Abort()
	if got := names(t, dir); !slices.Equal(got, append(taken, "packet")) || words(t, target, "sub", "file") != "new" {
		t.Errorf("there are %v", got)
	}
}

// Where two folders stand aside, the last is the one that was replaced.
func TestLastAsideComesBack(t *testing.T) {
	dir := t.TempDir()
	for number, what := range map[string]string{"2": "older", "9": "old", "10": "last"} {
		put(t, what, dir, ".packet.aside-"+number, "file")
	}
	begin(t, filepath.Join(dir, "packet")).Abort()
	if got := names(t, dir); !slices.Equal(got, []string{"packet"}) || words(t, dir, "packet", "file") != "last" {
		t.Errorf("there are %v", got)
	}
}

// A lock file that nobody holds is no lock.
func TestLockLeftBehind(t *testing.T) {
	dir := t.TempDir()
	put(t, "", dir, ".packet.lock")
	begin(t, filepath.Join(dir, "packet")).Abort()
	if got := names(t, dir); len(got) > 0 {
		t.Errorf("left %v", got)
	}
}

// An error names what people know: the packet, never a hidden folder that is
// gone when they look for it.
func TestErrorsNameThePacket(t *testing.T) {
	dir := t.TempDir()
	s := begin(t, filepath.Join(dir, "packet"))
	defer s.Abort()
	s.said = "packet"
	for _, path := range []string{"dxf/star.dxf", filepath.Join(s.dir, "dxf", "star.dxf"), s.dir, filepath.Join(dir, ".packet.lock"), filepath.Join(dir, ".packet.making-8")} {
		for _, err := range []error{
			&fs.PathError{Op: "openat", Path: path, Err: syscall.ENOSPC},
			&os.LinkError{Op: "rename", Old: path, New: s.target, Err: syscall.ENOSPC},
		} {
			var p *fs.PathError
			err := s.plain(errors.Join(err))
			if !errors.As(err, &p) || !strings.HasPrefix(p.Path, "packet") || strings.Contains(err.Error(), ".packet") || strings.Contains(err.Error(), "openat") {
				t.Errorf("%s: %v", path, err)
			}
		}
	}
	var p *fs.PathError
	if err := s.plain(&fs.PathError{Op: "open", Path: filepath.Join(dir, ".packet.lock"), Err: syscall.EACCES}); !errors.As(err, &p) || p.Path != dir || p.Op != OpChange {
		t.Errorf("no right to write: %v", err)
	}
	if err := s.plain(ErrBusy); err.Error() != "packet: another run is making this packet now; wait until it is done" {
		t.Errorf("busy: %v", err)
	}
}

// A program that somebody stops leaves nothing, and begins nothing new.
func TestStop(t *testing.T) {
	defer func() { inWork.stopped = false }()
	dir := t.TempDir()
	target := filepath.Join(dir, "packet")
	put(t, "old", target, "file")
	s, other := begin(t, target), begin(t, filepath.Join(dir, "other"))
	thrown, released := Stop()
	slices.Sort(thrown)
	if !slices.Equal(thrown, []string{filepath.Join(dir, "other"), target}) || len(released) > 0 {
		t.Errorf("thrown away: %v, released: %v", thrown, released)
	}
	if got := names(t, dir); !slices.Equal(got, []string{"packet"}) || words(t, target, "file") != "old" {
		t.Errorf("there are %v", got)
	}
	if err := s.Write("more", nil); !errors.Is(err, ErrStopped) {
		t.Errorf("written: %v", err)
	}
	if _, err := other.Commit(); !errors.Is(err, ErrStopped) {
		t.Errorf("released: %v", err)
	}
	if _, err := Begin(target, nil); !errors.Is(err, ErrStopped) {
		t.Errorf("begun: %v", err)
	}
	if got := names(t, dir); !slices.Equal(got, []string{"packet"}) {
		t.Errorf("there are %v", got)
	}
}

// At no instant has a stage half a mark: who dies then leaves nothing that the
// next run takes for somebody's files. Another process that looks without pause
// sees each mark whole.
func TestMarksAreWhole(t *testing.T) {
	dir := t.TempDir()
	target := filepath.Join(dir, "packet")
	stage := filepath.Join(dir, ".packet"+makingMark+"1")
	done := make(chan struct{})
	half := make(chan string, 1)
	seen := 0
	go func() {
		defer close(half)
		for {
			select {
			case <-done:
				return
			default:
			}
			data, err := os.ReadFile(filepath.Join(stage, markFile))
			if err != nil {
				continue
			}
			seen++
			if string(data) != markWords(stage) {
				half <- string(data)
				return
			}
		}
	}()
	for range 500 {
		s, err := Begin(target, all)
		if err != nil {
			t.Fatal(err)
		}
		s.Abort()
	}
	close(done)
	if data, ok := <-half; ok {
		t.Errorf("a mark of %q was seen", data)
	}
	if seen == 0 {
		t.Error("no mark was seen")
	}
}
