//go:build reference

package packet

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"starwright/cmd/internal/mutate"
	"starwright/post/dxf/dxfwrite"
)

// audit reads every file of a folder with ezdxf and prints what its auditor
// says: the number of errors, or -1 where it does not read the file.
const audit = `
import json, os, sys
import ezdxf
out = {}
for name in sorted(os.listdir(sys.argv[1])):
    try:
        doc = ezdxf.readfile(os.path.join(sys.argv[1], name))
        out[name] = len(doc.audit().errors)
    except Exception:
        out[name] = -1
print(json.dumps(out))
`

// A second opinion on changed drawings: whatever ezdxf does not read, or its
// auditor finds fault with, the proof finds fault with too.
func TestReferenceMutatedDrawings(t *testing.T) {
	w, errs := load("job.toml", []byte(mutationJobs[0].source))
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	dir := t.TempDir()
	changes := map[string]mutate.Change{}
	passes := map[string]bool{}
	for i := range w.Drawings[:3] {
		d := &w.Drawings[i]
		text, err := dxfwrite.Bytes(d.Want)
		if err != nil {
			t.Fatal(err)
		}
		list := append(mutate.DrawingSlips(text), mutate.DrawingEdits(text)...)
		for k, c := range list {
			if k%3 != 0 {
				continue
			}
			name := fmt.Sprintf("%d-%05d.dxf", i, k)
			p := &Proof{Path: d.Path, Text: c.Text()}
			if err := os.WriteFile(filepath.Join(dir, name), p.Text, 0o644); err != nil {
				t.Fatal(err)
			}
			w.proveOutlines(p, d, formats[0])
			changes[name], passes[name] = c, p.OK()
		}
	}
	said := saidOf(t, len(changes), audit, dir)
	refused, both := 0, 0
	for name, n := range said {
		if n == 0 {
			continue
		}
		refused++
		if passes[name] {
			c := changes[name]
			t.Errorf("%s, %s, line %d: ezdxf says %d, the proof passes it", c.Class, c.What, c.Line, n)
			continue
		}
		both++
	}
	t.Logf("%d changed drawings; ezdxf finds fault with %d, the proof with all but %d of those", len(said), refused, refused-both)
}

// saidOf runs a script of an outside reader and returns how many faults it finds in
// each of so many files.
func saidOf(t *testing.T, files int, script string, args ...string) map[string]int {
	t.Helper()
	out, err := exec.Command("/usr/bin/python3", append([]string{"-c", script}, args...)...).Output()
	if err != nil {
		t.Fatalf("outside reader: %v", err)
	}
	var said map[string]int
	if err := json.Unmarshal(out, &said); err != nil {
		t.Fatal(err)
	}
	if len(said) != files {
		t.Fatalf("the outside reader looked at %d files of %d", len(said), files)
	}
	return said
}
