package packet

import (
	"bytes"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"starwright/cmd/internal/job"
)

// A packet made in memory is the one made on disk, byte for byte, and what
// check finds in it is the same.
func TestTreeIsTheFolder(t *testing.T) {
	load := func() *Work {
		w, errs := load("job.toml", job.BuiltIn())
		if len(errs) > 0 {
			t.Fatal(errs)
		}
		return w
	}
	dir := filepath.Join(t.TempDir(), "packet")
	if made, err := Make(t.Context(), load(), dir, false); err != nil || !made.Released {
		t.Fatal(err)
	}
	made, tree, err := MakeTree(t.Context(), load())
	if err != nil || !made.Released {
		t.Fatal(err)
	}
	onDisk := Tree{}
	err = fs.WalkDir(os.DirFS(dir), ".", func(p string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			onDisk[p], err = os.ReadFile(filepath.Join(dir, p))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if a, b := slices.Sorted(maps.Keys(onDisk)), slices.Sorted(maps.Keys(tree)); !slices.Equal(a, b) {
		t.Fatalf("on disk %q, in memory %q", a, b)
	}
	for p := range onDisk {
		if !bytes.Equal(onDisk[p], tree[p]) {
			t.Errorf("%s has other bytes in memory", p)
		}
	}

	const slot = "gcode/slot-left.nc"
	tree[slot] = bytes.Replace(tree[slot], []byte("Z-"), []byte("Z-9"), 1)
	tree["extra.txt"] = []byte("a note")
	delete(tree, "operator.txt")
	for _, p := range []string{slot, "extra.txt"} {
		if err := os.WriteFile(filepath.Join(dir, p), tree[p], 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Remove(filepath.Join(dir, "operator.txt")); err != nil {
		t.Fatal(err)
	}
	disk, err := Check(dir, Asked{})
	if err != nil {
		t.Fatal(err)
	}
	mem, err := CheckTree("packet", tree, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	if mem.OK() || disk.OK() {
		t.Error("a slot nine times as deep passes")
	}
	if !slices.Equal(mem.Changes, disk.Changes) || len(mem.Changes) != 3 {
		t.Errorf("changes in memory %v, on disk %v", mem.Changes, disk.Changes)
	}
	for i := range disk.Proofs {
		a, b := disk.Proofs[i].Findings, mem.Proofs[i].Findings
		if len(a) != len(b) {
			t.Errorf("%s: %d findings on disk, %d in memory", disk.Proofs[i].Path, len(a), len(b))
		}
	}
}

func TestTreeRefusesPathsOutside(t *testing.T) {
	g := &growing{tree: Tree{}}
	for _, p := range []string{"../x", "/x", "a//b", "con", "nul.txt", "x:y", "a\\b", ""} {
		if g.Write(p, nil) == nil {
			t.Errorf("%q was written", p)
		}
		if _, err := (Tree{p: nil}).read(p, 1); err == nil {
			t.Errorf("%q was read", p)
		}
	}
	if g.Write("a", nil) != nil || g.Write("a", nil) == nil {
		t.Error("a file can be written twice")
	}
}
