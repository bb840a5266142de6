// Package release puts a folder of files in the place of another, whole or
// not at all.
//
// Files are written to a staging folder beside the target, synced, and swapped
// in by one rename; where the system can exchange two folders in one step it
// does, so that at no instant the target is missing or mixed. A lock beside
// the target lets one writer in at a time. What a dead run left behind is
// recognised by its name and cleaned by the next.
//
// The package knows folders, not packets: whether a folder may be replaced is
// the caller's to say.
package release

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// ErrBusy says that another run is writing the same target.
var ErrBusy = errors.New("another run is making this packet now; wait until it is done")

// Stage is a folder in the making.
type Stage struct {
	target string // absolute
	dir    string
	lock   *lock
}

// The names of what stands beside a target while it is made.
const (
	makingMark = ".making-"
	asideMark  = ".aside-"
)

// Begin opens a stage for a target folder, after putting right what a dead
// run left. The target's parent folder must exist.
func Begin(target string) (*Stage, error) {
	abs, err := filepath.Abs(target)
	if err != nil {
		return nil, err
	}
	parent, base := filepath.Split(abs)
	if info, err := os.Stat(parent); err != nil {
		return nil, fmt.Errorf("the folder %s, in which %s was to be made, cannot be read: %w", parent, base, err)
	} else if !info.IsDir() {
		return nil, fmt.Errorf("%s is not a folder, so %s cannot be made in it", parent, base)
	}
	l, err := takeLock(filepath.Join(parent, "."+base+".lock"))
	if err != nil {
		return nil, err
	}
	s := &Stage{target: abs, lock: l}
	if err := s.recover(); err != nil {
		l.free()
		return nil, err
	}
	s.dir, err = os.MkdirTemp(parent, "."+base+makingMark)
	if err != nil {
		l.free()
		return nil, err
	}
	if err := os.Chmod(s.dir, 0o755); err != nil {
		s.Abort()
		return nil, err
	}
	return s, nil
}

// Dir returns the folder to write to.
func (s *Stage) Dir() string { return s.dir }

// Write writes one file of the stage and syncs it. The path is relative and
// must not leave the stage.
func (s *Stage) Write(path string, data []byte) error {
	if !filepath.IsLocal(path) {
		return fmt.Errorf("%s would lie outside the packet", path)
	}
	full := filepath.Join(s.dir, filepath.FromSlash(path))
	if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
		return err
	}
	f, err := os.OpenFile(full, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Sync(), f.Close())
}

// Abort throws the stage away. It is harmless after Commit.
func (s *Stage) Abort() {
	if s.dir != "" {
		os.RemoveAll(s.dir)
		s.dir = ""
	}
	s.lock.free()
}

// Commit puts the stage in the target's place. Where keep is set, a folder
// that stood there is kept beside it and its new path returned.
func (s *Stage) Commit(keep bool) (kept string, err error) {
	defer s.Abort()
	if err := syncTree(s.dir); err != nil {
		return "", err
	}
	if _, err := os.Lstat(s.target); errors.Is(err, fs.ErrNotExist) {
		if err := os.Rename(s.dir, s.target); err != nil {
			return "", err
		}
		s.dir = ""
		return "", syncDir(filepath.Dir(s.target))
	}
	old := s.dir // the old folder's place after the exchange
	if err := exchange(s.dir, s.target); err != nil {
		if old, err = s.twoSteps(); err != nil {
			return "", err
		}
	}
	s.dir = ""
	if err := syncDir(filepath.Dir(s.target)); err != nil {
		return "", err
	}
	if !keep {
		return "", os.RemoveAll(old)
	}
	kept, err = keepName(s.target)
	if err != nil {
		return "", err
	}
	return kept, os.Rename(old, kept)
}

// twoSteps replaces the target where the system cannot exchange folders: the
// old one steps aside first. A run that dies between the steps leaves the old
// one aside, and the next run puts it back.
func (s *Stage) twoSteps() (old string, err error) {
	old = filepath.Join(filepath.Dir(s.target), "."+filepath.Base(s.target)+asideMark+"old")
	if err := os.Rename(s.target, old); err != nil {
		return "", err
	}
	if err := os.Rename(s.dir, s.target); err != nil {
		return "", errors.Join(err, os.Rename(old, s.target))
	}
	return old, nil
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

// recover puts right what a dead run left beside the target: it holds the
// lock, so nobody else is at work there.
func (s *Stage) recover() error {
	parent, base := filepath.Dir(s.target), filepath.Base(s.target)
	entries, err := os.ReadDir(parent)
	if err != nil {
		return err
	}
	for _, e := range entries {
		path := filepath.Join(parent, e.Name())
		switch {
		case strings.HasPrefix(e.Name(), "."+base+makingMark):
			if err := os.RemoveAll(path); err != nil {
				return err
			}
		case strings.HasPrefix(e.Name(), "."+base+asideMark):
			if _, err := os.Lstat(s.target); errors.Is(err, fs.ErrNotExist) {
				if err := os.Rename(path, s.target); err != nil {
					return err
				}
				continue
			}
			if err := os.RemoveAll(path); err != nil {
				return err
			}
		}
	}
	return nil
}

// syncTree syncs every folder of a tree; its files were synced when written.
func syncTree(root string) error {
	return filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || !d.IsDir() {
			return err
		}
		return syncDir(path)
	})
}
