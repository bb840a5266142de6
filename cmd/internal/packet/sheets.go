package packet

import (
	"errors"
	"fmt"
	"slices"

	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/star"
	"starwright/post/dxf"
	"starwright/toolpath"
	"starwright/toolpath/backplot"
	"starwright/toolpath/nest"
	"starwright/toolpath/plan"
)

// screwZone is the side of the square kept free for a screw in each corner of
// a sheet, mm. Common practice, no source: a washer and the drill's chuck.
const screwZone = 25.0

// sheetStock is a kind of sheet that parts are cut from.
type sheetStock struct {
	name      string // jigs, splines
	what      string // in words
	thickness float64
	minTabs   int     // fewest tabs that still hold such parts
	tabWidth  float64 // of narrower tabs than the job's, mm; 0 for the job's
}

// jigSheets makes the jig kit: a drawing for each jig, and drawing and program
// for each nested sheet.
func jigSheets(w *Work) []star.Problem {
	made := w.Job.Jigs.Make
	if made != nil && len(made) == 0 {
		return nil
	}
	kit, problems := w.kit()
	if len(problems) > 0 {
		return problems
	}
	stock := sheetStock{name: "jigs", what: "jigs", thickness: w.Job.Sheet.Thickness, minTabs: 2}
	if made == nil {
		if kit, problems = w.cuttable(kit, stock); len(problems) > 0 {
			return problems
		}
	}
	kit, result, problems := nestKit(w, kit, made != nil, w.nestOptions())
	if len(problems) > 0 {
		return problems
	}
	w.Jigs = kit
	w.jigDrawings(kit)
	problems = w.sheets(stock, result)
	if len(problems) == 0 || made != nil {
		return problems
	}
	// Parts that lie too close leave no scrap for tabs: once more, wider apart.
	if _, result, ps := nestKit(w, kit, false, w.rowOptions()); len(ps) == 0 {
		if problems = w.sheets(stock, result); len(problems) == 0 {
			return nil
		}
	}
	w.warn(problems[0].Key, problems[0].Got, "the jigs are drawn but not cut by programs: "+problems[0].Why)
	return nil
}

// cuttable leaves out, with a warning, the jigs that the job's cutter and tabs
// cannot cut even from a sheet of their own. Where that is all of them and the
// job itself gives the value at fault, it is an error.
func (w *Work) cuttable(kit []jig.Jig, stock sheetStock) ([]jig.Jig, []star.Problem) {
	problems := make([][]star.Problem, len(kit))
	inParallel(len(kit), func(i int) { problems[i] = w.alone(kit[i], stock) })
	var out []jig.Jig
	var first []star.Problem
	for i, j := range kit {
		if len(problems[i]) == 0 {
			out = append(out, j)
		} else if first == nil {
			first = problems[i]
		}
	}
	if len(out) == 0 && first != nil && w.Job.At(first[0].Key) > 0 {
		return nil, first
	}
	for i, j := range kit {
		if len(problems[i]) > 0 {
			w.warn(problems[i][0].Key, problems[i][0].Got, fmt.Sprintf("no %s is made: %s", j.Title, problems[i][0].Why))
		}
	}
	return out, nil
}

// alone says what keeps a jig from being cut from a sheet large enough for it.
func (w *Work) alone(j jig.Jig, stock sheetStock) []star.Problem {
	items, _ := jigItems([]jig.Jig{j})
	b := items[0].Part.Outline.Bounds()
	const room = 100.0 // mm on all sides
	move := geom.Place{Move: geom.Pt(room-b.Min.X, room-b.Min.Y)}
	job := w.sheetJob(stock, 1, nest.Sheet{Parts: []nest.Placement{{Part: items[0].Part.Placed(move)}}})
	job.SheetW, job.SheetH, job.ScrewZones, job.Travel = b.W()+2*room, b.H()+2*room, nil, geom.Point3{}
	job.FewestTabs = fewestTabs(job.Tabs.Count, stock.minTabs)
	_, _, err := plan.PlanSheet(job)
	return oneOfEach(asProblems(err))
}

