package release

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// swap puts the stage in the target's place and returns where the folder that
// stood there is now, "" where there was none. Somebody may remove the target
// or make one meanwhile; then it is tried again.
func (s *Stage) swap() (old string, err error) {
	const tries = 10
	for range tries {
		if _, err = os.Lstat(s.target); errors.Is(err, fs.ErrNotExist) {
			if err = os.Rename(s.dir, s.target); err == nil {
				return "", nil
			}
			if errors.Is(err, fs.ErrExist) {
				continue
			}
			return "", err
		}
		if err = exchange(s.dir, s.target); err == nil {
			return s.dir, nil
		}
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if old, err = s.twoSteps(); !errors.Is(err, fs.ErrNotExist) {
			return old, err
		}
	}
	return "", fmt.Errorf("%s comes and goes; is another program at work there? %w", s.target, err)
}

// twoSteps replaces the target where the system cannot exchange folders: the
// old one steps aside first. A run that dies between the steps leaves the old
// one aside, and the next run puts it back.
func (s *Stage) twoSteps() (old string, err error) {
	old = filepath.Join(filepath.Dir(s.target), "."+filepath.Base(s.target)+asideMark+"1")
	if err := os.Rename(s.target, old); err != nil {
		return "", err
	}
	if err := os.Rename(s.dir, s.target); err != nil {
		return "", errors.Join(err, os.Rename(old, s.target))
	}
	return old, nil
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
		rest, ours := strings.CutPrefix(e.Name(), "."+base)
		mark := markName.FindStringSubmatch(rest)
		if !ours || mark == nil || !e.IsDir() {
			continue
		}
		if err := s.putRight(filepath.Join(parent, e.Name()), mark[1], mark[2]); err != nil {
			return err
		}
	}
	return nil
}

// putRight deals with one folder that a dead run left, by its mark and the
// number that its name ends with.
func (s *Stage) putRight(path, mark, id string) error {
	replaced := false
	switch mark {
	case makingMark:
		now, err := folderID(path)
		if err != nil {
			return err
		}
		replaced = id != "" && id != now
	case asideMark:
		if _, err := os.Lstat(s.target); errors.Is(err, fs.ErrNotExist) {
			return os.Rename(path, s.target)
		}
		replaced = true
	}
	if replaced {
		_, err := s.settle(path)
		return err
	}
	removeTree(path) // what cannot be removed stays until it can
	return nil
}
