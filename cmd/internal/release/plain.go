package release

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// OpChange is the operation in the [fs.PathError] of a folder in which nothing
// may be made or changed.
const OpChange = "write in"

// plain gives the path in a system's error as people know it: a file of the
// stage as what it will be in the target, and what stands beside the target
// under a name of this package's own as the target itself.
func (s *Stage) plain(err error) error {
	if errors.Is(err, ErrBusy) {
		return fmt.Errorf("%s: %w", s.said, err)
	}
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &l) && onMount(l.Err):
		return mountError(s.said)
	case errors.As(err, &l) && inUse(l.Err):
		return fmt.Errorf("%s: another program has this folder or a file in it open, so nothing was changed. Close it and run this again", s.said)
	case errors.As(err, &l):
		return &fs.PathError{Op: l.Op, Path: s.said, Err: l.Err}
	case !errors.As(err, &p):
		return err
	}
	parent := filepath.Dir(s.target)
	if errors.Is(p.Err, fs.ErrPermission) {
		return &fs.PathError{Op: OpChange, Path: parent, Err: p.Err}
	}
	name := p.Path
	if filepath.IsAbs(name) && s.dir != "" {
		if rel, err := filepath.Rel(s.dir, name); err == nil && filepath.IsLocal(rel) {
			name = rel
		}
	}
	switch {
	case !filepath.IsAbs(name):
		name = filepath.Join(s.said, name)
	case strings.HasPrefix(name, filepath.Join(parent, "."+filepath.Base(s.target)+".")):
		name = s.said
	}
	return &fs.PathError{Op: strings.TrimSuffix(p.Op, "at"), Path: name, Err: p.Err}
}
