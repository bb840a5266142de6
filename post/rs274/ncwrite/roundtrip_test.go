package ncwrite_test

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"testing"

	"starwright/geom"
	"starwright/post/rs274/ncread"
	"starwright/post/rs274/ncwrite"
	"starwright/toolpath"
	"starwright/toolpath/finding"

	"pgregory.net/rapid"
)

const rpm, spinUp, safeZ = 18000, 2.5, 10

// planned draws a program such as a planner makes: rapids above the work,
// cuts and arcs in it, a lift before every rapid, stops between.
func planned(t *rapid.T) toolpath.Program {
	mm := func(label string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
	here := geom.Point3{X: mm("x", -200, 400), Y: mm("y", -200, 400), Z: safeZ}
	p := toolpath.Program{Name: "t", Header: []string{rapid.String().Draw(t, "header")}, RPM: rpm, SpinUpS: spinUp, SafeZ: safeZ}
	add := func(s toolpath.Step) {
		p.Steps = append(p.Steps, s)
		if s.Do == toolpath.StepMove {
			here = s.To
		}
	}
	lift := func() { add(toolpath.RapidTo(geom.Point3{X: here.X, Y: here.Y, Z: safeZ})) }
	add(toolpath.RapidTo(here))
	for range rapid.IntRange(0, 15).Draw(t, "steps") {
		feed := mm("feed", 1, 5000)
		switch rapid.IntRange(0, 6).Draw(t, "what") {
		case 0:
			lift()
			add(toolpath.RapidTo(geom.Point3{X: mm("x", -200, 400), Y: mm("y", -200, 400), Z: safeZ}))
		case 1:
			add(toolpath.FeedTo(geom.Point3{X: here.X, Y: here.Y, Z: mm("z", -20, 0)}, feed))
		case 2:
			add(toolpath.FeedTo(geom.Point3{X: mm("x", -200, 400), Y: mm("y", -200, 400), Z: here.Z}, feed))
		case 3, 4:
			add(arcFrom(t, here, feed))
		case 5:
			lift()
			add(toolpath.Pause(rapid.String().Draw(t, "why")))
			add(toolpath.RapidTo(here))
		case 6:
			add(toolpath.Remark(rapid.String().Draw(t, "remark")))
		}
	}
	lift()
	return p
}

// arcFrom draws an arc from a place: any radius from a shaving to a large
// circle, any sweep up to the full one.
func arcFrom(t *rapid.T, a geom.Point3, feed float64) toolpath.Step {
	r := math.Pow(10, rapid.Float64Range(-2, 3).Draw(t, "log r"))
	start := geom.Deg(rapid.Float64Range(0, 360).Draw(t, "start"))
	sweep := geom.Deg(rapid.SampledFrom([]float64{360, 180, 90, rapid.Float64Range(1, 350).Draw(t, "sweep")}).Draw(t, "turn"))
	if float64(sweep)*r < 0.01 { // shorter ones have a test of their own
		sweep = 360 * geom.Degree
	}
	kind := toolpath.ArcCCW
	if rapid.Bool().Draw(t, "clockwise") {
		kind, sweep = toolpath.ArcCW, -sweep
	}
	o := a.XY().Sub(geom.Polar(r, start))
	e := o.Add(geom.Polar(r, start+sweep))
	if math.Abs(float64(sweep)) == float64(360*geom.Degree) {
		e = a.XY() // as a planner has it, whatever sine and cosine say
	}
	return toolpath.ArcTo(kind, geom.Point3{X: e.X, Y: e.Y, Z: a.Z - rapid.Float64Range(0, 1).Draw(t, "dz")}, o, feed)
}

// What is written reads back without a fault, and to the same motions within
// the raster of the file: half a tick at the ends, and at the centre of an
// arc one and a half in each axis.
func TestWrittenReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom([]float64{1, geom.MMPerInch}).Draw(t, "unit")
		p := planned(t)
		p.For = controller(t)
		text, err := ncwrite.Bytes(p, unit)
		if err != nil {
			t.Fatal(err)
		}
		var moves []toolpath.Move
		rep, err := ncread.ReadFor(p.For, bytes.NewReader(text), "t.nc", ncread.Events{Move: func(m *toolpath.Move) error {
			moves = append(moves, *m)
			return nil
		}})
		if err != nil || rep.FindingCount > 0 || len(rep.Notes) > 0 {
			t.Fatalf("%v, findings %v, notes %v\n%s", err, rep.Findings, rep.Notes, text)
		}
		end := "M2"
		if p.For.EndM30 {
			end = "M30"
		}
		for i, line := range bytes.Split(text, []byte("\n")) {
			if len(bytes.TrimSuffix(line, []byte("\r"))) > 70 || p.For.CRLF != bytes.HasSuffix(line, []byte("\r")) && len(line) > 0 {
				t.Fatalf("line %d: %q", i+1, line)
			}
		}
		if rep.UnitMM != unit || rep.EndWord != end || rep.Last.Z < safeZ-1e-3 {
			t.Fatalf("unit %g, end %s, left at %v", rep.UnitMM, rep.EndWord, rep.Last)
		}
		if err := compare(p, moves, unit); err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
	})
}

