// Package release puts a folder of files in the place of another, whole or
// not at all.
//
// Files are written to a staging folder beside the target, synced, and swapped
// in by one rename; where the system can exchange two folders in one step it
// does, so that at no instant the target is missing or mixed. A lock beside
// the target lets one writer in at a time. What a dead run left behind is
// recognised by its name and cleaned by the next; a folder that the swap has
// put there and that is worth keeping is kept under a plain name.
//
// The package knows folders, not packets: whether a folder may be replaced,
// and whether the one replaced is kept, is the caller's to say.
package release

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

// ErrBusy says that another run is writing the same target.
var ErrBusy = errors.New("another run is making this packet now; wait until it is done")

// Stage is a folder in the making.
type Stage struct {
	target string // absolute
	dir    string
	root   *os.Root // the same folder, wherever it may be moved
	early  early    // syncs that have begun
	lock   *lock
	keep   func(folder string) bool
}

// The names of what stands beside a target while it is made, all with a dot
// and the target's name before and digits behind. A stage's name ends with the
// number that the system knows the folder by: after an exchange the folder of
// that name has another number, and so is the one that was replaced.
const (
	makingMark = ".making-" // a stage, or what it was exchanged with
	asideMark  = ".aside-"  // what was replaced, where folders cannot be exchanged
	goneMark   = ".gone-"   // what is being removed
)

var markName = regexp.MustCompile(`^(\.making-|\.aside-|\.gone-)[0-9]+(?:\.([0-9]+))?$`)

// Begin opens a stage for a target folder, after putting right what a dead
// run left. The target's parent folder must exist. keep is asked of a folder
// that has been replaced, whether it is to stay beside the target.
func Begin(target string, keep func(folder string) bool) (*Stage, error) {
	abs, err := filepath.Abs(target)
	if err != nil {
		return nil, err
	}
	parent, base := filepath.Split(abs)
	if base == "" {
		return nil, fmt.Errorf("%s cannot be replaced by a packet; choose another folder with -o", abs)
	}
	if info, err := os.Stat(parent); err != nil {
		return nil, fmt.Errorf("the folder %s, in which %s was to be made, cannot be read: %w", parent, base, err)
	} else if !info.IsDir() {
		return nil, fmt.Errorf("%s is not a folder, so %s cannot be made in it", parent, base)
	}
	l, err := takeLock(filepath.Join(parent, "."+base+".lock"))
	if errors.Is(err, ErrBusy) {
		return nil, fmt.Errorf("%s: %w", target, err)
	}
	if err != nil {
		return nil, err
	}
	s := &Stage{target: abs, lock: l, keep: keep}
	if err := s.recover(); err != nil {
		l.free()
		return nil, err
	}
	if err := s.open(); err != nil {
		s.Abort()
		return nil, err
	}
	return s, nil
}

// open makes the staging folder.
func (s *Stage) open() (err error) {
	if s.dir, err = os.MkdirTemp(filepath.Dir(s.target), "."+filepath.Base(s.target)+makingMark); err != nil {
		return err
	}
	if err := os.Chmod(s.dir, 0o755); err != nil {
		return err
	}
	id, err := folderID(s.dir)
	if err != nil {
		return err
	}
	if id != "" {
		named := s.dir + "." + id
		if err := os.Rename(s.dir, named); err != nil {
			return err
		}
		s.dir = named
	}
	s.root, err = os.OpenRoot(s.dir)
	return err
}

// Dir returns the folder to write to.
func (s *Stage) Dir() string { return s.dir }

// Write writes one file of the stage. It is synced by the end of
// [Stage.Commit]. The path is relative and must not leave the stage. Where the stage has been moved away
// meanwhile, the file goes with it.
func (s *Stage) Write(path string, data []byte) error {
	name := filepath.FromSlash(path)
	if !filepath.IsLocal(name) {
		return fmt.Errorf("%s would lie outside the packet", path)
	}
	if dir := filepath.Dir(name); dir != "." {
		if err := s.root.MkdirAll(dir, 0o755); err != nil {
			return s.whole(err)
		}
	}
	f, err := s.root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return s.whole(err)
	}
	if _, err = f.Write(data); err == nil && s.early.take(f, filepath.Join(s.dir, name)) {
		return nil
	}
	return s.whole(errors.Join(err, f.Close()))
}

