//go:build !unix

package release

import (
	"errors"
	"io/fs"
	"os"
)

// lock is a file that exists while its holder works. A dead holder leaves it
// behind; it is removed by hand, as the error says.
type lock struct{ path string }

func takeLock(path string) (*lock, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return nil, errors.Join(ErrBusy, errors.New("if none is, remove "+path))
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

// folderID returns nothing: where folders cannot be exchanged none is needed.
func folderID(path string) (string, error) { return "", nil }
