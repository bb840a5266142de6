package packet

import (
	"bytes"
	"fmt"
	"hash/fnv"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"starwright/cmd/internal/mutate"
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
depth_per_pass = "3 mm"
feed = "1200 mm/min"
plunge_feed = "300 mm/min"
spindle_rpm = 18000
`},
	{"one pass", "[star]\nboard_width = \"90 mm\"\ncount = 2\n[jigs]\nmake = []\n[slot]\ndepth = \"4 mm\"\n[cutter]\ndepth_per_pass = \"5 mm\"\n"},
	{"seven points", "[star]\npoints = 7\nstar_width = \"620 mm\"\ncount = 2\n[jigs]\nmake = []\n"},
	{"arcs", "[star]\nboard_width = \"100 mm\"\ncount = 1\n[jigs]\nmake = []\n[slot]\nmake = false\n[cutter]\narcs = true\n"},
	{"arcs as lines", "[star]\nboard_width = \"100 mm\"\ncount = 1\n[jigs]\nmake = []\n[slot]\nmake = false\n[cutter]\narcs = false\ndiameter = \"6 mm\"\n"},
	{"arcs, inches", "units = \"in\"\n[star]\nboard_width = \"4 in\"\ncount = 1\n[jigs]\nmake = []\n[slot]\nmake = false\n[cutter]\narcs = true\n"},
	{"travel", "[star]\nboard_width = \"110 mm\"\ncount = 3\n[jigs]\nmake = []\n[machine]\ntravel = [\"300 mm\", \"200 mm\", \"60 mm\"]\nsafe_z = \"8 mm\"\n"},
	{"segments", "[star]\nboard_width = \"60 mm\"\ncount = 1\n[jigs]\nmake = []\n[slot]\nmake = false\n[segments]\ncut = \"cnc\"\nlongest = \"320 mm\"\n"},
}

// mutationJob is what the judge of programs knows of a program.
func mutationJob(w *Work, g *Program) *mutate.Brief {
	l := g.Task.Limits
	j := &mutate.Brief{UnitMM: g.UnitMM, Cutter: g.Task.Cutter, Pass: l.StepDown, Feed: l.Feed, Plunge: l.PlungeFeed,
		RampDeg: l.RampMax.Degrees(), RPMMin: l.RPMMin, RPMMax: l.RPMMax, SpinUp: w.Job.Machine.SpinUp,
		SafeZ: l.SafeZ, Approach: l.Approach, Travel: w.Job.Machine.Travel, Loads: w.Job.Slot.Loads, Climb: w.Job.Cutter.Climb, Accel: l.Accel}
	if sh := g.Task.Sheet; sh != nil {
		j.Depth, j.Loads, j.Sheet = sh.Thickness+sh.Breakthrough, 1, mutationSheet(sh)
	}
	if p := g.Task.Park; p != nil {
		j.Park = &mutate.Park{Axis: p.Axis, To: p.To, Back: p.Back}
	}
	for _, b := range g.Task.Over {
		j.Over = append(j.Over, [4]float64{b.Min.X, b.Min.Y, b.Max.X, b.Max.Y})
	}
	for _, p := range g.Task.Pockets {
		b := p.Outline.Bounds()
		j.Depth = p.Depth
		j.Slots = append(j.Slots, mutate.Slot{X0: b.Min.X, X1: b.Max.X, Y0: b.Min.Y, Y1: b.Max.Y})
	}
	return j
}

// sampler picks changes from the lists of files.
type sampler struct {
	seed   uint64
	one    int // of so many changes of a list is judged, by chance; all where 1
	each   int // of a slot program or drawing at most so many of a kind; all where 0
	sheets int // at most about so many of a sheet, whose columns take their time
	long   int // only sheets too long for the rest are changed, about so many times each
}

// pick returns the changes of a file's list that are judged, the last, which
// changes nothing, among them.
func (s sampler) pick(file string, list []mutate.Change, sheet bool) []mutate.Change {
	one := max(1, s.one)
	if sheet && s.long > 0 {
		one = max(one, len(list)/s.long)
	} else if sheet {
		one = max(one, len(list)/s.sheets)
	}
	name := fnv.New64a()
	name.Write([]byte(file))
	chance := rand.New(rand.NewPCG(s.seed, name.Sum64()))
	var out []mutate.Change
	had := map[string]int{}
	for _, i := range chance.Perm(len(list) - 1) {
		c := list[i]
		if chance.IntN(one) == 0 && (s.each == 0 || had[c.Class] < s.each) {
			had[c.Class]++
			out = append(out, c)
		}
	}
	return append(out, list[len(list)-1])
}

// mutatePrograms makes the programs of a job, changes each in the ways that
// are picked, and counts what the proof says.
func mutatePrograms(t *testing.T, k *killTable, name, source string, s sampler) (changes int) {
	t.Helper()
	w, errs := load(name, []byte(source))
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
		long := g.Task.Sheet != nil && bytes.Count(text, []byte("\n")) > longestSheet
		if long != (s.long > 0) {
			continue
		}
		j := mutationJob(w, g)
		list := slices.Concat(mutate.Slips(text, g.UnitMM), mutate.Edits(text, g.UnitMM, 3), mutate.Rewrites(j, text))
		list = append(list, mutate.Change{Class: "unchanged", Text: func() []byte { return text }})
		file := name + " " + g.Path
		picked := s.pick(file, list, g.Task.Sheet != nil)
		judgePrograms(k, file, j, g, text, picked)
		changes += len(picked)
	}
	return changes
}

// judgePrograms judges changes to a program and counts the answers.
func judgePrograms(k *killTable, file string, j *mutate.Brief, g *Program, text []byte, picked []mutate.Change) {
	wood, turned := make([]answer, len(picked)), make([]answer, len(picked))
	inParallel(len(picked), func(i int) { wood[i], turned[i] = judgeProgram(j, g, text, picked[i]) })
	for i, c := range picked {
		k.count(&k.wood, file, c, wood[i])
		k.count(&k.turned, file, c, turned[i])
	}
}

// judgeProgram judges one change by what it does to the wood, before the proof
// has seen the released program, and then by that.
func judgeProgram(j *mutate.Brief, g *Program, released []byte, c mutate.Change) (wood, turned answer) {
	p := &Proof{Path: g.Path, Text: c.Text()}
	wood.v, wood.why = mutate.JudgeProgram(j, p.Text)
	if v, why := mutate.JudgeHead(released, p.Text); v > wood.v {
		wood.v, wood.why = v, why
	}
	proveProgram(p, g)
	wood.ok, wood.fault = p.OK(), firstFault(p)
	p.against(released, g)
	wood.named = names(p.Findings, c.Line)
	wood.lead = true
	wood.first, wood.says = leads(p, c.Line)
	if !wood.ok {
		wood.fault = firstFault(p)
	}
	v, line := mutate.JudgeTurned(released, p.Text)
	turned = answer{v, fmt.Sprintf("line %d", line), p.OK(), wood.named, true, wood.first, wood.says, firstFault(p)}
	if v == mutate.Harmless { // it may be at fault for other reasons
		turned.ok = !slices.ContainsFunc(p.Findings, func(f finding.Finding) bool { return f.Rule == "turned" })
	}
	return wood, turned
}

// Sheets are long and alike: files of more lines than these are left to the long
// sheets of the whole, a drawing altogether.
const (
	longestSheet   = 360
	longestDrawing = 1000
)

// A sample of the changes by chance; the whole is run with -tags mutation. The
// first job is left to that: its jigs take their time.
func TestMutationSample(t *testing.T) {
	seed := mutationSeed(t)
	var k killTable
	n := 0
	for _, j := range mutationJobs[1:] {
		n += mutatePrograms(t, &k, j.name, j.source, sampler{seed: seed, one: 300, sheets: 2})
	}
	n += mutateDrawings(t, &k, mutationJobs[1].name, mutationJobs[1].source, sampler{seed: seed, one: 100})
	if n < 100 {
		t.Errorf("only %d changes were made", n)
	}
	report(t, &k)
}

// Every kind of rewriting once, in a slot program, and what only sheets and arcs
// have in that of a plate.
func TestMutationKinds(t *testing.T) {
	w, errs := load("job.toml", []byte(mutationJobs[5].source))
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	var k killTable
	for _, g := range []Program{w.Programs[0], mutationPlate(t, w)} {
		text, err := ncwrite.Bytes(g.Plan, g.UnitMM)
		if err != nil {
			t.Fatal(err)
		}
		j := mutationJob(w, &g)
		had := map[string]bool{}
		once := slices.DeleteFunc(mutate.Rewrites(j, text), func(c mutate.Change) bool {
			again := had[c.Class] || k.wood.rows[c.Class] != nil
			had[c.Class] = true
			return again
		})
		judgePrograms(&k, g.Path, j, &g, text, once)
	}
	if n := len(k.wood.rows); n < 800 {
		t.Errorf("only %d kinds", n)
	}
	report(t, &k)
}

// mutationSeed is the same each time, unless STARWRIGHT_SEED gives another.
func mutationSeed(t *testing.T) uint64 {
	t.Helper()
	seed := uint64(1)
	if s := os.Getenv("STARWRIGHT_SEED"); s != "" {
		var err error
		if seed, err = strconv.ParseUint(s, 10, 64); err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("STARWRIGHT_SEED=%d", seed)
	return seed
}
