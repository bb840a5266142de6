package backplot_test

import (
	"slices"
	"testing"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/backplot"
	"starwright/toolpath/finding"
)

// judge replays moves with other bounds of the work than usual.
func judge(t backplot.Task, ms []toolpath.Move, free, perMove, beyond int) backplot.Result {
	r := backplot.New(t)
	r.Bound(free, perMove, beyond)
	for i := range ms {
		r.Move(&ms[i])
	}
	return r.Finish()
}

func rules(r backplot.Result) (out []string) {
	for _, f := range r.Findings {
		out = append(out, f.Rule)
	}
	return out
}

// However small the bounds of the work, no program passes that a full look
// refuses, and none that passes is refused for anything but the bound.
func TestBoundsNeverPassFaults(t *testing.T) {
	j := slotJob()
	j.Width = 8
	clean := moves(t, j)
	refused, passed := 0, 0
	for i := -1; i < len(clean); i++ {
		ms := slices.Clone(clean)
		if i >= 0 {
			ms[i].To.X += 0.15
			if i+1 < len(ms) {
				ms[i+1].From = ms[i].To
			}
		}
		full := backplot.Judge(task(j), ms)
		for _, b := range [][3]int{{0, 0, 0}, {20, 0, 0}, {200, 0, 1}, {0, 1, 0}, {1 << 30, 0, 0}} {
			r := judge(task(j), ms, b[0], b[1], b[2])
			switch {
			case !full.OK() && r.OK():
				t.Errorf("move %d moved: passes with the bounds %v, a full look finds %v", i, b, rules(full))
			case full.OK() && !r.OK() && !slices.Equal(rules(r), []string{"tangle"}):
				t.Errorf("move %d moved: %v with the bounds %v, a full look finds nothing", i, rules(r), b)
			case full.OK():
				passed++
			default:
				refused++
			}
		}
	}
	if refused == 0 || passed == 0 {
		t.Errorf("%d refused, %d passed: both were wanted", refused, passed)
	}
}

// A program that asks for more work than the bound gets one finding, at the
// line where the bound was met, and nothing is claimed of the wood after it.
func TestTangle(t *testing.T) {
	task := rasterTask()
	task.Sheet.Parts = []backplot.Part{{Name: "never cut", Outline: geom.Rect(geom.Box{Min: geom.Pt(400, 400), Max: geom.Pt(450, 450)})}}
	var ms []toolpath.Move
	raster(2000, 0.5, func(m *toolpath.Move) { ms = append(ms, *m) })
	r := judge(task, ms, 5000, 0, 0)
	at := slices.IndexFunc(r.Findings, func(f finding.Finding) bool { return f.Rule == "tangle" })
	if at < 0 || r.OK() {
		t.Fatalf("no tangle: %v", rules(r))
	}
	line := r.Findings[at].Line
	if line <= 1 || line >= len(ms) {
		t.Errorf("the tangle is said to be at line %d", line)
	}
	for _, f := range r.Findings {
		if f.Rule == "standing" || f.Rule == "tab-count" || f.Rule == "bite" && f.Line > line || f.Rule == "tangle" && f.Line != line {
			t.Errorf("after the bound: %s", f)
		}
	}
	if full := judge(task, ms, 1<<40, 0, 0); slices.Contains(rules(full), "tangle") || !slices.Contains(rules(full), "standing") {
		t.Errorf("without a bound: %v", rules(full))
	}
}

// gouges goes to and fro across the side of the slot, n times, each time by a
// way of its own, and then again deeper along the first one.
func gouges(n int, last float64) []toolpath.Move {
	var ms []toolpath.Move
	p := pen{at: geom.Point3{X: 30, Y: 9.5, Z: 10}, emit: func(m *toolpath.Move) { ms = append(ms, *m) }}
	p.to(toolpath.Rapid, 30, 9.5, 10)
	for i := range n {
		x := 30 + float64(i)*0.02
		p.to(toolpath.Linear, x, 9.5, -0.5)
		p.to(toolpath.Linear, x, 10.5, -0.5)
		p.to(toolpath.Linear, x, 9.5, -0.5)
	}
	p.to(toolpath.Linear, 30, 9.5, -0.5)
	p.to(toolpath.Linear, 30, 9.5, last)
	p.to(toolpath.Linear, 30, 10.5, last)
	return ms
}