// whole gives the path in an error, which is one within the stage, as people
// see it.
func (s *Stage) whole(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) && !filepath.IsAbs(p.Path) {
		p.Op, p.Path = strings.TrimSuffix(p.Op, "at"), filepath.Join(s.dir, p.Path)
	}
	return err
}

// inPlace says whether the stage still is where it was begun.
func (s *Stage) inPlace() error {
	ours, err := s.root.Stat(".")
	if err != nil {
		return err
	}
	if there, err := os.Lstat(s.dir); err != nil || !os.SameFile(ours, there) {
		return fmt.Errorf("%s was moved away while a packet was made in it, so nothing was changed", filepath.Dir(s.target))
	}
	return nil
}

// Abort throws the stage away. It is harmless after Commit.
func (s *Stage) Abort() {
	_ = s.early.wait() // what is thrown away need not last
	s.shut()
	if s.dir != "" {
		removeTree(s.dir)
		s.dir = ""
	}
	s.lock.free()
}

// shut lets go of the stage's folder: on some systems an open one cannot be
// renamed.
func (s *Stage) shut() {
	if s.root != nil {
		s.root.Close()
		s.root = nil
	}
}

// Commit puts the stage in the target's place. A folder that stood there is
// removed, or kept beside it where the caller's keep says so, and its new path
// returned. After an error the target is as it was, unless the error says that
// it has been replaced.
func (s *Stage) Commit() (kept string, err error) {
	defer s.Abort()
	if err := s.inPlace(); err != nil {
		return "", err
	}
	if err := s.early.wait(); err != nil {
		return "", s.whole(err)
	}
	if err := syncTree(s.dir, s.early.done); err != nil {
		return "", err
	}
	s.shut()
	old, err := s.swap()
	if err != nil {
		return "", err
	}
	s.dir = ""
	if err := syncDir(filepath.Dir(s.target)); err != nil {
		return "", fmt.Errorf("%s has been replaced, but it is not certain that this outlasts a power cut: %w", s.target, err)
	}
	if old == "" {
		return "", nil
	}
	return s.settle(old)
}

// settle keeps or removes a folder that was replaced. One that cannot be
// removed is left for the next run to try again.
func (s *Stage) settle(old string) (kept string, err error) {
	if s.keep == nil || !s.keep(old) {
		s.discard(old)
		return "", nil
	}
	if kept, err = keepName(s.target); err == nil {
		err = os.Rename(old, kept)
	}
	if err != nil {
		return "", fmt.Errorf("%s has been replaced; the edited one stays in %s: %w", s.target, old, err)
	}
	return kept, nil
}

// discard removes a folder under a name by which the next run knows that it
// is to go, should this one die half way.
func (s *Stage) discard(old string) {
	id, err := folderID(old)
	if err != nil || id == "" {
		id = "1"
	}
	gone := filepath.Join(filepath.Dir(s.target), "."+filepath.Base(s.target)+goneMark+id)
	if os.Rename(old, gone) == nil {
		old = gone
	}
	removeTree(old)
}

// removeTree removes a folder with all that is in it, also where somebody has
// taken the right to write from folders in it.
func removeTree(path string) error {
	if err := os.RemoveAll(path); err == nil {
		return nil
	}
	filepath.WalkDir(path, func(p string, d fs.DirEntry, _ error) error {
		if d != nil && d.IsDir() {
			os.Chmod(p, 0o700)
		}
		return nil
	})
	return os.RemoveAll(path)
}

// keepName returns a free name beside the target for a folder that is kept.
func keepName(target string) (string, error) {
	for i := 1; i < 1000; i++ {
		name := fmt.Sprintf("%s.edited-%d", target, i)
		if _, err := os.Lstat(name); errors.Is(err, fs.ErrNotExist) {
			return name, nil
		}
	}
	return "", fmt.Errorf("%s.edited-1 to -999 all exist; move some away", target)
}
