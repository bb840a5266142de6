//go:build reference

package packet

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"starwright/cmd/internal/job"
	"starwright/cmd/internal/mutate"
	"starwright/geom"
	"starwright/post/rs274/ncread"
	"starwright/post/rs274/ncwrite"
	"starwright/toolpath"
)

// agreeTol is by how much an interpreter of another origin may place a move
// otherwise than our reader, mm. It prints four decimals, of inches too, and half
// the last of those is 0.0013 mm.
const agreeTol = 0.002

// canonical is what the interpreter prints of a move.
var (
	canonical = regexp.MustCompile(`(STRAIGHT_TRAVERSE|STRAIGHT_FEED|ARC_FEED)\(([^)]*)\)`)
	lengths   = regexp.MustCompile(`USE_LENGTH_UNITS\(CANON_UNITS_(MM|INCHES)\)`)
)

// interpret runs a program in Debian's rs274 (package linuxcnc-uspace), which goes
// back to the interpreter of the standard and shares nothing with ours. Its moves
// are in mm; err is what it stops with.
func interpret(t *testing.T, dir string, text []byte) (moves []toolpath.Move, err error) {
	t.Helper()
	own, err := os.MkdirTemp(dir, "run")
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(own, "program.ngc")
	if err := os.WriteFile(name, text, 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := runInterpreter(own, name)
	for again := 0; again < 4 && killed(err); again++ {
		out, err = runInterpreter(own, name)
	}
	unit := 1.0
	var at geom.Point3
	for l := range strings.SplitSeq(out, "\n") {
		if m := lengths.FindStringSubmatch(l); m != nil {
			unit = map[string]float64{"MM": 1, "INCHES": geom.MMPerInch}[m[1]]
		}
		m := canonical.FindStringSubmatch(l)
		if m == nil {
			continue
		}
		var v []float64
		for s := range strings.SplitSeq(m[2], ",") {
			n, bad := strconv.ParseFloat(strings.TrimSpace(s), 64)
			if bad != nil {
				t.Fatalf("%q: %v", l, bad)
			}
			v = append(v, n*unit)
		}
		mv := toolpath.Move{From: at, Kind: toolpath.Rapid, To: geom.Point3{X: v[0], Y: v[1], Z: v[2]}}
		switch m[1] {
		case "STRAIGHT_FEED":
			mv.Kind = toolpath.Linear
		case "ARC_FEED": // end, centre, turns, end along the axis
			mv.Kind, mv.Center, mv.To = toolpath.ArcCCW, geom.Pt(v[2], v[3]), geom.Point3{X: v[0], Y: v[1], Z: v[5]}
			if v[4] < 0 {
				mv.Kind = toolpath.ArcCW
			}
		}
		moves, at = append(moves, mv), mv.To
	}
	return moves, err
}

// oneInterpreter lets one of them run at a time: they share memory, and of several
// at once one in sixty ends by a bus error.
var oneInterpreter sync.Mutex

// runInterpreter runs it once; its error holds what it said.
func runInterpreter(dir, name string) (out string, err error) {
	oneInterpreter.Lock()
	defer oneInterpreter.Unlock()
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	run := exec.CommandContext(ctx, "rs274", "-g", name)
	run.Dir = dir
	var text, said bytes.Buffer
	run.Stdout, run.Stderr = &text, &said
	if err = run.Run(); err != nil {
		err = fmt.Errorf("%w: %s", err, strings.ReplaceAll(strings.TrimSpace(said.String()), "\n", "; "))
	}
	return text.String(), err
}

// killed reports whether a program ended by a signal, as it may where libraries
// that it has open are installed anew: that says nothing of what it was reading.
func killed(err error) bool {
	var exit *exec.ExitError
	return errors.As(err, &exit) && exit.ExitCode() < 0
}

// ourMoves are the moves that our reader hands out.
func ourMoves(text []byte) (moves []toolpath.Move, rep ncread.Report) {
	rep, err := ncread.Read(bytes.NewReader(text), "program.nc", ncread.Events{
		Move: func(m *toolpath.Move) error { moves = append(moves, *m); return nil },
	})
	if err != nil {
		panic(err) // nothing else than memory is read
	}
	return moves, rep
}

// partsFrom says where the moves of two readers part; "" where they are the same.
// What the program does before it has given all three axes only the other one
// knows.
func partsFrom(ours, theirs []toolpath.Move) (most float64, what string) {
	first := len(theirs) - len(ours)
	if first < 0 || first > 2 {
		return 0, fmt.Sprintf("%d moves, the interpreter has %d", len(ours), len(theirs))
	}
	for i := range ours {
		a, b := &ours[i], &theirs[first+i]
		if a.Kind != b.Kind {
			return most, fmt.Sprintf("line %d: %v, the interpreter has %v", a.Line, a.Kind, b.Kind)
		}
		by := max(math.Abs(a.To.X-b.To.X), math.Abs(a.To.Y-b.To.Y), math.Abs(a.To.Z-b.To.Z))
		if a.IsArc() {
			by = max(by, math.Abs(a.Center.X-b.Center.X), math.Abs(a.Center.Y-b.Center.Y))
		}
		if most = max(most, by); by > agreeTol {
			return most, fmt.Sprintf("line %d: to %v, the interpreter goes to %v", a.Line, a.To, b.To)
		}
	}
	return most, ""
}

// referencePackets are the jobs of which the interpreter runs every program.
var referencePackets = []struct{ name, source string }{
	{"built in", string(job.BuiltIn())},
	{"inches", "units = \"in\"\n[star]\nboard_width = \"3 1/2 in\"\nthickness = \"3/4 in\"\ncount = 2\n[jigs]\nmake = [\"centre-gauge\"]\n[slot]\ndepth = \"3/8 in\"\n[cutter]\ndiameter = \"1/4 in\"\n"},
	{"eight points, stations and loads", "[star]\npoints = 8\nboard_width = \"90 mm\"\nthickness = \"30 mm\"\ncount = 2\n[slot]\nwidth = \"8 mm\"\nstations = 2\npitch = \"45 mm\"\nloads = 2\n[jigs]\nmake = [\"centre-gauge\"]\n[cutter]\ndiameter = \"6 mm\"\n"},
	{"segments", "[star]\nboard_width = \"80 mm\"\ncount = 1\n[jigs]\nmake = []\n[slot]\nmake = false\n[segments]\ncut = \"cnc\"\n"},
	{"off-cut star", "[star]\nboard_width = \"120 mm\"\ncount = 1\noffcut_star = true\n[jigs]\nmake = []\n"},
}

// Every program of some packets makes the moves in an interpreter of another
// origin that our reader takes it to make.
func TestReferenceInterpreters(t *testing.T) {
	if _, err := exec.LookPath("rs274"); err != nil {
		t.Fatal("no rs274: install linuxcnc-uspace")
	}
	dir := t.TempDir()
	programs, moves, most := 0, 0, 0.0
	for _, j := range referencePackets {
		w, errs := load("job.toml", []byte(j.source))
		if len(errs) > 0 {
			t.Fatalf("%s: %v", j.name, errs)
		}
		for i := range w.Programs {
			g := &w.Programs[i]
			text, err := ncwrite.Bytes(g.Plan, g.UnitMM)
			if err != nil {
				t.Fatal(err)
			}
			theirs, err := interpret(t, dir, text)
			if err != nil {
				t.Errorf("%s, %s: %v", j.name, g.Path, err)
			}
			ours, _ := ourMoves(text)
			by, what := partsFrom(ours, theirs)
			if what != "" {
				t.Errorf("%s, %s: %s", j.name, g.Path, what)
			}
			programs, moves, most = programs+1, moves+len(ours), max(most, by)
		}
	}
	t.Logf("%d programs, %d moves, at most %.4f mm apart", programs, moves, most)
}

// interpreted is of how many kinds of changes one is run by the interpreter.
const interpreted = 6

// refusedThere are kinds of harmless changes that the interpreter refuses by
// limits of its own.
var refusedThere = map[string]string{}

// Of changed programs in which our reader finds no fault of language the
// interpreter makes the very moves, and refuses none.
func TestReferenceInterpretersOfChanges(t *testing.T) {
	w, errs := load("job.toml", []byte(mutationJobs[5].source))
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	dir := t.TempDir()
	for _, g := range []Program{w.Programs[0], mutationPlate(t, w)} {
		text, err := ncwrite.Bytes(g.Plan, g.UnitMM)
		if err != nil {
			t.Fatal(err)
		}
		j := mutationJob(w, &g)
		had := map[string]bool{}
		list := slices.DeleteFunc(slices.Concat(mutate.Rewrites(j, text), mutate.Edits(text, g.UnitMM, 7)), func(c mutate.Change) bool {
			again := had[c.Class]
			had[c.Class] = true
			return again || len(had)%interpreted != 0 || strings.HasPrefix(c.Class, "head: ")
		})
		type said struct {
			refused, passes bool
			fault           string
		}
		answers := make([]said, len(list))
		inParallel(len(list), func(i int) {
			c, a := list[i], &answers[i]
			changed := c.Text()
			theirs, stops := interpret(t, dir, changed)
			ours, rep := ourMoves(changed)
			a.refused = stops != nil
			if a.passes = rep.FindingCount == 0; !a.passes {
				return
			}
			// What has no fault of language makes the same moves everywhere.
			switch _, what := partsFrom(ours, theirs); {
			case stops != nil && refusedThere[c.Class] == "":
				a.fault = fmt.Sprintf("our reader finds no fault, and the interpreter stops: %v", stops)
			case stops == nil && what != "":
				a.fault = what
			}
		})
		refused, passes := 0, 0
		for i, a := range answers {
			if a.refused {
				refused++
			}
			if a.passes {
				passes++
			}
			if a.fault != "" {
				t.Errorf("%s, %s, line %d: %s: %s", g.Path, list[i].Class, list[i].Line, list[i].What, a.fault)
			}
		}
		t.Logf("%s: %d changes, %d of them without a fault of language, %d refused by the interpreter", g.Path, len(list), passes, refused)
	}
}

// Where interpreters of the standard are strict, our reader is: G94 after the feed
// stops them for want of a feed, and lines that end with CR alone run together.
func TestReferenceInterpretersAreStrict(t *testing.T) {
	g, text := turnedJob(t, attackJob)
	lines := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
	cut := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, "G1 X") && !strings.Contains(l, "F") })
	dir := t.TempDir()
	for name, changed := range map[string]string{
		"G94 after the feed": strings.Join(slices.Insert(slices.Clone(lines), cut, "G94"), "\n") + "\n",
		"CR alone":           strings.Join(lines, "\r") + "\r",
	} {
		t.Run(name, func(t *testing.T) {
			theirs, stops := interpret(t, dir, []byte(changed))
			ours, rep := ourMoves([]byte(changed))
			if _, what := partsFrom(ours, theirs); stops == nil && what == "" {
				t.Error("the interpreter makes the moves of the program all the same")
			}
			if rep.FindingCount == 0 {
				t.Errorf("%s: our reader finds no fault", g.Path)
			}
		})
	}
}
