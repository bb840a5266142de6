package packet

import (
	"context"
	"fmt"
	"slices"

	"starwright/cmd/internal/job"
	"starwright/geom"
	"starwright/geom/problem"
	"starwright/geom/words"
	"starwright/toolpath"
	"starwright/toolpath/backplot"
	"starwright/toolpath/nest"
	"starwright/toolpath/planner"
)

// sheetStock is a kind of sheet that parts are cut from.
type sheetStock struct {
	name      string // jigs, splines
	what      string // in words
	thickness float64
	minTabs   int     // fewest tabs that still hold such parts
	tabWidth  float64 // of narrower tabs than the job's, mm; 0 for the job's
	board     *board  // of pieces of board; nil where it is sheet
}

// board is a piece of board as it lies on the machine.
type board struct {
	long, wide float64 // along X and along Y, mm
	cutter     job.CutterTable
}

// jigSheets draws the jigs of the route and, where the shop has a CNC, nests
// them and the stars' back plates, with drawing and program for each sheet.
func jigSheets(ctx context.Context, w *Work) problem.List {
	w.jigDrawings(w.Jigs)
	plates := w.plateItems()
	items := append(jigItems(w.Jigs), plates...)
	if len(items) == 0 || !w.cnc() {
		return nil
	}
	batch := nest.NewBatch(items)
	result, problems := nestKit(ctx, w, batch, w.nestOptions())
	if len(problems) > 0 {
		return problems
	}
	stock := sheetStock{name: "jigs", what: "jigs", thickness: w.Job.Sheet.Thickness, minTabs: 2}
	switch {
	case len(plates) == len(items):
		stock.name, stock.what = "plates", "plates"
	case len(plates) > 0:
		stock.what = "jigs and plates"
	}
	near := w.sheetList(sheetsOf(stock, result))
	if near.plan(ctx, untilOneFails); near.fit() || ctx.Err() != nil {
		return near.add(ctx)
	}
	// Parts that lie too close leave no scrap for tabs: once more, wider apart.
	if apart, ps := nestKit(ctx, w, batch, w.rowOptions()); len(ps) == 0 {
		far := w.sheetList(sheetsOf(stock, apart))
		if far.plan(ctx, untilOneFails); far.fit() {
			return far.add(ctx)
		}
	}
	near.plan(ctx, all)
	problems = near.add(ctx)
	for i := range problems {
		if problems[i].Would == "" { // the work can be done without
			problems[i].Would = "[jigs] make = []"
		}
	}
	return problems
}

// withNarrowerTabs cuts sheets of small parts: where the job's tabs find no room,
// narrower ones may. cut is given their width, 0 for the job's own.
func (w *Work) withNarrowerTabs(ctx context.Context, what string, cut func(wide float64) problem.List) problem.List {
	const narrowest, step = 2.0, 0.75 // mm, and how much narrower the next ones are
	problems := cut(0)
	for width := w.Job.Tabs.Width; len(problems) > 0 && ctx.Err() == nil && width*step >= narrowest; {
		width *= step
		wide := w.Job.Units.Floor(width)
		if ps := cut(wide); len(ps) == 0 {
			w.warn("tabs.width", w.Say(w.Job.Tabs.Width), fmt.Sprintf("the %s are too small for such tabs, so theirs are %s wide", what, w.Say(wide)))
			return nil
		}
	}
	return problems
}

