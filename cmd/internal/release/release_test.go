//go:build unix || windows

package release

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// put writes a file with all folders on its way.
func put(t *testing.T, words string, path ...string) {
	t.Helper()
	full := filepath.Join(path...)
	if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(full, []byte(words), 0o644); err != nil {
		t.Fatal(err)
	}
}

// names lists a folder.
func names(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

func words(t *testing.T, path ...string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(path...))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// link makes a link, where the system lets everybody do so.
func link(t *testing.T, to, path string) {
	t.Helper()
	err := os.Symlink(to, path)
	if info, no := os.Lstat(path); err == nil && no == nil && info.Mode()&fs.ModeSymlink != 0 {
		return
	}
	if runtime.GOOS == "windows" {
		t.Skipf("no links for this user of this system: %v", err)
	}
	t.Fatal(err)
}

// letGo closes what is open in the stage, as Commit does before it swaps.
func (s *Stage) letGo(t *testing.T) {
	t.Helper()
	if err := s.early.wait(); err != nil {
		t.Fatal(err)
	}
	s.shut()
}

// die leaves all as it stands, as a process that is killed.
func (s *Stage) die() {
	_ = s.early.wait()
	s.shut()
	s.lock.f.Close()
	inWork.drop(s)
}

// mine keeps folders in which somebody has put a file of that name.
func mine(dir string) bool {
	_, err := os.Stat(filepath.Join(dir, "mine"))
	return err == nil
}

func begin(t *testing.T, target string) *Stage {
	t.Helper()
	s, err := Begin(target, mine)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if s.lock.f != nil && s.root != nil {
			s.Abort()
		}
	})
	if err := s.Write("sub/file", []byte("new")); err != nil {
		t.Fatal(err)
	}
	return s
}

func TestCommit(t *testing.T) {
	for _, c := range []struct {
		name  string
		stood []string // files of the folder that stood there; nil for none
		kept  bool
	}{
		{"nothing stood there", nil, false},
		{"a folder", []string{"old"}, false},
		{"a folder worth keeping", []string{"old", "mine"}, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			target := filepath.Join(dir, "packet")
			for _, f := range c.stood {
				put(t, "words", target, f)
			}
			kept, err := begin(t, target).Commit()
			if err != nil || (kept != "") != c.kept {
				t.Fatalf("kept %q, %v", kept, err)
			}
			want := []string{"packet"}
			if c.kept {
				want = append(want, "packet.edited-1")
				if words(t, kept, "mine") != "words" {
					t.Error("what was kept is not what stood there")
				}
			}
			if got := names(t, dir); !slices.Equal(got, want) || words(t, target, "sub", "file") != "new" {
				t.Errorf("there are %v", got)
			}
		})
	}
}

func TestAbort(t *testing.T) {
	dir := t.TempDir()
	target := filepath.Join(dir, "packet")
	put(t, "old", target, "file")
	s := begin(t, target)
	s.Abort()
	s.Abort()
	if got := names(t, dir); !slices.Equal(got, []string{"packet"}) || words(t, target, "file") != "old" {
		t.Errorf("there are %v", got)
	}
}

// What a run leaves that dies at each of its steps, and what the next makes of
// it.
func TestRecover(t *testing.T) {
	for _, c := range []struct {
		name  string
		leave func(t *testing.T, dir string)
		want  []string
	}{
		{"a stage without its mark", func(t *testing.T, dir string) {
			if err := os.Mkdir(filepath.Join(dir, ".packet.making-123"), 0o755); err != nil {
				t.Fatal(err)
			}
		}, []string{"packet"}},
		{"a stage", func(t *testing.T, dir string) {
			s := begin(t, filepath.Join(dir, "packet"))
			put(t, "half", s.dir, "mine") // a stage is never kept, whatever is in it
			s.die()
		}, []string{"packet"}},
		{"what was replaced", func(t *testing.T, dir string) {
			put(t, "old", dir, ".packet.making-123", "file")
		}, []string{"packet"}},
		{"what was replaced and is worth keeping", func(t *testing.T, dir string) {
			put(t, "old", dir, ".packet.making-123", "mine")
		}, []string{"packet", "packet.edited-1"}},
		{"another's stage, which somebody has given this name", func(t *testing.T, dir string) {
			put(t, "old", dir, ".packet.making-123", "mine")
			put(t, markWords(".packet.making-1"), dir, ".packet.making-123", markFile)
		}, []string{"packet", "packet.edited-1"}},
		{"what stepped aside and is worth keeping", func(t *testing.T, dir string) {
			put(t, "old", dir, ".packet.aside-1", "mine")
		}, []string{"packet", "packet.edited-1"}},
		{"what was going", func(t *testing.T, dir string) {
			put(t, "old", dir, ".packet.gone-77", "mine")
		}, []string{"packet"}},
		{"what was going and is locked up", func(t *testing.T, dir string) {
			put(t, "old", dir, ".packet.gone-77", "sub", "file")
			os.Chmod(filepath.Join(dir, ".packet.gone-77", "sub"), 0o500)
		}, []string{"packet"}},
		{"others' folders", func(t *testing.T, dir string) {
			put(t, "other", dir, ".packet.making-x.making-1", "file")
			put(t, "other", dir, ".packet.making-1.txt", "file")
			put(t, "other", dir, ".other.making-1", "file")
			put(t, "other", dir, ".packet.making-5") // a file
		}, []string{".other.making-1", ".packet.making-1.txt", ".packet.making-5", ".packet.making-x.making-1", "packet"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			put(t, "stands", dir, "packet", "file")
			c.leave(t, dir)
			begin(t, filepath.Join(dir, "packet")).Abort()
			if got := names(t, dir); !slices.Equal(got, c.want) {
				t.Errorf("there are %v, want %v", got, c.want)
			}
			if words(t, dir, "packet", "file") != "stands" {
				t.Error("the packet has changed")
			}
		})
	}
}

