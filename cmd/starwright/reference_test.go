//go:build reference

package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"starwright/post/rs274/ncread"
	"starwright/toolpath"
)

// The reference tests hold whole packets against readers that are not part of
// the project: gcode-toolpath replays the programs, ezdxf audits and GDAL reads
// the drawings, shapely recomputes the removed area. They need what .ci/run
// installs and fail, not skip, without it.

// inchJob is a job in inches and fractions, with a star from its off-cuts.
const inchJob = `units = "in"
[star]
board_width = "3 1/2 in"
thickness = "3/4 in"
count = 6
offcut_star = true
[slot]
depth = "3/8 in"
[cutter]
diameter = "1/4 in"
`

// orderJob is an order of three sizes, one with stars from its off-cuts and one of
// two woods.
const orderJob = `[[star]]
name = "small"
board_width = "60 mm"
count = 6
[[star]]
name = "middle-60"
board_width = "96 mm"
count = 4
offcut_star = true
[star.slot]
depth = "8 mm"
[[star]]
name = "large"
board_width = "140 mm"
count = 2
hang_hole = "6 mm"
woods = ["walnut", "hard maple"]
[wood]
species = "hard maple"
mc_now = 10
mc_service = 7
[sheet]
width = "600 mm"
height = "500 mm"
[stock]
trim = "10 mm"
board_width = "150 mm"
boards = [{ length = "2.4 m", count = 2 }, { length = "1.8 m", width = "100 mm", count = 3, bad = [["400 mm", "450 mm"]] }, "1.2 m"]
[yard]
boards = ["2.4 m", { length = "3 m", width = "200 mm" }]
[cost]
currency = "EUR"
hour = 38
machine_hour = 6
wood = 4.20
sheet = 9
glue = 11
finish = 2.50
cutter = 24
cutter_hours = 15
fees = 8
margin = 20
`

// referenceJobs are the jobs of the packets: built-in, inches with
// fractions, other numbers of points, a large batch, wide slots and stations.
var referenceJobs = map[string]string{
	"order":        orderJob,
	"built-in":     "",
	"smallest":     "[star]\nboard_width = \"100 mm\"\ncount = 1\n",
	"inches":       inchJob,
	"four points":  "[star]\npoints = 4\ntip = \"45 deg\"\nboard_width = \"110 mm\"\ncount = 3\n",
	"six points":   "[star]\npoints = 6\nboard_width = \"90 mm\"\ncount = 3\noffcut_star = true\nhang_hole = \"6 mm\"\noffcut_hang_hole = \"4 mm\"\n[jigs]\nmake = [\"drill-guide\", \"slot-stand\", \"angle-block\"]\n",
	"seven points": "[star]\npoints = 7\nstar_width = \"620 mm\"\ncount = 2\n",
	"two woods":    "[star]\npoints = 6\nboard_width = \"90 mm\"\ncount = 2\noffcut_star = true\nwoods = [\"walnut\", \"hard maple\"]\nhalves = \"mirrored\"\n[yard]\nboards = [\"2.4 m\"]\n",
	"back plates":  "[star]\nboard_width = \"114 mm\"\ncount = 3\noffcut_star = true\njoint = \"plate\"\n",
	"segments on the CNC": `[star]
board_width = "100 mm"
count = 3
[segments]
cut = "cnc"
[machine]
travel = ["700 mm", "400 mm", "90 mm"]
[stock]
trim = "10 mm"
boards = [{ length = "1.2 m", width = "220 mm", bad = [["500 mm", "540 mm"]] }, { length = "1.8 m", width = "160 mm", count = 2 }]
`,
	"twelve points": "[star]\npoints = 12\nboard_width = \"80 mm\"\ncount = 2\n",
	"forty stars":   "[star]\nboard_width = \"4 in\"\ncount = 40\noffcut_star = true\n",
	"wide slot, stations": `[star]
board_width = "140 mm"
thickness = "30 mm"
count = 4
[slot]
width = "9 mm"
stations = 3
pitch = "45 mm"
loads = 2
[cutter]
diameter = "6 mm"
`,
}

// outsideMoves replays programs with gcode-toolpath and returns its output.
func outsideMoves(t *testing.T, files []string) []byte {
	t.Helper()
	cmd := exec.Command("node", append([]string{"../../.ci/replay.cjs"}, files...)...)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("gcode-toolpath: %v", err)
	}
	return out
}

func TestReferencePackets(t *testing.T) {
	for name, source := range referenceJobs {
		t.Run(name, func(t *testing.T) { referencePacket(t, source) })
	}
}

