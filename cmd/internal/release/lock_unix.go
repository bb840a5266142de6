//go:build unix

package release

import (
	"errors"
	"fmt"
	"os"
	"strconv"
	"syscall"

	"golang.org/x/sys/unix"
)

// lock is a file lock; the system frees it when its holder dies.
type lock struct {
	f    *os.File
	path string
}

func takeLock(path string) (*lock, error) {
	for {
		f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|syscall.O_NOFOLLOW, 0o644)
		if err != nil {
			return nil, err
		}
		if err := unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB); err != nil {
			f.Close()
			if errors.Is(err, unix.EWOULDBLOCK) {
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
}

// inPlace reports whether the lock's file still stands under its name.
func (l *lock) inPlace() bool {
	here, err1 := l.f.Stat()
	there, err2 := os.Lstat(l.path)
	return err1 == nil && err2 == nil && os.SameFile(here, there)
}

func (l *lock) free() {
	if l.f == nil {
		return
	}
	if l.inPlace() { // and is not another's, in a folder that came in place of ours
		os.Remove(l.path)
	}
	l.f.Close()
	l.f = nil
}

// folderID returns the number by which the file system knows a folder, which
// stays the same when it is renamed.
func folderID(path string) (string, error) {
	info, err := os.Lstat(path)
	if err != nil {
		return "", err
	}
	if st, ok := info.Sys().(*syscall.Stat_t); ok {
		return strconv.FormatUint(uint64(st.Ino), 10), nil
	}
	return "", nil
}
