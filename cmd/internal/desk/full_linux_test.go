package desk

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"starwright/cmd/internal/engine"
)

// On a full disk the file stays as it was, nothing is left beside it, and the
// page says what to do.
func TestFullDisk(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=128k"); err != nil {
		t.Skip("no small disk can be mounted here: ", err)
	}
	defer syscall.Unmount(dir, syscall.MNT_DETACH)
	f, err := OpenFolder(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	was, err := f.Save("job.toml", "n = 0\n", "")
	if err != nil {
		t.Fatal(err)
	}
	_ = os.WriteFile(filepath.Join(dir, "filler"), make([]byte, 100<<10), 0o644)
	var fault *engine.Fault
	_, err = f.Save("job.toml", strings.Repeat("# more\n", 10<<10), was.Tag)
	if !errors.As(err, &fault) || !strings.Contains(fault.Lines[0], "no room left") {
		t.Errorf("the page hears %v", err)
	}
	if data, _ := os.ReadFile(filepath.Join(dir, "job.toml")); string(data) != "n = 0\n" {
		t.Errorf("the job became %.40q", data)
	}
	if entries, _ := os.ReadDir(dir); len(entries) != 2 {
		t.Errorf("left behind: %v", entries)
	}
}
