package release

import "golang.org/x/sys/unix"

// exchange swaps two folders in one step (renamex_np, macOS 10.12 and later).
func exchange(a, b string) error { return unix.RenamexNp(a, b, unix.RENAME_SWAP) }