// controller draws what a controller needs; the plain subset as often as not.
func controller(t *rapid.T) (c toolpath.Controller) {
	if rapid.Bool().Draw(t, "plain") {
		return c
	}
	yes := func(label string) bool { return rapid.Bool().Draw(t, label) }
	c = toolpath.Controller{
		Dwell:  rapid.SampledFrom([]toolpath.Dwell{toolpath.DwellSeconds, toolpath.DwellMilliseconds, toolpath.DwellNone}).Draw(t, "dwell"),
		EndM30: yes("M30"), Percent: yes("percent"), LineNumbers: yes("line numbers"), Centres: yes("centres"), ExactPath: yes("exact"), CRLF: yes("crlf"),
		Number:   rapid.SampledFrom([]int{0, 1, 9999}).Draw(t, "number"),
		Comments: rapid.SampledFrom([]toolpath.Comments{toolpath.Parentheses, toolpath.Semicolon, toolpath.NoComments}).Draw(t, "comments"),
		Unknown:  rapid.SliceOfDistinct(rapid.SampledFrom([]string{"S", "G17", "G40", "G54", "G80", "G94"}), rapid.ID[string]).Draw(t, "unknown"),
	}
	if !c.ExactPath {
		c.PathMM = rapid.SampledFrom([]float64{0, 0.001, 0.05}).Draw(t, "path")
	}
	return c
}

// What a job does not declare is read as it always was.
func TestUndeclaredIsSaid(t *testing.T) {
	p := toolpath.Program{Name: "t", RPM: rpm, SpinUpS: spinUp, SafeZ: safeZ, Steps: []toolpath.Step{
		toolpath.RapidTo(geom.Point3{Z: safeZ}), toolpath.FeedTo(geom.Point3{Z: 1}, 300), toolpath.RapidTo(geom.Point3{Z: safeZ})}}
	for rule, c := range map[string]toolpath.Controller{
		"sub-dwell-integer":   {Dwell: toolpath.DwellMilliseconds},
		"sub-idle-word":       {EndM30: true},
		"sub-percent":         {Percent: true},
		"std-letter":          {Number: 7},
		"sub-centres-idle":    {Centres: true},
		"sub-path-control":    {PathMM: 0.01},
		"sub-speed-unset":     {Unknown: []string{"S"}},
		"sub-offset-unset":    {Unknown: []string{"G54"}},
		"sub-comp-unset":      {Unknown: []string{"G40"}},
		"sub-feed-mode-unset": {Unknown: []string{"G94"}},
	} {
		p.For = c
		text, err := ncwrite.Bytes(p, 1)
		if err != nil {
			t.Fatal(err)
		}
		if rep, err := ncread.Read(bytes.NewReader(text), "t.nc", ncread.Events{}); err != nil || !slices.ContainsFunc(append(rep.Findings, rep.Notes...), func(f finding.Finding) bool { return f.Rule == rule }) {
			t.Errorf("%s: %v, findings %v, notes %v", rule, err, rep.Findings, rep.Notes)
		}
		if rep, err := ncread.ReadFor(c, bytes.NewReader(text), "t.nc", ncread.Events{}); err != nil || rep.FindingCount > 0 || len(rep.Notes) > 0 {
			t.Errorf("%s, declared: %v, findings %v, notes %v", rule, err, rep.Findings, rep.Notes)
		}
	}
	for name, c := range map[string]toolpath.Controller{"number": {Number: 10000}, "path": {PathMM: -1}, "both paths": {PathMM: 0.1, ExactPath: true}, "word": {Unknown: []string{"G90"}}} {
		p.For = c
		if _, err := ncwrite.Bytes(p, 1); err == nil {
			t.Errorf("%s is written", name)
		}
	}
}

