// Package release puts a folder of files in the place of another, whole or
// not at all.
//
// Files are written to a staging folder beside the target, synced, and swapped
// in by one rename; where the system can exchange two folders in one step it
// does, so that at no instant the target is missing or mixed. Right before that
// every file is read again, and a stage that another program has changed is
// refused. A lock beside the target lets one writer in at a time. A stage says
// of itself that it is one, until all in it is proven, so the next run knows
// what a dead one left, also in a copy of the folder; a folder that the swap
// has put there and that is worth keeping is kept under a plain name.
//
// The package knows folders, not packets: whether a folder may be replaced,
// and whether the one replaced is kept, is the caller's to say.
package release

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
)

// ErrBusy says that another run is writing the same target.
var ErrBusy = errors.New("another run is making this packet now; wait until it is done")

// Stage is a folder in the making.
type Stage struct {
	said   string // the target as the caller named it
	target string // absolute
	keep   func(folder string) bool
	lock   *lock
	early  early // syncs that have begun

	// Held for reading while a file is written, for writing while the stage
	// begins and ends: then dir and root change.
	ending   sync.RWMutex
	dir      string
	root     *os.Root // the same folder, wherever it may be moved; nil when the stage is over
	released bool

	writing sync.Mutex
	sums    map[string][sha256.Size]byte // of what was written, by path with slashes
}

// Begin opens a stage for a target folder, after putting right what a dead
// run left. The target's parent folder must exist. keep is asked of a folder
// that has been replaced, whether it is to stay beside the target.
func Begin(target string, keep func(folder string) bool) (*Stage, error) {
	abs, err := filepath.Abs(target)
	if err != nil {
		return nil, err
	}
	if err := fitsAs(target, abs); err != nil {
		return nil, err
	}
	s := &Stage{said: target, target: abs, keep: keep, sums: map[string][sha256.Size]byte{}}
	s.ending.Lock()
	defer s.ending.Unlock()
	if err := inWork.add(s); err != nil {
		return nil, err
	}
	if err := s.begin(); err != nil {
		s.end()
		return nil, s.plain(err)
	}
	return s, nil
}

// fitsAs says why no packet can take the place of a path, whatever it holds.
func fitsAs(target, abs string) error {
	parent, base := filepath.Split(abs)
	if base == "" {
		return fmt.Errorf("%s: this is a whole disk, and a packet is a folder on it. Try: -o %s", target, filepath.Join(abs, "packet"))
	}
	if info, err := os.Stat(parent); err != nil {
		return fmt.Errorf("the folder %s, in which %s was to be made, cannot be read: %w", parent, base, err)
	} else if !info.IsDir() {
		return fmt.Errorf("%s is not a folder, so %s cannot be made in it", parent, base)
	}
	if isMount(abs) {
		return mountError(target)
	}
	return nil
}

// mountError says that a folder cannot be replaced because a disk hangs on it.
func mountError(target string) error {
	return fmt.Errorf("%s: a disk is mounted on this folder, so it cannot be exchanged. Try: -o %s", target, filepath.Join(target, "packet"))
}

// begin takes the lock, tidies up and makes the staging folder.
func (s *Stage) begin() (err error) {
	if s.lock, err = takeLock(filepath.Join(filepath.Dir(s.target), "."+filepath.Base(s.target)+".lock")); err != nil {
		return err
	}
	if err := s.recover(); err != nil {
		return err
	}
	if err := s.newStage(); err != nil {
		return err
	}
	s.root, err = os.OpenRoot(s.dir)
	return err
}

// Dir returns the folder to write to.
func (s *Stage) Dir() string { return s.dir }

// Write writes one file of the stage. It is synced by the end of
// [Stage.Commit]. The path is relative and must not leave the stage. Where the
// stage has been moved away meanwhile, the file goes with it.
func (s *Stage) Write(path string, data []byte) error {
	name := filepath.FromSlash(path)
	if !filepath.IsLocal(name) || name == markFile {
		return fmt.Errorf("%s would lie outside the packet", path)
	}
	s.ending.RLock()
	defer s.ending.RUnlock()
	if s.root == nil {
		return ErrStopped
	}
	if dir := filepath.Dir(name); dir != "." {
		if err := s.root.MkdirAll(dir, 0o777); err != nil {
			return s.plain(err)
		}
	}
	f, err := s.root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return s.plain(err)
	}
	s.writing.Lock()
	s.sums[filepath.ToSlash(filepath.Clean(name))] = sha256.Sum256(data)
	s.writing.Unlock()
	if _, err = f.Write(data); err == nil && s.early.take(f, filepath.Join(s.dir, name)) {
		return nil
	}
	return s.plain(errors.Join(err, f.Close()))
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
	s.ending.Lock()
	defer s.ending.Unlock()
	s.end()
}

// end lets go of all that the stage holds, and throws away what is in it.
func (s *Stage) end() {
	_ = s.early.wait() // what is thrown away need not last
	s.shut()
	if s.dir != "" {
		removeStage(s.dir)
		s.dir = ""
	}
	if s.lock != nil {
		s.lock.free()
	}
	inWork.drop(s)
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
	s.ending.Lock()
	defer s.ending.Unlock()
	defer s.end()
	if s.root == nil {
		return "", ErrStopped
	}
	if err := s.inPlace(); err != nil {
		return "", err
	}
	if err := errors.Join(s.early.wait(), syncTree(s.dir, s.early.done)); err != nil {
		return "", s.plain(err)
	}
	old, err := s.replace()
	if err != nil {
		return "", s.plain(err)
	}
	s.dir, s.released = "", true
	if err := errors.Join(syncDir(s.target), syncDir(filepath.Dir(s.target))); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return "", fmt.Errorf("%s has been replaced, but it is not certain that this outlasts a power cut: %w", s.said, err)
	}
	if old == "" {
		return "", nil
	}
	return s.settle(old)
}

// replace looks at every file of the stage once more, takes the mark from it
// and swaps it in, with nothing else in between.
func (s *Stage) replace() (old string, err error) {
	if err := s.unchanged(); err != nil {
		return "", err
	}
	if err := unmark(s.root); err != nil {
		return "", err
	}
	s.shut()
	return s.swap()
}