// kit makes the jigs. One that cannot be made, because the cutter does not
// enter its seats, is an error where the job names its jigs, and is left out
// with a warning where it does not.
func (w *Work) kit() ([]jig.Jig, []star.Problem) {
	p := w.jigParams(w.Batch.Cutter)
	if p.Keys != nil {
		return jig.Kit(w.Batch, p)
	}
	keys := jig.Needed(w.Batch, p)
	made := make([][]jig.Jig, len(keys))
	problems := make([][]star.Problem, len(keys))
	inParallel(len(keys), func(i int) {
		one := p
		one.Keys = keys[i : i+1]
		made[i], problems[i] = jig.Kit(w.Batch, one)
	})
	var out []jig.Jig
	for i, key := range keys {
		for _, one := range problems[i] {
			w.warn(one.Key, one.Got, fmt.Sprintf("no %s is made: %s", key, one.Why))
		}
		out = append(out, made[i]...)
	}
	return out, nil
}

// jigParams is what the kit depends on, for a cutter or, at 0, a laser.
func (w *Work) jigParams(cutter float64) jig.Params {
	s := w.Job.Sheet
	return jig.Params{
		Cutter: cutter, MaxMiter: w.Job.Saw.MaxMiter, Keys: w.Job.Jigs.Make,
		MaxW: s.Width - 2*s.Margin, MaxH: s.Height - 2*s.Margin, Thickness: s.Thickness,
	}
}

// nestKit nests the kit. A jig too large for the sheet is an error where the
// job names its jigs, and is left out with a warning where it does not.
func nestKit(w *Work, kit []jig.Jig, named bool, o nest.Options) ([]jig.Jig, nest.Result, []star.Problem) {
	for {
		items, owner := jigItems(kit)
		if len(items) == 0 {
			return kit, nest.Result{}, nil
		}
		result, err := nest.Nest(items, o)
		var large *nest.TooLarge
		if !errors.As(err, &large) || named {
			return kit, result, asProblems(err)
		}
		i := slices.IndexFunc(items, func(it nest.Item) bool { return it.Part.Name == large.Part })
		if i < 0 {
			return kit, result, asProblems(err)
		}
		j := owner[i]
		w.warn("sheet.width", w.Say(w.Job.Sheet.Width), fmt.Sprintf("no room for the %s on the sheet, so it is left out: %s", kit[j].Title, large.Problem().Why))
		kit = slices.Delete(slices.Clone(kit), j, j+1)
	}
}

// jigItems returns the parts of a kit, each as often as it is needed, and
// which jig each part is.
func jigItems(kit []jig.Jig) (items []nest.Item, owner []int) {
	for k, j := range kit {
		part := toolpath.Part{Name: j.Title, Outline: j.Outline}
		for _, h := range j.Holes {
			part.Holes = append(part.Holes, h.Contour)
		}
		for _, s := range j.Seats {
			part.NoTab = append(part.NoTab, s.Edges...)
		}
		for n := range max(1, j.Quantity) {
			p := part
			if j.Quantity > 1 {
				p.Name = fmt.Sprintf("%s, %d of %d", j.Title, n+1, j.Quantity)
			}
			items, owner = append(items, nest.Item{Part: p}), append(owner, k)
		}
	}
	return items, owner
}

func (w *Work) nestOptions() nest.Options {
	s := w.Job.Sheet
	o := nest.Options{W: s.Width, H: s.Height, Margin: max(s.Margin, w.Batch.Cutter), Spacing: w.spacing(), Cutter: w.Batch.Cutter, Unit: w.Job.Units}
	if s.ScrewZones {
		o.Zones = nest.CornerZones(s.Width, s.Height, screwZone)
	}
	return o
}

