package release

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
)

// ChangedError says that another program has been at work in a stage.
type ChangedError struct{ Target, Path string }

func (e *ChangedError) Error() string {
	return fmt.Sprintf("%s: another program changed %s while the packet was made, so nothing was released. Run it again", e.Target, e.Path)
}

// unchanged reads the stage as it lies on disk and holds it against what was
// written: every file with its bytes, and nothing else.
func (s *Stage) unchanged() error {
	known := map[string]bool{".": true, markFile: true}
	var files []string
	for name := range s.sums {
		files = append(files, name)
		for p := name; !known[p]; p = path.Dir(p) {
			known[p] = true
		}
	}
	err := fs.WalkDir(s.root.FS(), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		_, written := s.sums[name]
		if !known[name] || (written || name == markFile) != d.Type().IsRegular() {
			return &ChangedError{s.said, name}
		}
		return nil
	})
	if err != nil {
		return err
	}
	return atOnce(files, s.asWritten)
}

// asWritten says whether a file holds what was written to it.
func (s *Stage) asWritten(name string) error {
	f, err := s.root.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return &ChangedError{s.said, name}
	}
	if err != nil {
		return err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return err
	}
	if sum := s.sums[name]; string(h.Sum(nil)) != string(sum[:]) {
		return &ChangedError{s.said, name}
	}
	return nil
}
