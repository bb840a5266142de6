//go:build !unix && !windows

package release

import "errors"

// What these systems do not know: files in use, disks on folders, folders
// exchanged in one step or synced.

func inUse(error) bool { return false }

func onMount(error) bool { return false }

func isMount(string) bool { return false }

func exchange(a, b string) error { return errors.ErrUnsupported }

func syncDir(dir string) error { return nil }
