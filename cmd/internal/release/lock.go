//go:build unix || windows

package release

import (
	"errors"
	"fmt"
	"os"
)

// lock is a file lock; the system frees it when its holder dies.
type lock struct {
	f    *os.File
	path string
}

// errHeld says that another holds a lock.
var errHeld = errors.New("held by another")

func takeLock(path string) (*lock, error) {
	const tries = 100
	for range tries {
		f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|noFollow, 0o666)
		if err != nil {
			return nil, err
		}
		if err := lockFile(f); err != nil {
			f.Close()
			if errors.Is(err, errHeld) {
				return nil, ErrBusy
			}
			return nil, fmt.Errorf("%s cannot be locked: %w", path, err)
		}
		// The last holder removes the file; a lock on a removed one is worth nothing.
		l := &lock{f, path}
		if l.inPlace() {
			return l, nil
		}
		f.Close()
	}
	return nil, fmt.Errorf("%s is not a plain file; remove it", path)
}

// inPlace reports whether the lock's file still stands under its name.
func (l *lock) inPlace() bool {
	here, err1 := l.f.Stat()
	there, err2 := os.Lstat(l.path)
	return err1 == nil && err2 == nil && os.SameFile(here, there)
}

// free lets go of the lock and removes its file, unless that is another's, in a
// folder that came in place of ours.
func (l *lock) free() {
	if l.f == nil {
		return
	}
	ours := l.inPlace()
	if ours && openIsRemovable {
		os.Remove(l.path)
	}
	l.f.Close()
	l.f = nil
	if ours && !openIsRemovable {
		os.Remove(l.path) // fails where another holds it by now, as it should
	}
}