// compare follows the plan along the moves that were read. Steps shorter than
// the raster are not in the file.
func compare(p toolpath.Program, moves []toolpath.Move, unit float64) error {
	tick := 0.001
	if unit != 1 {
		tick = 1e-5 * unit
	}
	half, speed := 0.5000001*tick, float64(rpm)
	if !p.For.Knows("S") {
		speed = 0
	}
	var at geom.Point3
	for i, s := range p.Steps {
		if s.Do == toolpath.StepStop && len(moves) > 0 && moves[0].Kind == toolpath.Rapid && off(moves[0].To, at) <= half {
			moves = moves[1:] // the height, stated again; a full circle ends there too
		}
		if s.Do != toolpath.StepMove {
			continue
		}
		from := at
		at = s.To
		if len(moves) == 0 || off(moves[0].To, s.To) > half || moves[0].Kind != s.Kind {
			if off(from, s.To) <= 2*half {
				continue
			}
			return fmt.Errorf("step %d to %v is not in the file; next there is %+v", i, s.To, moves)
		}
		m := moves[0]
		moves = moves[1:]
		if s.Kind == toolpath.Rapid {
			continue
		}
		if m.Feed > s.Feed*(1+1e-12) || m.Feed < s.Feed-tick*1.001 || m.RPM != speed {
			return fmt.Errorf("step %d: feed %v and speed %v, want %v and %v", i, m.Feed, m.RPM, s.Feed, speed)
		}
		if m.IsArc() {
			if d := m.Center.Dist(s.Center); d > 1.5*tick*math.Sqrt2*1.001 {
				return fmt.Errorf("step %d: centre off by %v", i, d)
			}
			planned := toolpath.Move{Kind: s.Kind, From: from, To: s.To, Center: s.Center, Sweep: m.Sweep}
			if d := math.Abs(m.Length() - planned.Length()); d > 20*tick {
				return fmt.Errorf("step %d: length off by %v", i, d)
			}
			if d := math.Abs(m.From.XY().Dist(m.Center) - m.To.XY().Dist(m.Center)); d > 0.002+1e-9 {
				return fmt.Errorf("step %d: radii differ by %v", i, d)
			}
		}
	}
	if len(moves) > 0 {
		return fmt.Errorf("moves that nobody planned: %+v", moves)
	}
	return nil
}

// off returns the largest distance between two places along an axis.
func off(a, b geom.Point3) float64 {
	return math.Max(math.Abs(a.X-b.X), math.Max(math.Abs(a.Y-b.Y), math.Abs(a.Z-b.Z)))
}

// An arc of a few hundredths of a millimetre, or one whose ends fall on one
// tick, is written as a short straight step or not at all, never as a full
// circle.
func TestShortArcs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom([]float64{1, geom.MMPerInch}).Draw(t, "unit")
		o := geom.Pt(rapid.Float64Range(-50, 50).Draw(t, "ox"), rapid.Float64Range(-50, 50).Draw(t, "oy"))
		r := math.Pow(10, rapid.Float64Range(-3, 2).Draw(t, "log r"))
		start := geom.Deg(rapid.Float64Range(0, 360).Draw(t, "start"))
		turn := geom.Angle(rapid.Float64Range(0.00001, 0.01).Draw(t, "length") / r)
		if turn > 3 {
			t.Skip("no short arc")
		}
		kind := rapid.SampledFrom([]toolpath.Kind{toolpath.ArcCW, toolpath.ArcCCW}).Draw(t, "kind")
		if kind == toolpath.ArcCW {
			turn = -turn
		}
		a, e := o.Add(geom.Polar(r, start)), o.Add(geom.Polar(r, start+turn))
		text, err := ncwrite.Bytes(toolpath.Program{Name: "t", RPM: rpm, SafeZ: safeZ, Steps: []toolpath.Step{
			toolpath.RapidTo(geom.Point3{X: a.X, Y: a.Y, Z: safeZ}),
			toolpath.ArcTo(kind, geom.Point3{X: e.X, Y: e.Y, Z: safeZ}, o, 100),
		}}, unit)
		if err != nil {
			t.Fatal(err)
		}
		length := 0.0
		rep, err := ncread.Read(bytes.NewReader(text), "t.nc", ncread.Events{Move: func(m *toolpath.Move) error {
			length += m.Length()
			return nil
		}})
		if err != nil || rep.FindingCount > 0 {
			t.Fatalf("%v %v\n%s", err, rep.Findings, text)
		}
		if length > 0.02 {
			t.Fatalf("an arc of %v mm became one of %v mm\n%s", math.Abs(float64(turn))*r, length, text)
		}
	})
}
