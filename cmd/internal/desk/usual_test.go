package desk

import (
	"os"
	"path/filepath"
	"testing"

	"starwright/cmd/internal/job"
)

// The user's own shop file serves where the folder has none, as it does on the
// command line; the folder's own comes first.
func TestUsualShop(t *testing.T) {
	dir := t.TempDir()
	f, err := OpenFolder(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	f.Usual = &job.File{Name: "own/shop.toml", Data: []byte("[saw]\nkerf = \"3.1 mm\"\n")}
	if l, err := f.List(); err != nil || l.Shop || l.Usual == nil || l.Usual.Source != string(f.Usual.Data) {
		t.Errorf("%+v, %v", l, err)
	}
	source := []byte("[star]\nboard_width = \"100 mm\"\n[jigs]\nmake = []\n[slot]\nmake = false\n")
	made := func(want string) {
		t.Helper()
		if p, err := f.Make(t.Context(), "job.toml", source, true, nil); err != nil || !p.OK {
			t.Fatal(p, err)
		}
		if got, err := os.ReadFile(filepath.Join(dir, "job-packet", "shop.toml")); err != nil || string(got) != want {
			t.Errorf("made in the shop %q, want %q; %v", got, want, err)
		}
	}
	made(string(f.Usual.Data))
	own := "[saw]\nkerf = \"2 mm\"\n"
	if err := os.WriteFile(filepath.Join(dir, "shop.toml"), []byte(own), 0o644); err != nil {
		t.Fatal(err)
	}
	made(own)
}