// A run that died between the two steps of a system without exchange: the old
// folder comes back.
func TestRecoverAside(t *testing.T) {
	dir := t.TempDir()
	put(t, "old", dir, ".packet.aside-1", "file")
	begin(t, filepath.Join(dir, "packet")).Abort()
	if got := names(t, dir); !slices.Equal(got, []string{"packet"}) || words(t, dir, "packet", "file") != "old" {
		t.Errorf("there are %v", got)
	}
}

func TestTwoSteps(t *testing.T) {
	dir := t.TempDir()
	target := filepath.Join(dir, "packet")
	put(t, "old", target, "mine")
	s := begin(t, target)
	s.letGo(t)
	old, err := s.twoSteps()
	if err != nil || words(t, old, "mine") != "old" || words(t, target, "sub", "file") != "new" {
		t.Fatalf("%q, %v", old, err)
	}
	s.dir = ""
	if kept, err := s.settle(old); err != nil || filepath.Base(kept) != "packet.edited-1" {
		t.Fatalf("%q, %v", kept, err)
	}
	s.Abort()
	if got := names(t, dir); !slices.Equal(got, []string{"packet", "packet.edited-1"}) {
		t.Errorf("there are %v", got)
	}
}

func TestOneAtATime(t *testing.T) {
	dir := t.TempDir()
	target := filepath.Join(dir, "packet")
	s := begin(t, target)
	if _, err := Begin(target, nil); !errors.Is(err, ErrBusy) || !strings.HasPrefix(err.Error(), target) {
		t.Errorf("a second one began: %v", err)
	}
	other := begin(t, filepath.Join(dir, "other")) // is no business of the first
	other.Abort()
	s.Abort()
	begin(t, target).Abort()
	if got := names(t, dir); len(got) > 0 {
		t.Errorf("left %v", got)
	}
}

// A lock file that leads elsewhere is not followed.
func TestLockIsNoLink(t *testing.T) {
	dir := t.TempDir()
	link(t, "elsewhere", filepath.Join(dir, ".packet.lock"))
	if _, err := Begin(filepath.Join(dir, "packet"), nil); err == nil {
		t.Error("the link was taken for a lock")
	}
	if got := names(t, dir); !slices.Equal(got, []string{".packet.lock"}) {
		t.Errorf("there are %v", got)
	}
}

func TestWriteStaysInside(t *testing.T) {
	s := begin(t, filepath.Join(t.TempDir(), "packet"))
	defer s.Abort()
	for _, path := range []string{"../file", "/file", "a/../../file", "", "sub/file"} {
		if err := s.Write(path, nil); err == nil {
			t.Errorf("%q was written", path)
		}
	}
}

// A stage that is moved away with its folder while it is written, as a disk
// that is pulled: the rest of it does not come to lie in another place under
// the old name, and is not released there.
func TestStageVanishes(t *testing.T) {
	for _, c := range []struct {
		name   string
		vanish func(from, to string) error
	}{
		{"moved", os.Rename},
		{"moved, and another folder in its place", func(from, to string) error {
			return errors.Join(os.Rename(from, to), os.Mkdir(from, 0o755))
		}},
		{"removed", func(from, _ string) error { return os.RemoveAll(from) }},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			shop, away := filepath.Join(dir, "shop"), filepath.Join(dir, "away")
			put(t, "old", shop, "packet", "file")
			s := begin(t, filepath.Join(shop, "packet"))
			if err := c.vanish(shop, away); err != nil {
				s.Abort()
				if inUse(errors.Unwrap(err)) || !openIsRemovable {
					t.Skipf("the system keeps the folder while a packet is made in it: %v", err)
				}
				t.Fatal(err)
			}
			werr := s.Write("more/file", []byte("new"))
			if kept, err := s.Commit(); err == nil || kept != "" {
				t.Errorf("released: writing said %v", werr)
			}
			if found, _ := filepath.Glob(filepath.Join(shop, "*")); len(found) > 0 {
				t.Errorf("made in the old place: %v", found)
			}
			if _, err := os.Stat(away); err == nil && words(t, away, "packet", "file") != "old" {
				t.Error("the packet that was moved away has changed")
			}
		})
	}
}

// A file that cannot be synced is never released.
func TestSyncBeforeSwap(t *testing.T) {
	dir := t.TempDir()
	target := filepath.Join(dir, "packet")
	put(t, "old", target, "file")
	s := begin(t, target)
	// A link to a file that has gone cannot be opened for syncing.
	link(t, "gone", filepath.Join(s.dir, "sub", "other"))
	if _, err := s.Commit(); err == nil {
		t.Error("released")
	}
	if got := names(t, dir); !slices.Equal(got, []string{"packet"}) || words(t, target, "file") != "old" {
		t.Errorf("there are %v", got)
	}
}
