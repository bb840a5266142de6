package packet

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/post/rs274/ncwrite"
	"starwright/toolpath"
	"starwright/toolpath/finding"
)

const parkJob = "units = \"mm\"\n[star]\nboard_width = \"100 mm\"\ncount = 6\n[jigs]\nmake = []\n[slot]\nstations = 2\nloads = 2\npitch = \"30 mm\"\n[machine]\n"

// At the stops and at the end the cutter is off the work, on the side that the job
// names, within the machine's travel: stations stand at Y 0 to 19 and 30 to 49, the
// facet is 85.07 mm long, 20 mm beyond it is parked.
func TestPark(t *testing.T) {
	const travel = "travel = [\"200 mm\", \"125 mm\", \"90 mm\"]\nroom = \"300 mm\"\n"
	for _, row := range []struct {
		keys string
		off  func(geom.Point) bool
	}{
		{"", func(p geom.Point) bool { return p.Y == 49+20 }},
		{"park = \"back\"\n" + travel, func(p geom.Point) bool { return p.Y == 9.5+125 }},
		{"park = \"front\"\n", func(p geom.Point) bool { return p.Y == -20 }},
		{"park = \"left\"\n", func(p geom.Point) bool { return p.X == -20 }},
		{"park = \"right\"\n", func(p geom.Point) bool { return p.X > 85.06+20 && p.X < 85.07+20 }},
		{"park = \"up\"\n", func(p geom.Point) bool { return p.Y == 39.5 }},
	} {
		t.Run(row.keys, func(t *testing.T) {
			source := parkJob + row.keys
			if strings.Contains(source, "travel") { // four stations, the last to Y 139
				source = strings.Replace(source, "stations = 2\nloads = 2\npitch = \"30 mm\"", "stations = 4\nloads = 2\npitch = \"40 mm\"", 1)
			}
			g, text := turnedJob(t, source)
			left := 0
			for i, s := range g.Plan.Steps {
				if s.Do == toolpath.StepStop || i == len(g.Plan.Steps)-1 {
					at := i - 1
					if s.Do != toolpath.StepStop {
						at = i
					}
					if p := g.Plan.Steps[at].To; p.Z < 10 || !row.off(p.XY()) {
						t.Errorf("left at %v", p)
					}
					left++
				}
			}
			if p := proveEdited(g, text, text); left != 2 || !p.OK() {
				t.Errorf("%d times left; %v", left, p.Findings)
			}
		})
	}
}

// A jog of the machine during the stop changes nothing, for each axis is stated
// again, Z first; and what does not is found, as is a cutter left over the work.
func TestStopsAreSafe(t *testing.T) {
	g, text := turnedJob(t, parkJob)
	lines := strings.Split(string(text), "\n")
	stop := slices.Index(lines, "M0")
	if lines[stop+1] != "G0 Z10.0" || !strings.HasPrefix(lines[stop+5], "G0 X") || !strings.Contains(lines[stop+5], " Y") {
		t.Fatalf("after the stop:\n%s", strings.Join(lines[stop:stop+7], "\n"))
	}
	for name, edit := range map[string]func([]string) []string{
		"sub-stop-place: the height":      func(s []string) []string { return slices.Delete(s, stop+1, stop+2) },
		"sub-stop-place: Y":               func(s []string) []string { s[stop+5], _, _ = strings.Cut(s[stop+5], " Y"); return s },
		"park: at the stop":               func(s []string) []string { return slices.Delete(s, stop-3, stop-2) },
		"park: at the end":                func(s []string) []string { return slices.Delete(s, len(s)-4, len(s)-3) },
		"park: at the end, nearer":        func(s []string) []string { s[len(s)-4] = "G0 Y60.0"; return s },
		"loads: the stop and all with it": func(s []string) []string { return slices.Delete(s, stop, stop+1) },
	} {
		edited := strings.Join(edit(slices.Clone(lines)), "\n")
		rule, _, _ := strings.Cut(name, ":")
		if p := proveEdited(g, text, []byte(edited)); !slices.ContainsFunc(p.Findings, func(f finding.Finding) bool { return f.Rule == rule }) {
			t.Errorf("%s is left out: %v", name, p.Findings)
		}
	}
}

// Screws are no farther apart than thin plywood asks for, whatever the sheet's
// size, and the proof has no cut in their squares.
func TestScrewsOfAnySheet(t *testing.T) {
	for _, size := range []struct{ w, h, screws int }{{300, 300, 4}, {500, 400, 4}, {700, 400, 6}, {1000, 800, 9}, {1200, 1200, 16}} {
		w, errs := load("job.toml", fmt.Appendf(nil, "[star]\nboard_width = \"100 mm\"\ncount = 1\n[jigs]\nmake = [\"tip-gauge\"]\n[slot]\nmake = false\n[sheet]\nwidth = %d\nheight = %d\n", size.w, size.h))
		if len(errs) > 0 {
			t.Fatal(errs)
		}
		g := &w.Programs[0]
		if n := len(g.Task.Sheet.Keepouts); n != size.screws {
			t.Errorf("%d by %d mm: %d screws, want %d", size.w, size.h, n, size.screws)
		}
		text, err := ncwrite.Bytes(g.Plan, g.UnitMM)
		if err != nil {
			t.Fatal(err)
		}
		if p := proveEdited(g, text, text); !p.OK() {
			t.Errorf("%d by %d mm: %v", size.w, size.h, p.Findings)
		}
		head := strings.Join(g.Plan.Header, "\n")
		if !strings.Contains(head, "Clamps: lower than 10 mm over the sheet's top") || strings.Contains(head, "More screws") != (size.screws > 4) {
			t.Errorf("%d by %d mm: %s", size.w, size.h, head)
		}
	}
}

// Without places for screws the head says how the sheet is held.
func TestSheetWithoutScrews(t *testing.T) {
	w, errs := load("job.toml", []byte("[star]\nboard_width = \"100 mm\"\ncount = 1\n[jigs]\nmake = [\"tip-gauge\"]\n[slot]\nmake = false\n[sheet]\nscrew_zones = false\n"))
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	head := strings.Join(w.Programs[0].Plan.Header, "\n")
	if strings.Contains(head, "Screws:") || !strings.Contains(head, "Hold: no place is kept free for screws, use tape or a vacuum") {
		t.Error(head)
	}
}

// With one load as with several the cutter is off the work wherever the program
// waits or ends: it stops once less than it is loaded, and ends parked at the same
// place.
func TestParkWithOneLoad(t *testing.T) {
	for loads := 1; loads <= 3; loads++ {
		g, text := turnedJob(t, strings.Replace(parkJob, "loads = 2", fmt.Sprintf("loads = %d", loads), 1))
		stops := 0
		for i, s := range g.Plan.Steps {
			last := i == len(g.Plan.Steps)-1
			if s.Do != toolpath.StepStop && !last {
				continue
			}
			at := s.To
			if !last {
				stops, at = stops+1, g.Plan.Steps[i-1].To
			}
			if at.Y != 49+20 || at.Z < 10 { // 20 mm beyond the second station, as above
				t.Errorf("%d loads: left at %v", loads, at)
			}
		}
		if p := proveEdited(g, text, text); stops != loads-1 || strings.Count(string(text), "\nM0\n") != stops || !p.OK() {
			t.Errorf("%d loads: %d stops; %v", loads, stops, p.Findings)
		}
	}
}
