package packet

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Microsoft, "Naming Files, Paths, and Namespaces": the reserved signs and
// names, and that a name may not end with a blank or a dot.
func TestNameFault(t *testing.T) {
	for _, c := range []struct{ name, instead string }{
		{"packet", ""},
		{"Mother's stars, 2 of 3", ""},
		{"étoiles", ""},
		{".hidden", ""},
		{"com", ""},
		{"COM10", ""},
		{"console", ""},
		{"a<b>c:d\"e/f\\g|h?i*j", "a-b-c-d-e-f-g-h-i-j"},
		{"CON", "my-CON"},
		{"nul.txt", "my-nul.txt"},
		{"Lpt9.tar.gz", "my-Lpt9.tar.gz"},
		{"COM\u00b9", "my-COM\u00b9"}, // the superscript digits are digits there
		{"LPT\u00b3.x", "my-LPT\u00b3.x"},
		{"conin$", "my-conin$"},
		{"CON ", "my-CON"},
		{"aux .x", "my-aux .x"},
		{"dots...", "dots"},
		{"blank ", "blank"},
		{"-rf", "rf"},
		{"", "packet"},
		{"...", "packet"},
		{"???", "packet"},
		{"bell\a", "bell"},
		{"a\xffb", "ab"},
		{strings.Repeat("é", 200), strings.Repeat("é", 100)},
	} {
		if _, got := NameFault(c.name); got != c.instead {
			t.Errorf("%q: %q, want %q", c.name, got, c.instead)
		}
	}
}

// What is offered instead of any name is let through itself, and what is let
// through can be made.
func TestNamesOfferedWork(t *testing.T) {
	dir := t.TempDir()
	signs := rapid.StringOf(rapid.SampledFrom([]rune("aB9 .-_<>:\"/\\|?*$é\u00b2\u00a0\a\u202e\U0001f31f")))
	words := rapid.SampledFrom([]string{"", "con", "PRN", "com1", "lpt\u00b2", "packet"})
	rapid.Check(t, func(t *rapid.T) {
		name := words.Draw(t, "word") + signs.Draw(t, "signs") + words.Draw(t, "more")
		why, instead := NameFault(name)
		if why != "" {
			if again, _ := NameFault(instead); again != "" {
				t.Fatalf("%q: %q is offered, which %s", name, instead, again)
			}
			name = instead
		}
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(name), 0o644); err != nil {
			t.Fatal(err)
		}
		found, err := os.ReadDir(dir)
		if err != nil || len(found) != 1 || found[0].Name() != name {
			t.Fatalf("%q has become %v, %v", name, found, err)
		}
		os.Remove(path)
	})
}

// A file just beyond what is read is not one that is as large as what is read.
func TestFileJustTooLarge(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, ManifestName), make([]byte, maxManifestBytes+1), 0o644); err != nil {
		t.Fatal(err)
	}
	_, _, err := editedSince(dir)
	_, inTree := Tree{ManifestName: make([]byte, maxManifestBytes+1)}.read(ManifestName, maxManifestBytes)
	for _, err := range []error{err, inTree} {
		if want := "manifest.json: is larger than 8 MB, and no file of its kind in a packet is"; err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}