// rowOptions are those of the nest with room between the rows for a cut on
// either side and a strip in the middle that the tabs hold on to: rows of small
// parts have neighbours on all sides.
func (w *Work) rowOptions() nest.Options {
	o := w.nestOptions()
	const strip = 3.5 // mm of sheet left between two cuts
	o.Spacing = max(o.Spacing, 2*o.Cutter+strip)
	return o
}

func (w *Work) spacing() float64 {
	if s := w.Job.Sheet.Spacing; s != nil {
		return *s
	}
	return w.Batch.Cutter + 2
}

// asProblems turns an error of a planner into problems of the job.
func asProblems(err error) []star.Problem {
	var large *nest.TooLarge
	var one toolpath.Problem
	var many toolpath.Problems
	switch {
	case err == nil:
		return nil
	case errors.As(err, &large):
		many = toolpath.Problems{large.Problem()}
	case errors.As(err, &one):
		many = toolpath.Problems{one}
	case !errors.As(err, &many):
		many = toolpath.Problems{{Key: "sheet", Why: err.Error()}}
	}
	out := make([]star.Problem, len(many))
	for i, p := range many {
		out[i] = star.Problem(p)
	}
	return out
}

// sheets adds drawing and program of each nested sheet, all or none. runs says
// how often each program is run, once where it is short.
func (w *Work) sheets(stock sheetStock, r nest.Result, runs ...int) []star.Problem {
	programs, drawings, warnings := len(w.Programs), len(w.Drawings), len(w.Warnings)
	for i, s := range r.Sheets {
		n := 1
		if i < len(runs) {
			n = runs[i]
		}
		if ps := w.sheet(stock, i+1, len(r.Sheets), s, n); len(ps) > 0 {
			w.Programs, w.Drawings, w.Warnings = w.Programs[:programs], w.Drawings[:drawings], w.Warnings[:warnings]
			return ps
		}
	}
	return nil
}

func (w *Work) sheet(stock sheetStock, number, of int, s nest.Sheet, runs int) []star.Problem {
	job := w.sheetJob(stock, number, s)
	if stock.tabWidth > 0 {
		job.Tabs.Width = stock.tabWidth
	}
	job.FewestTabs = fewestTabs(job.Tabs.Count, stock.minTabs)
	program, report, err := plan.PlanSheet(job)
	if err != nil {
		return oneOfEach(asProblems(err))
	}
	name := fmt.Sprintf("%s-%d", stock.name, number)
	p := Program{
		Path: "gcode/" + name + ".nc", Quantity: runs,
		Use:  fmt.Sprintf("%s from a sheet of %s by %s, %s thick: sheet %d of %d", stock.what, w.Say(job.SheetW), w.Say(job.SheetH), w.Job.Units.FormatFine(stock.thickness), number, of),
		Plan: program, Task: sheetTask(w, job, w.heldBy(job, report.Tabs), report.Tabs), UnitMM: w.Job.Output.GCodeUnits.MM(),
		Minutes: estimate(program, w.Job.Machine.Accel),
		Sheet:   &job, Tabs: report.Tabs,
		Travel: report.TravelMM, TravelBound: report.TravelBound, Blocks: report.Blocks,
	}
	p.Plan.Header = sheetHeader(w, job, report, p, stock)
	w.Programs = append(w.Programs, p)
	w.Drawings = append(w.Drawings, w.drawing("dxf/sheet-"+name+".dxf", runs,
		"the sheet as "+p.Path+" cuts it; sheet and screw zones on GUIDE are never cut",
		fmt.Sprintf("sheet %d of %d with %s", number, of, stock.what), sheetDrawing(job)))
	return nil
}

