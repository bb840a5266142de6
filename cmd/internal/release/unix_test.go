//go:build unix

package release

import (
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
)

// What is made has the mode that its maker's umask leaves, the packet's own
// folder too.
func TestUmask(t *testing.T) {
	for _, umask := range []int{0o077, 0o022, 0o002} {
		dir := t.TempDir()
		target := filepath.Join(dir, "packet")
		was := syscall.Umask(umask)
		_, err := begin(t, target).Commit()
		syscall.Umask(was)
		if err != nil {
			t.Fatal(err)
		}
		for path, most := range map[string]fs.FileMode{"": 0o777, "sub": 0o777, "sub/file": 0o666} {
			info, err := os.Stat(filepath.Join(target, path))
			if err != nil {
				t.Fatal(err)
			}
			if got, want := info.Mode().Perm(), most&^fs.FileMode(umask); got != want {
				t.Errorf("umask %04o: %q has %04o, want %04o", umask, path, got, want)
			}
		}
	}
}

// A folder that a disk is mounted on cannot be exchanged; the error comes before
// any work, with a folder that can.
func TestMountPoint(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("/proc is Linux'")
	}
	_, err := Begin("/proc", nil)
	if err == nil || !strings.Contains(err.Error(), "/proc: a disk is mounted on this folder") || !strings.Contains(err.Error(), "-o /proc/packet") {
		t.Errorf("%v", err)
	}
	if _, err := os.Lstat("/.proc.lock"); err == nil {
		t.Error("a lock was left beside it")
	}
}