// referencePacket makes one packet and has everybody read it.
func referencePacket(t *testing.T, source string) {
	dir := t.TempDir()
	packet := filepath.Join(dir, "packet")
	var job []string
	if source != "" {
		file := filepath.Join(dir, "job.toml")
		if err := os.WriteFile(file, []byte(source), 0o644); err != nil {
			t.Fatal(err)
		}
		job = []string{file}
	}
	mustRun(t, append([]string{"make", "-o", packet}, job...)...)
	plan := mustRun(t, append([]string{"plan", "--json"}, job...)...)
	programs, err := filepath.Glob(filepath.Join(packet, "gcode", "*.nc"))
	if err != nil || len(programs) == 0 {
		t.Fatalf("no programs in the packet: %v", err)
	}
	moves := outsideMoves(t, programs)
	compareMoves(t, moves)

	outsideReaders(t, dir, packet, plan, moves)
}

// outsideReaders holds a packet against its plan and the outside moves of its
// programs, all by other readers, and returns what they say. dir is for files
// on the way.
func outsideReaders(t *testing.T, dir, packet string, plan, moves []byte) string {
	t.Helper()
	planFile, movesFile := filepath.Join(dir, "plan.json"), filepath.Join(dir, "moves.jsonl")
	for file, data := range map[string][]byte{planFile: plan, movesFile: moves} {
		if err := os.WriteFile(file, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	out, err := exec.Command("/usr/bin/python3", "../../.ci/outside.py", packet, planFile, movesFile).CombinedOutput()
	t.Logf("%s", out)
	if err != nil {
		t.Errorf("outside readers: %v", err)
	}
	return string(out)
}

func mustRun(t *testing.T, args ...string) []byte {
	t.Helper()
	var out, errOut bytes.Buffer
	if status := run(args, nil, &out, &errOut); status != 0 {
		t.Fatalf("starwright %v: exit %d\n%s", args, status, errOut.String())
	}
	return out.Bytes()
}

// compareMoves holds the moves of an outside reader against our own reader's.
func compareMoves(t *testing.T, jsonl []byte) {
	t.Helper()
	sc := bufio.NewScanner(bytes.NewReader(jsonl))
	sc.Buffer(nil, 1<<30)
	for sc.Scan() {
		var d struct {
			File  string
			Moves [][]any
		}
		if err := json.Unmarshal(sc.Bytes(), &d); err != nil {
			t.Fatal(err)
		}
		ours := readMoves(t, d.File)
		// Before X and Y are known the first rise to the safe height has no
		// place; gcode-toolpath supposes 0, 0 and counts it.
		first := len(d.Moves) - len(ours)
		if first != 1 || len(ours) == 0 {
			t.Errorf("%s: gcode-toolpath sees %d moves, we %d", d.File, len(d.Moves), len(ours))
			continue
		}
		for i, m := range ours {
			if why := differ(m, d.Moves[first+i], i > 0); why != "" {
				t.Errorf("%s:%d: move %d: %s", d.File, m.Line, i, why)
			}
		}
	}
	if err := sc.Err(); err != nil {
		t.Fatal(err)
	}
}

func readMoves(t *testing.T, file string) []toolpath.Move {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var out []toolpath.Move
	if _, err := ncread.Read(f, file, ncread.Events{Move: func(m *toolpath.Move) error {
		out = append(out, *m)
		return nil
	}}); err != nil {
		t.Fatal(err)
	}
	return out
}

// differ says how two readings of a move differ, by more than 0.001 mm.
func differ(m toolpath.Move, o []any, known bool) string {
	const tol = 0.001
	num := func(i int) float64 { v, _ := o[i].(float64); return v }
	if o[0] != m.Kind.String() {
		return fmt.Sprintf("motion %v, ours %v", o[0], m.Kind)
	}
	pairs := [][2]float64{{num(4), m.To.X}, {num(5), m.To.Y}, {num(6), m.To.Z}}
	if known {
		pairs = append(pairs, [][2]float64{{num(1), m.From.X}, {num(2), m.From.Y}, {num(3), m.From.Z}}...)
	}
	if m.IsArc() {
		pairs = append(pairs, [][2]float64{{num(7), m.Center.X}, {num(8), m.Center.Y}}...)
	}
	for _, p := range pairs {
		if math.Abs(p[0]-p[1]) > tol {
			return fmt.Sprintf("outside %v, ours %+v", o, m)
		}
	}
	return ""
}