// sheetJob is the planner's job for a nested sheet.
func (w *Work) sheetJob(stock sheetStock, number int, s nest.Sheet) plan.SheetJob {
	j := w.Job
	out := plan.SheetJob{
		Name: fmt.Sprintf("%s-%d", stock.name, number), Unit: j.Units,
		SheetW: j.Sheet.Width, SheetH: j.Sheet.Height, Thickness: stock.thickness, Breakthrough: j.Sheet.Breakthrough,
		ScrewZones:     w.nestOptions().Zones,
		Travel:         geom.Point3{X: j.Machine.Travel[0], Y: j.Machine.Travel[1], Z: j.Machine.Travel[2]},
		CutterDiameter: w.Batch.Cutter, DepthPerPass: j.Cutter.DepthPerPass,
		Feed: j.Cutter.Feed, PlungeFeed: j.Cutter.PlungeFeed, RampMax: j.Cutter.Ramp,
		RPM: j.Cutter.SpindleRPM, SpinUpS: j.Machine.SpinUp, SafeZ: j.Machine.SafeZ, Approach: j.Machine.Approach,
		Climb: j.Cutter.Climb, Arcs: j.Cutter.Arcs,
		Tabs: plan.Tabs{Count: j.Tabs.Count, Width: j.Tabs.Width, Height: min(j.Tabs.Height, stock.thickness/2)},
	}
	if j.Cutter.CutLength != nil {
		out.CutLength = *j.Cutter.CutLength
	}
	for _, p := range s.Parts {
		out.Parts = append(out.Parts, p.Part)
	}
	return out
}

// fewestTabs is how few tabs a part may be held by that has no room for all
// that the job asks for: never fewer than minTabs, and not fewer than half of
// an unusual number, which the maker must have had a reason for.
func fewestTabs(asked, minTabs int) int {
	const usual = 4
	if asked > usual {
		return max(minTabs, (asked+1)/2)
	}
	return min(asked, minTabs)
}

// heldBy counts the tabs of each part and warns where one has fewer than the
// job asks for.
func (w *Work) heldBy(job plan.SheetJob, tabs []plan.Tab) map[string]int {
	held := map[string]int{}
	for _, t := range tabs {
		held[t.Part]++
	}
	short := 0
	for _, p := range job.Parts {
		if held[p.Name] < job.Tabs.Count {
			short++
		}
	}
	if short > 0 {
		w.warn("tabs.count", fmt.Sprint(job.Tabs.Count), fmt.Sprintf("%d of the %d parts of %s have no room for so many tabs and are held by as many as fit", short, len(job.Parts), job.Name))
	}
	return held
}

// oneOfEach keeps the first problem of each key: forty equal parts have the
// same one forty times.
func oneOfEach(ps []star.Problem) []star.Problem {
	var out []star.Problem
	for _, p := range ps {
		if !slices.ContainsFunc(out, func(q star.Problem) bool { return q.Key == p.Key }) {
			out = append(out, p)
		}
	}
	return out
}

// sheetTask states what a sheet's program has to do.
func sheetTask(w *Work, job plan.SheetJob, held map[string]int, tabs []plan.Tab) backplot.Task {
	sheet := &backplot.Sheet{
		Size: geom.Pt(job.SheetW, job.SheetH), Thickness: job.Thickness, Breakthrough: job.Breakthrough,
		Tabs: backplot.Tabs{Count: job.Tabs.Count, Width: job.Tabs.Width, Height: job.Tabs.Height},
	}
	at := map[string][]geom.Point{}
	for _, t := range tabs {
		at[t.Part] = append(at[t.Part], t.At)
	}
	for _, p := range job.Parts {
		sheet.Parts = append(sheet.Parts, backplot.Part{Name: p.Name, Outline: p.Outline, Holes: p.Holes,
			Tabs: held[p.Name], TabsAt: at[p.Name], Seats: p.NoTab})
	}
	for _, z := range job.ScrewZones {
		sheet.Keepouts = append(sheet.Keepouts, geom.Rect(z))
	}
	return backplot.Task{Cutter: job.CutterDiameter, Limits: limits(w, job.Thickness+job.Breakthrough), Sheet: sheet}
}

