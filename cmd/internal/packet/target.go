package packet

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"unicode"
	"unicode/utf8"
)

// resolveTarget returns the folder that is really meant by a target: where it
// is a link, the one it leads to. It refuses names that would be trouble at the
// bench.
func resolveTarget(target string) (string, error) {
	abs, err := filepath.Abs(target)
	if err != nil {
		return "", err
	}
	base := filepath.Base(abs)
	why := nameFault(base)
	switch {
	case target == "":
		return "", &RefusedError{`""`, "the folder to make has no name; name one with -o"}
	case !utf8.ValidString(target):
		why = "is not UTF-8"
	case !printable(base):
		why = "holds a sign that does not print"
	}
	if why != "" {
		return "", &RefusedError{target, fmt.Sprintf("this name %s; choose another folder with -o, such as packet", why)}
	}
	if here, err := os.Getwd(); err == nil {
		if rel, err := filepath.Rel(abs, here); err == nil && filepath.IsLocal(rel) {
			return "", &RefusedError{target, "you stand in this folder, and it would be replaced under your feet; go up to its parent first"}
		}
	}
	info, err := os.Lstat(abs)
	if err != nil || info.Mode()&fs.ModeSymlink == 0 {
		return target, nil // what is wrong with it will be said
	}
	real, err := filepath.EvalSymlinks(abs)
	if errors.Is(err, fs.ErrNotExist) {
		return "", &RefusedError{target, "this is a link to a folder that is not there; make that folder or remove the link"}
	}
	return real, err
}

// printable reports whether every sign of a name can be seen.
func printable(name string) bool {
	for _, r := range name {
		if !unicode.IsPrint(r) {
			return false
		}
	}
	return true
}