// A cut that repeats one at fault is not measured without end, but one that
// goes deeper always is.
func TestRepeatedFault(t *testing.T) {
	ms := gouges(1, -0.5)
	for range 50 { // the very same way
		ms = append(ms, ms[2], ms[3])
	}
	r := judge(task(slotJob()), ms, 1<<40, 0, 3)
	if got := rules(r); r.OK() || !slices.Contains(got, "gouge") {
		t.Errorf("%v, want a gouge", got)
	}
	deep := judge(task(slotJob()), gouges(1, -10.5), 1<<40, 0, 0)
	if got := rules(deep); !slices.Contains(got, "floor") {
		t.Errorf("%v: the same way below the floor was not looked at", got)
	}
}

// Beyond the findings that are kept faults are counted on, and how deep they
// go is measured, for as many cuts as the bound says.
func TestMoreThanMaxFindings(t *testing.T) {
	const n = backplot.MaxFindings + 200
	ms := gouges(n, -10.5)
	for _, row := range []struct {
		beyond  int
		deepest bool
	}{{0, false}, {1 << 20, true}} {
		r := judge(task(slotJob()), ms, 1<<40, 0, row.beyond)
		if r.OK() || len(r.Findings) != backplot.MaxFindings || r.Count < backplot.MaxFindings {
			t.Fatalf("%d findings kept of %d, passes: %v", len(r.Findings), r.Count, r.OK())
		}
		for _, c := range r.Checks {
			// The last cuts go 0.5 mm below the floor of 10 mm.
			if c.Name == "cut below floor" && (c.Value > 0.49) != row.deepest {
				t.Errorf("with %d cuts beyond: %+v", row.beyond, c)
			}
		}
		if row.deepest && r.Count < n {
			t.Errorf("%d faults counted of at least %d", r.Count, n)
		}
	}
}

// A tab that is cut through is laid at the line that did it, where the task
// says where the tabs are to stand.
func TestLostTabLine(t *testing.T) {
	j := plateJob()
	clean := sheetMoves(t, j)
	top, low := -j.Thickness+j.Tabs.Height, -j.Thickness-j.Breakthrough
	// The level moves over the tabs are the only ones between top and 0.1 above.
	over := func(m *toolpath.Move) bool {
		return m.From.Z == m.To.Z && m.To.Z >= top-0.001 && m.To.Z < top+0.1 && m.Length() > j.Tabs.Width
	}
	var at []geom.Point
	for i := range clean {
		if over(&clean[i]) {
			at = append(at, clean[i].From.XY().Lerp(clean[i].To.XY(), 0.5))
		}
	}
	if len(at) != j.Tabs.Count {
		t.Fatalf("%d moves over tabs in the plan, want %d", len(at), j.Tabs.Count)
	}
	tab := 0
	for i := range clean {
		if !over(&clean[i]) {
			continue
		}
		ms := slices.Clone(clean)
		ms[i].From.Z, ms[i].To.Z = low, low
		ms[i-1].To.Z, ms[i+1].From.Z = low, low
		for _, known := range []bool{true, false} {
			task := sheetTask(j)
			if known {
				task.Sheet.Parts[0].TabsAt = at
			}
			r := backplot.Judge(task, ms)
			k := slices.IndexFunc(r.Findings, func(f finding.Finding) bool { return f.Rule == "tab-count" })
			if k < 0 || r.OK() {
				t.Fatalf("tab %d cut through: %v", tab+1, rules(r))
			}
			f := r.Findings[k]
			switch {
			case !known && f.Line != 0:
				t.Errorf("tab %d, place not known: line %d is named", tab+1, f.Line)
			case known && f.Line != ms[i].Line && f.Line != ms[i-1].Line && f.Line != ms[i+1].Line:
				t.Errorf("tab %d: line %d is named, the cut through it is line %d", tab+1, f.Line, ms[i].Line)
			case known && f.At.XY().Dist(at[tab]) > 1e-9:
				t.Errorf("tab %d: said to be at %v, want %v", tab+1, f.At, at[tab])
			}
		}
		tab++
	}
}
