package release

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"time"
)

// swap puts the stage in the target's place and returns where the folder that
// stood there is now, "" where there was none. Somebody may remove the target
// or make one meanwhile; then it is tried again.
func (s *Stage) swap() (old string, err error) {
	const tries = 10
	for range tries {
		if _, err = os.Lstat(s.target); errors.Is(err, fs.ErrNotExist) {
			if err = patient(func() error { return os.Rename(s.dir, s.target) }); err == nil {
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
	return "", fmt.Errorf("%s comes and goes; is another program at work there? %w", s.said, err)
}

// twoSteps replaces the target where the system cannot exchange folders: the
// old one steps aside first. A run that dies between the steps leaves the old
// one aside, and the next run puts it back.
func (s *Stage) twoSteps() (old string, err error) {
	if old, err = s.free(asideMark); err != nil {
		return "", err
	}
	if err := patient(func() error { return os.Rename(s.target, old) }); err != nil {
		return "", err
	}
	if err := patient(func() error { return os.Rename(s.dir, s.target) }); err != nil {
		return "", errors.Join(err, os.Rename(old, s.target))
	}
	return old, nil
}

// patient tries something again for a while where another program is in the
// way that may be gone in a moment: on Windows one that looks for viruses in
// every new file.
func patient(try func() error) (err error) {
	const tries, pause = 20, 50 * time.Millisecond
	for range tries {
		if err = try(); err == nil || !inUse(err) {
			return err
		}
		time.Sleep(pause)
	}
	return err
}