// addSheet adds drawing and program of a planned sheet to the packet.
func (w *Work) addSheet(stock sheetStock, number, of int, planned plannedSheet, runs int) {
	job, program, report := planned.job, planned.program, planned.report
	name := fmt.Sprintf("%s-%d", stock.name, number)
	wood := fmt.Sprintf("%s by %s, %s thick", w.Say(job.SheetW), w.Say(job.SheetH), w.Job.Units.FormatSize(stock.thickness))
	sheet := stock.sheet()
	p := Program{
		Path: "gcode/" + name + ".nc", Quantity: runs,
		Use:   fmt.Sprintf("%s from a %s of %s: %s %d of %d", stock.what, sheet, wood, sheet, number, of),
		Brief: fmt.Sprintf("%s %d of %d: %s", stock.what, number, of, wood),
		Plan:  program, Task: sheetTask(w, stock, job, w.heldBy(job, report.Tabs), report.Tabs), UnitMM: w.Job.Output.GCodeUnits.MM(),
		Minutes: planned.minutes,
		Sheet:   &job, Tabs: report.Tabs, cutter: w.cutterFor(stock), board: stock.board != nil,
		Travel: report.TravelMM, TravelBound: report.TravelBound, Blocks: report.Blocks, BlocksBound: report.BlocksBound,
	}
	p.Plan.For = controller(w.Job.Controller)
	p.Plan.Header = sheetHeader(w, job, report, p, stock)
	p.says = w.sheetSays(&p)
	w.Programs = append(w.Programs, p)
	w.Drawings = append(w.Drawings, w.drawing("dxf/sheet-"+name+".dxf", runs,
		fmt.Sprintf("the %s as %s cuts it; %[1]s and screw zones on GUIDE are never cut", sheet, p.Path),
		fmt.Sprintf("%s %d of %d with %s", sheet, number, of, stock.what), sheetDrawing(job)))
}

// sheet is what such parts are cut from, in words.
func (s sheetStock) sheet() string {
	if s.board != nil {
		return "piece of board"
	}
	return "sheet"
}

// cutterFor is the cutter that goes through a stock.
func (w *Work) cutterFor(s sheetStock) job.CutterTable {
	if s.board != nil {
		return s.board.cutter
	}
	return w.Job.Sheets
}

// cutting is what all programs with a cutter share: its feeds, and heights.
func (w *Work) cutting(c job.CutterTable, diameter float64) planner.Cutting {
	m := w.Job.Machine
	return planner.Cutting{
		CutterDiameter: diameter, DepthPerPass: c.DepthPerPass,
		Feed: c.Feed, PlungeFeed: c.PlungeFeed, RampMax: c.Ramp, RPM: c.SpindleRPM, Climb: c.Climb,
		SpinUpS: m.SpinUp, SafeZ: m.SafeZ, Approach: m.Approach, Accel: m.Accel,
	}
}

// sheetJob is the planner's job for a nested sheet.
func (w *Work) sheetJob(stock sheetStock, number int, parts []toolpath.Part) planner.SheetJob {
	j, c := w.Job, w.cutterFor(stock)
	wide, high, zones := j.Sheet.Width, j.Sheet.Height, w.nestOptions().Zones
	if b := stock.board; b != nil {
		wide, high, zones = b.long, b.wide, w.cornersOf(b.long, b.wide)
	}
	out := planner.SheetJob{
		Name: fmt.Sprintf("%s-%d", stock.name, number), Unit: j.Units,
		SheetW: wide, SheetH: high, Thickness: stock.thickness, Breakthrough: j.Sheet.Breakthrough,
		ScrewZones: zones,
		Travel:     geom.Point3{X: j.Machine.Travel[0], Y: j.Machine.Travel[1], Z: j.Machine.Travel[2]}, Arcs: c.Arcs,
		Tabs:    planner.Tabs{Count: j.Tabs.Count, Width: j.Tabs.Width, Height: min(j.Tabs.Height, stock.thickness/2)},
		Cutting: w.cutting(c, *c.Diameter),
		Parts:   parts,
	}
	// Where no travel is stated, it may end with the sheet.
	size, off := geom.Box{Max: geom.Pt(wide, high)}, 0.0
	if j.Machine.Travel[0] > 0 {
		off = parkBeyond
	}
	out.Park = w.park(size, size, off)
	if c.CutLength != nil {
		out.CutLength = *c.CutLength
	}
	if len(out.ScrewZones) > 0 {
		out.ScrewZones = append(slices.Clone(out.ScrewZones), moreScrews(out)...)
	}
	return out
}

// fewestTabs is how few tabs a part may be held by that has no room for all
// that the job asks for: never fewer than minTabs, and not fewer than half of
// an unusual number, which the maker must have had a reason for.
func fewestTabs(asked, minTabs int) int {
	if asked > usualTabs {
		return max(minTabs, (asked+1)/2)
	}
	return min(asked, minTabs)
}

// usualTabs is what holds most parts; a maker who asks for more has a reason.
const usualTabs = 4

