//go:build !unix && !windows

package release

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// lock is a file that exists while its holder works, on systems without file
// locks. A dead holder leaves it behind.
type lock struct{ path string }

func takeLock(path string) (*lock, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return nil, fmt.Errorf("%w, and if there is none, remove %s", ErrBusy, path)
	}
	if err != nil {
		return nil, err
	}
	return &lock{path}, f.Close()
}

func (l *lock) free() {
	if l.path != "" {
		os.Remove(l.path)
		l.path = ""
	}
}