// sheetHeader is what a sheet's program says of itself.
func sheetHeader(w *Work, job plan.SheetJob, r plan.SheetReport, p Program, stock sheetStock) []string {
	say, fine := w.Say, w.Job.Units.FormatFine
	cut := "conventional"
	if job.Climb {
		cut = "climb"
	}
	lines := []string{
		"Job: " + w.Title(),
		fmt.Sprintf("Cuts: %d parts, %s", len(job.Parts), stock.what),
		fmt.Sprintf("Sheet: %s by %s, %s thick, on a spoilboard", say(job.SheetW), say(job.SheetH), fine(job.Thickness)),
		fmt.Sprintf("Cutter: straight, %s, %.0f rev/min", w.Job.Units.FormatSize(job.CutterDiameter), job.RPM),
		"Zero: X0 Y0 the sheet's lower left corner, Z0 its top",
	}
	if len(job.ScrewZones) > 0 {
		lines = append(lines, fmt.Sprintf("Screws: only in the four corners, within %s of both edges", say(screwZone)))
	}
	return append(lines,
		fmt.Sprintf("Depth: %s in %d passes of %s, %s of it into the spoilboard", fine(job.Thickness+job.Breakthrough), r.Passes, fine(r.PassDepth), fine(job.Breakthrough)),
		"Order: holes, cut-outs, outlines; side of cut: "+cut,
		fmt.Sprintf("Tabs: %d a part where there is room, %s wide, %s high; saw them through afterwards", job.Tabs.Count, say(job.Tabs.Width), fine(job.Tabs.Height)),
		fmt.Sprintf("Run: %d times for the batch, about %.1f minutes each", p.Quantity, p.Minutes),
		"First an air cut with Z0 set high. The machine's manual comes first",
	)
}

// sheetDrawing draws a nested sheet: holes first, then outlines; sheet and
// screw zones on GUIDE, names on TEXT.
func sheetDrawing(job plan.SheetJob) dxf.Drawing {
	var d dxf.Drawing
	for _, p := range job.Parts {
		for _, h := range p.Holes {
			d.Contours = append(d.Contours, dxf.Contour{Layer: dxf.Hole, Contour: h})
		}
	}
	for _, p := range job.Parts {
		d.Contours = append(d.Contours, dxf.Contour{Layer: dxf.Outline, Contour: p.Outline})
	}
	d.Contours = append(d.Contours, dxf.Contour{Layer: dxf.Guide, Contour: geom.Rect(geom.Box{Max: geom.Pt(job.SheetW, job.SheetH)})})
	for _, z := range job.ScrewZones {
		d.Contours = append(d.Contours, dxf.Contour{Layer: dxf.Guide, Contour: geom.Rect(z)})
	}
	return d
}

// jigDrawings adds a drawing for each jig of the kit; for a laser, where the
// job gives its kerf, without the reliefs a cutter needs and with the kerf
// made up for.
func (w *Work) jigDrawings(kit []jig.Jig) {
	for _, j := range kit {
		w.Drawings = append(w.Drawings, w.drawing("dxf/"+j.File+".dxf", max(1, j.Quantity), j.Use, j.Title, jigDrawing(j)))
	}
}

func jigDrawing(j jig.Jig) dxf.Drawing {
	var d dxf.Drawing
	for _, h := range j.Holes {
		d.Contours = append(d.Contours, dxf.Contour{Layer: dxf.Hole, Contour: h.Contour})
	}
	d.Contours = append(d.Contours, dxf.Contour{Layer: dxf.Outline, Contour: j.Outline})
	for _, m := range j.Marks {
		d.Contours = append(d.Contours, dxf.Contour{Layer: dxf.Guide, Contour: m})
	}
	for _, t := range j.Text {
		d.Texts = append(d.Texts, dxf.Label{Layer: dxf.Text, At: t.At, HeightMM: t.Height, Turn: t.Turn, Text: t.Text})
	}
	return d
}

func (w *Work) warn(key, value, why string) {
	w.Warnings = append(w.Warnings, star.Note{Key: key, Value: value, Why: why})
}
