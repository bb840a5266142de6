//go:build mutation || reference

package packet

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"starwright/cmd/internal/mutate"
	"starwright/post/dxf/dxfwrite"
	"starwright/post/rs274/ncwrite"
	"starwright/toolpath/finding"
)

// mutationJobs are the jobs whose files are changed: other units, cutters
// narrower than the slot, stations, loads, other sides of cut, other numbers
// of points.
var mutationJobs = []struct{ name, source string }{
	{"narrow", "[star]\nboard_width = \"100 mm\"\ncount = 1\n"},
	{"inches", `units = "in"
[star]
board_width = "3 1/2 in"
thickness = "3/4 in"
count = 6
offcut_star = true
[jigs]
make = []
[slot]
depth = "3/8 in"
[cutter]
diameter = "1/4 in"
`},
	{"wide slot", "[star]\nboard_width = \"120 mm\"\nthickness = \"30 mm\"\ncount = 2\n[jigs]\nmake = []\n[slot]\nwidth = \"9 mm\"\n[cutter]\ndiameter = \"6 mm\"\n"},
	{"wide slot, climb", "[star]\nboard_width = \"120 mm\"\nthickness = \"30 mm\"\ncount = 2\n[jigs]\nmake = []\n[slot]\nwidth = \"10 mm\"\ndepth = \"9 mm\"\n[cutter]\ndiameter = \"6 mm\"\nside = \"climb\"\n"},
	{"stations and loads", `[star]
board_width = "140 mm"
thickness = "30 mm"
count = 4
[slot]
width = "8 mm"
stations = 2
pitch = "45 mm"
loads = 2
[jigs]
make = []
[cutter]
diameter = "8 mm"
`},
	{"one pass", "[star]\nboard_width = \"90 mm\"\ncount = 2\n[jigs]\nmake = []\n[slot]\ndepth = \"4 mm\"\n[cutter]\ndepth_per_pass = \"5 mm\"\n"},
	{"seven points", "[star]\npoints = 7\nstar_width = \"620 mm\"\ncount = 2\n[jigs]\nmake = []\n"},
	{"arcs", "[star]\nboard_width = \"100 mm\"\ncount = 1\n[jigs]\nmake = []\n[slot]\nmake = false\n[cutter]\narcs = true\n"},
	{"arcs as lines", "[star]\nboard_width = \"100 mm\"\ncount = 1\n[jigs]\nmake = []\n[slot]\nmake = false\n[cutter]\narcs = false\ndiameter = \"6 mm\"\n"},
	{"arcs, inches", "units = \"in\"\n[star]\nboard_width = \"4 in\"\ncount = 1\n[jigs]\nmake = []\n[slot]\nmake = false\n[cutter]\narcs = true\n"},
	{"travel", "[star]\nboard_width = \"110 mm\"\ncount = 3\n[jigs]\nmake = []\n[machine]\ntravel = [\"300 mm\", \"200 mm\", \"60 mm\"]\nsafe_z = \"8 mm\"\n"},
}

// tally is what became of the changes of one class.
type tally struct {
	harmful, found, named int // named: the changed line is among those found
	harmless, passed      int
	either                int
}

// killTable collects tallies by class.
type killTable struct {
	rows  map[string]*tally
	order []string
	bad   []string // survivors and false alarms
}

func (k *killTable) row(class string) *tally {
	if k.rows == nil {
		k.rows = map[string]*tally{}
	}
	if k.rows[class] == nil {
		k.rows[class] = &tally{}
		k.order = append(k.order, class)
	}
	return k.rows[class]
}