// heldBy counts the tabs of each part, and warns where one has fewer than an
// unusual number that the job asks for.
func (w *Work) heldBy(job planner.SheetJob, tabs []planner.Tab) map[string]int {
	held := map[string]int{}
	for _, t := range tabs {
		if t.CutOut == 0 {
			held[t.Part]++
		}
	}
	short, fewest := 0, job.Tabs.Count
	for _, p := range job.Parts {
		if held[p.Name] < job.Tabs.Count {
			short++
		}
		fewest = min(fewest, held[p.Name])
	}
	if short > 0 && job.Tabs.Count > usualTabs {
		w.warn("tabs.count", fmt.Sprint(job.Tabs.Count), fmt.Sprintf("%d of the %d parts of %s have no room for so many tabs. They get as many as fit. Try: count = %d", short, len(job.Parts), job.Name, max(fewest, usualTabs)))
	}
	return held
}

// oneOfEach keeps one problem of each key: forty equal parts have the same one
// forty times. It is the one that asks for most, so that following it settles the
// others too, and else the first.
func oneOfEach(ps problem.List) problem.List {
	var out problem.List
	for _, p := range ps {
		i := slices.IndexFunc(out, func(q problem.Problem) bool { return q.Key == p.Key })
		switch {
		case i < 0:
			out = append(out, p)
		case asksMore(p, out[i]):
			out[i] = p
		}
	}
	return out
}

// offer takes what a problem offers first apart: ramp = "7.5 deg".
var offer = words.Pattern(`^(?:\[\w+\] )?(\w+) = "([^"]*)"`)

// asksMore reports whether a problem offers a value of the same key as another that
// goes further: a steeper ramp, a wider spacing or sheet, and a smaller one of all
// other lengths.
func asksMore(p, q problem.Problem) bool {
	a, b := offer().FindStringSubmatch(p.Would), offer().FindStringSubmatch(q.Would)
	if a == nil || b == nil || a[1] != b[1] {
		return a != nil && b == nil
	}
	if a[1] == "ramp" {
		x, errA := geom.ParseAngle(a[2])
		y, errB := geom.ParseAngle(b[2])
		return errA == nil && errB == nil && x > y
	}
	x, errA := geom.ParseLength(a[2], geom.Millimetre)
	y, errB := geom.ParseLength(b[2], geom.Millimetre)
	if errA != nil || errB != nil {
		return false
	}
	if slices.Contains([]string{"sheet.spacing", "sheet.width", "sheet.height"}, p.Key) {
		return x > y
	}
	return x < y
}

// sheetTask states what a sheet's program has to do.
func sheetTask(w *Work, stock sheetStock, job planner.SheetJob, held map[string]int, tabs []planner.Tab) backplot.Task {
	sheet := &backplot.Sheet{
		Size: geom.Pt(job.SheetW, job.SheetH), Thickness: job.Thickness, Breakthrough: job.Breakthrough,
		Tabs: backplot.Tabs{Count: job.Tabs.Count, Width: job.Tabs.Width, Height: job.Tabs.Height},
	}
	for _, p := range job.Parts {
		part := backplot.Part{Name: p.Name, Outline: p.Outline, Holes: p.Holes, Tabs: held[p.Name], Slugs: make([]backplot.Slug, len(p.Holes)), Seats: p.NoTab}
		for _, t := range tabs {
			switch {
			case t.Part != p.Name:
			case t.CutOut == 0:
				part.TabsAt = append(part.TabsAt, t.At)
			default:
				s := &part.Slugs[t.CutOut-1]
				s.Tabs, s.TabsAt = s.Tabs+1, append(s.TabsAt, t.At)
			}
		}
		sheet.Parts = append(sheet.Parts, part)
	}
	for _, z := range job.ScrewZones {
		sheet.Keepouts = append(sheet.Keepouts, geom.Rect(z))
	}
	// Along the edges the cutter may run with its middle beside the sheet.
	over := geom.Box{Max: sheet.Size}.Grow(job.CutterDiameter / 2)
	return backplot.Task{Unit: w.Job.Units, Cutter: job.CutterDiameter, Limits: limits(w.Job, w.cutterFor(stock), job.Thickness+job.Breakthrough), Climb: job.Climb, Sheet: sheet, Park: job.Park, Over: []geom.Box{over}}
}

func (w *Work) warn(key, value, why string) {
	w.Warnings = append(w.Warnings, problem.Note{Key: key, Value: value, Why: why})
}
