//go:build reference

package packet

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"starwright/cmd/internal/mutate"
)

// auditSVG holds what is cut by every SVG of a folder against its DXF, which has the
// first part of its name, and prints how many faults were found: -1 where it is no
// XML, -2 where the outside reader, which knows four commands, cannot follow it.
const auditSVG = `
import json, os, re, sys, xml.etree.ElementTree
sys.path.insert(0, sys.argv[2])
import ezdxf, outside_svg
out, drawings = {}, {}
for name in sorted(os.listdir(sys.argv[1])):
    if not name.endswith(".svg"):
        continue
    faults = []
    try:
        number = name.split("-")[0]
        if number not in drawings:
            drawings[number] = ezdxf.readfile(os.path.join(sys.argv[1], number + ".dxf"))
        dxf = drawings[number]
        outside_svg.compare(os.path.join(sys.argv[1], name), dxf, 1.0, lambda ok, what: ok or re.search("contours? on (HOLE|OUTLINE)", what) and faults.append(what))
        out[name] = len(faults)
    except xml.etree.ElementTree.ParseError:
        out[name] = -1
    except Exception:
        out[name] = -2
print(json.dumps(out))
`

// A second opinion on changed drawings in SVG: whatever Python's XML reader does not
// read, and whatever no longer is what its DXF has, the proof finds fault with too.
func TestReferenceMutatedSVG(t *testing.T) {
	w, errs := load("job.toml", []byte(mutationJobs[0].source))
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	dir := t.TempDir()
	changes := map[string]mutate.Change{}
	passes := map[string]bool{}
	write := func(name string, data []byte, err error) {
		t.Helper()
		if err == nil {
			err = os.WriteFile(filepath.Join(dir, name), data, 0o644)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	for i := range w.Drawings[:4] {
		d := &w.Drawings[i]
		text, err := formats[0].write(d.Want)
		write(fmt.Sprintf("%d.dxf", i), text, err)
		if text, err = formats[1].write(d.Want); err != nil {
			t.Fatal(err)
		}
		for k, c := range mutate.SVGSlips(text) {
			if k%5 != 0 {
				continue
			}
			name := fmt.Sprintf("%d-%05d.svg", i, k)
			p := &Proof{Path: d.in(formats[1]), Text: c.Text()}
			write(name, p.Text, nil)
			w.proveOutlines(p, d, formats[1])
			changes[name], passes[name] = c, p.OK()
		}
	}
	said := saidOf(t, len(changes), auditSVG, dir, "../../../.ci")
	count := map[string]int{}
	for name, n := range said {
		c := changes[name]
		switch {
		case n == 0:
			count["the same to the outside reader"]++
		case n == -2:
			count["not followed by it"]++
		case passes[name]:
			t.Errorf("%s, %s, line %d: the outside reader says %d, the proof passes it", c.Class, c.What, c.Line, n)
		case n == -1:
			count["no XML, found by both"]++
		default:
			count["not what the DXF has, found by both"]++
		}
	}
	t.Logf("%d changed drawings: %v", len(said), count)
}