// count adds one change with its verdict and its proof.
func (k *killTable) count(file string, c mutate.Change, v mutate.Verdict, why string, p *Proof) {
	t := k.row(c.Class)
	ok := p.OK()
	switch v {
	case mutate.Either:
		t.either++
	case mutate.Harmful:
		t.harmful++
		if !ok {
			t.found++
			if names(p.Findings, c.Line) {
				t.named++
			}
		} else {
			k.bad = append(k.bad, fmt.Sprintf("SURVIVED %s, %s, line %d: %s (harmful: %s)", file, c.Class, c.Line, c.What, why))
		}
	case mutate.Harmless:
		t.harmless++
		if ok {
			t.passed++
		} else {
			k.bad = append(k.bad, fmt.Sprintf("FLAGGED %s, %s, line %d: %s (%s)", file, c.Class, c.Line, c.What, firstFault(p)))
		}
	}
}

// names reports whether a line, or the one that stands in its place, is named.
func names(fs []finding.Finding, line int) bool {
	for _, f := range fs {
		if f.Line == line || line == 0 || strings.Contains(f.What, fmt.Sprintf("line %d", line)) {
			return true
		}
	}
	return false
}

func firstFault(p *Proof) string {
	if len(p.Findings) > 0 {
		return p.Findings[0].String()
	}
	for _, c := range p.Checks {
		if !c.Pass {
			return fmt.Sprintf("%+v", c)
		}
	}
	return ""
}

// String prints the table.
func (k *killTable) String() string {
	var b strings.Builder
	var all tally
	fmt.Fprintf(&b, "%-24s %8s %8s %8s %8s %8s %8s\n", "class", "harmful", "found", "named", "harmless", "passed", "either")
	line := func(name string, t *tally) {
		fmt.Fprintf(&b, "%-24s %8d %8d %8d %8d %8d %8d\n", name, t.harmful, t.found, t.named, t.harmless, t.passed, t.either)
	}
	for _, c := range k.order {
		t := k.rows[c]
		line(c, t)
		all.harmful, all.found, all.named = all.harmful+t.harmful, all.found+t.found, all.named+t.named
		all.harmless, all.passed, all.either = all.harmless+t.harmless, all.passed+t.passed, all.either+t.either
	}
	line("all", &all)
	return b.String()
}

// mutationJob is what the judge of programs knows of a program.
func mutationJob(w *Work, g *Program) *mutate.Job {
	l := g.Task.Limits
	j := &mutate.Job{UnitMM: g.UnitMM, Cutter: g.Task.Cutter, Pass: l.StepDown, Feed: l.Feed, Plunge: l.PlungeFeed,
		RampDeg: l.RampMax.Degrees(), RPMMin: l.RPMMin, RPMMax: l.RPMMax, SpinUp: w.Job.Machine.SpinUp,
		SafeZ: l.SafeZ, Approach: l.Approach, Travel: w.Job.Machine.Travel, Loads: w.Job.Slot.Loads}
	if sh := g.Task.Sheet; sh != nil {
		j.Depth, j.Loads, j.Sheet = sh.Thickness+sh.Breakthrough, 1, mutationSheet(sh)
	}
	for _, p := range g.Task.Pockets {
		b := p.Outline.Bounds()
		j.Depth = p.Depth
		j.Slots = append(j.Slots, mutate.Slot{X0: b.Min.X, X1: b.Max.X, Y0: b.Min.Y, Y1: b.Max.Y})
	}
	return j
}

