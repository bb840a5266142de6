package release

import "golang.org/x/sys/unix"

// exchange swaps two folders in one step (renameat2, Linux 3.15 and later).
func exchange(a, b string) error {
	return unix.Renameat2(unix.AT_FDCWD, a, unix.AT_FDCWD, b, unix.RENAME_EXCHANGE)
}
