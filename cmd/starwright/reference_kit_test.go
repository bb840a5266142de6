//go:build reference

package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"starwright/cmd/internal/packet"
	"starwright/geom/jig"
)

// kitJobs are the jobs of testdata/kit: the whole kit, named jig by jig, so that
// one that cannot be made is an error and not left out with a warning.
var kitJobs = []string{"five-mm", "eight-mm", "five-in", "eight-in"}

// TestReferencePacketsKit makes the whole kit for five and for eight points, in
// millimetres and in inches, and has every drawing and every program read by
// ezdxf, GDAL, gcode-toolpath and shapely. Nothing is left out: what they read
// is counted against the manifest.
func TestReferencePacketsKit(t *testing.T) {
	for _, name := range kitJobs {
		t.Run(name, func(t *testing.T) { referenceKit(t, filepath.Join("testdata", "kit", name+".toml")) })
	}
}

func referenceKit(t *testing.T, job string) {
	dir := t.TempDir()
	out := filepath.Join(dir, "packet")
	mustRun(t, "make", "-o", out, job)
	mustRun(t, "check", out)
	plan := mustRun(t, "plan", "--json", job)

	var m packet.Manifest
	text, err := os.ReadFile(filepath.Join(out, packet.ManifestName))
	if err == nil {
		err = json.Unmarshal(text, &m)
	}
	if err != nil {
		t.Fatal(err)
	}
	var drawings, programs []string
	for _, f := range m.Files {
		switch f.Kind {
		case "dxf":
			drawings = append(drawings, f.Path)
		case "gcode":
			programs = append(programs, filepath.Join(out, filepath.FromSlash(f.Path)))
		}
	}
	wholeKit(t, m)

	moves := outsideMoves(t, programs)
	if n := strings.Count(string(moves), "\n"); n != len(programs) {
		t.Errorf("gcode-toolpath replayed %d of %d programs", n, len(programs))
	}
	compareMoves(t, moves)
	said := outsideReaders(t, dir, out, plan, moves)
	if want := fmt.Sprintf("%d drawings, %d programs: ", len(drawings), len(programs)); !strings.Contains(said, want) {
		t.Errorf("the outside readers did not read %s", want)
	}
}

// withoutSeats are the jigs in which no work lies: on the one board segments are laid,
// and the other is laid on a segment, edges flush.
var withoutSeats = map[string]bool{"glue-board": true, "drill-guide": true}

// wholeKit checks that a packet has a drawing of every kind of jig, figures for
// every seat, and that every jig lies on a sheet with a program.
func wholeKit(t *testing.T, m packet.Manifest) {
	t.Helper()
	for _, key := range jig.Keys() {
		found, seated := 0, 0
		for _, f := range m.Files {
			if strings.HasPrefix(f.Path, "dxf/jig-"+key) {
				found++
				for _, c := range f.Checks {
					if strings.HasPrefix(c.Name, "seat-") {
						seated++
					}
				}
			}
		}
		if found == 0 || !withoutSeats[key] && seated != 4*found {
			t.Errorf("%s: %d drawings, %d figures of seats", key, found, seated)
		}
	}
	for _, want := range []string{"dxf/sheet-jigs-1.dxf", "gcode/jigs-1.nc", "dxf/sheet-splines-1.dxf", "gcode/splines-1.nc",
		"gcode/slot-left.nc", "gcode/slot-right.nc", "gcode/offcut-slot-left.nc", "gcode/offcut-slot-right.nc"} {
		there := false
		for _, f := range m.Files {
			there = there || f.Path == want
		}
		if !there {
			t.Errorf("the packet has no %s", want)
		}
	}
}
