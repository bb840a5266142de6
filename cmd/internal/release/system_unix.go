//go:build unix

package release

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"

	"golang.org/x/sys/unix"
)

// noFollow has a link not taken for the file it leads to.
const noFollow = syscall.O_NOFOLLOW

// openIsRemovable says whether a file can be removed while it is open.
const openIsRemovable = true

// lockFile locks an open file, or says that another has.
func lockFile(f *os.File) error {
	err := unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB)
	if errors.Is(err, unix.EWOULDBLOCK) {
		return errHeld
	}
	return err
}

// inUse reports whether a rename failed because another program has something
// open: never, here.
func inUse(error) bool { return false }

// onMount reports whether a rename failed because a disk is mounted there.
func onMount(err error) bool { return errors.Is(err, unix.EBUSY) }

// isMount reports whether another disk is mounted on a folder.
func isMount(path string) bool {
	here, err1 := os.Lstat(path)
	above, err2 := os.Stat(filepath.Dir(path))
	if err1 != nil || err2 != nil || !here.IsDir() {
		return false
	}
	a, good1 := here.Sys().(*syscall.Stat_t)
	b, good2 := above.Sys().(*syscall.Stat_t)
	return good1 && good2 && a.Dev != b.Dev
}

// syncDir makes the names in a folder last through a power cut.
func syncDir(dir string) error {
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}