// mutatePrograms makes the programs of a job, changes each in every way, and
// counts what the proof says of one change in every step; of a sheet, whose
// columns take their time, of about sheetChanges.
func mutatePrograms(t *testing.T, k *killTable, name, source string, step, sheetChanges int) (changes int) {
	t.Helper()
	w, errs := Load(name, []byte(source))
	if len(errs) > 0 {
		t.Fatalf("%s: %v", name, errs)
	}
	programs := w.Programs
	if plate := mutationPlate(t, w); strings.Contains(source, "arcs") {
		programs = append(programs, plate)
	}
	for i := range programs {
		g := &programs[i]
		text, err := ncwrite.Bytes(g.Plan, g.UnitMM)
		if err != nil {
			t.Fatal(err)
		}
		if g.Task.Sheet != nil && bytes.Count(text, []byte("\n")) > longestSheet {
			continue
		}
		j := mutationJob(w, g)
		list := append(mutate.Slips(text, g.UnitMM), mutate.Edits(text, g.UnitMM, 3)...)
		list = append(list, mutate.Change{Class: "unchanged", Text: func() []byte { return text }})
		each := step
		if g.Task.Sheet != nil {
			each = max(each, len(list)/sheetChanges)
		}
		changes += judgeAll(k, name+" "+g.Path, list, each, func(c mutate.Change) (mutate.Verdict, string, *Proof) {
			p := &Proof{Path: g.Path, Text: c.Text()}
			v, why := mutate.JudgeProgram(j, p.Text)
			proveProgram(p, g)
			return v, why, p
		})
	}
	return changes
}

// mutateDrawings is the same for the drawings of a job.
func mutateDrawings(t *testing.T, k *killTable, name, source string, step int) (changes int) {
	t.Helper()
	w, errs := Load(name, []byte(source))
	if len(errs) > 0 {
		t.Fatalf("%s: %v", name, errs)
	}
	for i := range w.Drawings {
		d := &w.Drawings[i]
		text, err := dxfwrite.Bytes(d.Want)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Count(text, []byte("\n")) > longestDrawing {
			continue
		}
		list := append(mutate.DrawingSlips(text), mutate.DrawingEdits(text)...)
		list = append(list, mutate.Change{Class: "unchanged", Text: func() []byte { return text }})
		changes += judgeAll(k, name+" "+d.Path, list, step, func(c mutate.Change) (mutate.Verdict, string, *Proof) {
			p := &Proof{Path: d.Path, Text: c.Text()}
			v, why := mutate.JudgeDrawing(text, p.Text)
			proveDrawing(p, d)
			return v, why, p
		})
	}
	return changes
}

// judgeAll judges one change in every step of a list, and the last.
func judgeAll(k *killTable, file string, list []mutate.Change, step int, judge func(mutate.Change) (mutate.Verdict, string, *Proof)) int {
	type answer struct {
		v   mutate.Verdict
		why string
		p   *Proof
	}
	var picked []mutate.Change
	for i, c := range list {
		if i%step == 0 || i == len(list)-1 {
			picked = append(picked, c)
		}
	}
	answers := make([]answer, len(picked))
	inParallel(len(picked), func(i int) {
		v, why, p := judge(picked[i])
		p.Text, p.Moves, p.Drawing = nil, nil, nil
		answers[i] = answer{v, why, p}
	})
	for i, a := range answers {
		k.count(file, picked[i], a.v, a.why, a.p)
	}
	return len(picked)
}

// Sheets are long and alike: none is changed in files of more lines than these.
const (
	longestSheet   = 360
	longestDrawing = 1000
)

// drawnJobs is how many of the jobs have their drawings changed too: those of
// other jobs differ in nothing but numbers.
const drawnJobs = 2

// A sample of the changes; the whole is run with -tags mutation. The first job
// is left to that: its jigs take their time.
func TestMutationSample(t *testing.T) {
	var k killTable
	n := 0
	for i, j := range mutationJobs[1:] {
		n += mutatePrograms(t, &k, j.name, j.source, 211+i, 4)
	}
	n += mutateDrawings(t, &k, mutationJobs[1].name, mutationJobs[1].source, 61)
	if n < 200 {
		t.Errorf("only %d changes were made", n)
	}
	report(t, &k)
}

// report fails the test for every survivor and every false alarm.
func report(t *testing.T, k *killTable) {
	t.Helper()
	t.Logf("\n%s", k)
	for _, b := range k.bad {
		if why := explained(b); why != "" {
			t.Logf("%s: %s", b, why)
			continue
		}
		t.Error(b)
	}
}

// explained says why a change may survive or be flagged against the judge.
func explained(string) string { return "" }
