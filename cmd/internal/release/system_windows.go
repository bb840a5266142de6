package release

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// noFollow does not exist here; what is opened is looked at afterwards.
const noFollow = 0

// openIsRemovable says whether a file can be removed while it is open.
const openIsRemovable = false

// lockFile locks an open file, or says that another has.
func lockFile(f *os.File) error {
	const wait, bytes = windows.LOCKFILE_EXCLUSIVE_LOCK | windows.LOCKFILE_FAIL_IMMEDIATELY, 1
	err := windows.LockFileEx(windows.Handle(f.Fd()), wait, 0, bytes, 0, new(windows.Overlapped))
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) || errors.Is(err, windows.ERROR_IO_PENDING) {
		return errHeld
	}
	return err
}

// inUse reports whether a rename failed because another program has something
// open.
func inUse(err error) bool {
	return errors.Is(err, windows.ERROR_ACCESS_DENIED) || errors.Is(err, windows.ERROR_SHARING_VIOLATION)
}

// onMount and isMount: a disk on a folder is a link here.
func onMount(error) bool { return false }

func isMount(string) bool { return false }

// there is no exchange; the caller then takes two steps.
func exchange(a, b string) error { return errors.ErrUnsupported }

// syncDir does nothing, for folders cannot be synced here.
func syncDir(dir string) error { return nil }
