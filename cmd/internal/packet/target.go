package packet

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// resolveTarget returns the folder that is really meant by a target: where it
// is a link, the one it leads to. It refuses names that would be trouble at the
// bench, on this system or on the next.
func resolveTarget(target string) (string, error) {
	if target == "" {
		return "", &RefusedError{`""`, "the folder to make has no name. Try: -o packet"}
	}
	// The name as it was given: Windows makes a device of some before anybody
	// has looked at them.
	if base := filepath.Base(target); base != "." && base != ".." && base != string(filepath.Separator) {
		if why, instead := NameFault(base); why != "" {
			return "", &RefusedError{target, fmt.Sprintf("this name %s. Try: -o %s", why, filepath.Join(filepath.Dir(filepath.Clean(target)), instead))}
		}
	}
	abs, err := filepath.Abs(target)
	if err != nil {
		return "", err
	}
	if here, err := os.Getwd(); err == nil {
		if rel, err := filepath.Rel(abs, here); err == nil && filepath.IsLocal(rel) {
			return "", &RefusedError{target, "you stand in this folder, and it would be replaced under your feet; go up to its parent first"}
		}
	}
	info, err := os.Lstat(abs)
	if err != nil || info.Mode()&fs.ModeSymlink == 0 {
		return target, nil // a later step says what is wrong with it
	}
	real, err := filepath.EvalSymlinks(abs)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "", &RefusedError{target, "this is a link to a folder that is not there; make that folder or remove the link"}
	case err != nil && !errors.Is(err, fs.ErrPermission):
		return "", &RefusedError{target, "this link leads to itself, or over too many others; remove it, or choose another folder with -o"}
	}
	return real, err
}
