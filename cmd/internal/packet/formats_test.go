package packet

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// Every drawing stands in the packet in every format, is listed as of its kind,
// and has the same figures.
func TestEveryDrawingInEveryFormat(t *testing.T) {
	dir := made(t, smallJob)
	data, err := os.ReadFile(filepath.Join(dir, ManifestName))
	if err != nil {
		t.Fatal(err)
	}
	var m Manifest
	if err := json.Unmarshal(data, &m); err != nil {
		t.Fatal(err)
	}
	w := workOf(t, "job.toml", []byte(smallJob))
	n := 0
	w.eachDrawing(func(d *Drawing, f format) {
		i := slices.IndexFunc(m.Files, func(one File) bool { return one.Path == d.in(f) })
		if i < 0 || m.Files[i].Kind != f.kind || m.Files[i].Quantity != d.Quantity || len(m.Files[i].Checks) < 3 {
			t.Errorf("%s is not listed as it should be", d.in(f))
		}
		if _, err := os.Stat(filepath.Join(dir, d.in(f))); err != nil {
			t.Error(err)
		}
		n++
	})
	if n != 2*len(w.Drawings) || n < 6 {
		t.Errorf("%d files of %d drawings", n, len(w.Drawings))
	}
}

// A packet of a version that knew no SVG still passes; one of which the files
// were taken away, and the manifest edited to hide it, does not.
func TestOlderPacketsHaveFewerFormats(t *testing.T) {
	for _, hide := range []bool{false, true} {
		dir := made(t, smallJob)
		data, err := os.ReadFile(filepath.Join(dir, ManifestName))
		if err != nil {
			t.Fatal(err)
		}
		var m Manifest
		if err := json.Unmarshal(data, &m); err != nil {
			t.Fatal(err)
		}
		m.Files = slices.DeleteFunc(m.Files, func(f File) bool { return f.Kind == "svg" })
		if data, err = m.encode(); err != nil {
			t.Fatal(err)
		}
		if hide { // by hand: its digest is no longer its own
			data = []byte(strings.Replace(string(data), "star of 5 points", "star of 6 points", 1))
		}
		if err := os.WriteFile(filepath.Join(dir, ManifestName), data, 0o644); err != nil {
			t.Fatal(err)
		}
		if err := os.RemoveAll(filepath.Join(dir, "svg")); err != nil {
			t.Fatal(err)
		}
		c, err := Check(dir, Asked{})
		if err != nil {
			t.Fatal(err)
		}
		if c.OK() == hide {
			t.Errorf("manifest edited %v: passes %v", hide, c.OK())
		}
	}
}
