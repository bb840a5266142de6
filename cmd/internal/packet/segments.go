package packet

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"starwright/cmd/internal/benchwork"
	"starwright/geom"
	"starwright/geom/problem"
	"starwright/geom/route/choose"
	"starwright/toolpath/flat"
	"starwright/toolpath/planner"
)

// segments lays the segments on boards and adds drawing and program of each piece of
// board, where the job has them cut on the CNC.
func (w *Work) segments(ctx context.Context) problem.List {
	if !w.Job.Segments.CNC || w.Bench == nil {
		return nil
	}
	problems := w.segmentSheets(ctx)
	for i := range problems {
		problems[i] = w.ofSegments(problems[i])
	}
	return problems
}

// segmentSheets lays the segments and adds their sheets, all or none.
func (w *Work) segmentSheets(ctx context.Context) problem.List {
	t, j := w.Job.Segments, w.Job
	w.begin("laying segments on boards", 1)
	o := flat.Options{BedX: t.Longest, BedY: j.Machine.Travel[1], EndTrim: j.Stock.Trim, Kerf: j.Saw.Kerf, Step: pieceStep(j.Units),
		Margin: *t.Margin, Spacing: *t.Spacing, Cutter: *t.Cutter.Diameter, Zones: w.cornersOf, Unit: j.Units}
	var problems problem.List
	if w.Bench.Flat, problems = benchwork.LayFlat(ctx, j, w.Order, o); len(problems) > 0 || ctx.Err() != nil {
		return problems
	}
	var list []sheetToCut
	for _, p := range w.Bench.Flat.Pieces {
		s := sheetToCut{runs: p.Count, stock: sheetStock{name: "segments", what: "segments", thickness: p.Thickness, minTabs: 2,
			board: &board{p.Length, p.Width, t.Cutter}}}
		for i, x := range p.Parts {
			part := x.Part
			part.Name = fmt.Sprintf("%s, %d of %d", x.Unit.Words("segment"), i+1, len(p.Parts))
			s.parts = append(s.parts, part)
		}
		list = append(list, s)
	}
	cut := func(wide float64) problem.List {
		for i := range list {
			list[i].stock.tabWidth = wide
		}
		return w.cutSheets(ctx, list)
	}
	problems = cut(0)
	if slices.ContainsFunc(problems, func(p problem.Problem) bool { return strings.HasPrefix(p.Key, "tabs.") }) {
		problems = w.withNarrowerTabs(ctx, "segments", cut)
	}
	return problems
}

// ofSegments turns a problem of a sheet into one of a piece of board.
func (w *Work) ofSegments(p problem.Problem) problem.Problem {
	p.Would = strings.ReplaceAll(p.Would, "under [sheet]", "under [segments]")
	key, is := strings.CutPrefix(p.Key, "sheet.")
	if !is {
		return p
	}
	p.Why = strings.ReplaceAll(p.Why, "the sheet", "the board")
	switch spacing := *w.Job.Segments.Spacing; {
	case key == "spacing" && w.Job.Tabs.Count == 0: // tabs hold what lies between the segments too
		p.Key, p.Got, p.Would = "tabs.count", "0", fmt.Sprintf("count = %d", usualTabs)
	case key == "spacing" && spacing < planner.TabSpacing(*w.Job.Segments.Cutter.Diameter):
		p.Key, p.Got, p.Would = "segments.spacing", w.Say(spacing), strings.TrimSuffix(p.Would, " under [segments]")
	case key != "screw_zones":
		p.Key, p.Got, p.Would = "segments.cut", "cnc", `cut = "saw"`
	}
	return p
}

// flatWay is what the route needs to know of segments from the CNC, nil where they
// are sawn.
func (w *Work) flatWay() *choose.Flat {
	if w.Bench == nil || w.Bench.Flat == nil {
		return nil
	}
	out := &choose.Flat{Bit: *w.Job.Segments.Cutter.Diameter}
	for i, p := range w.Bench.Flat.Pieces {
		one := choose.FlatPiece{Program: w.Bench.Flat.Program(i), Length: p.Length, Width: p.Width, Thickness: p.Thickness, Count: p.Count}
		for _, u := range w.Order.Units {
			one.Segments = append(one.Segments, p.Of(u))
		}
		out.Pieces = append(out.Pieces, one)
	}
	return out
}

// pieceStep is the step to which the lengths of pieces of board are rounded up.
func pieceStep(u geom.Unit) float64 {
	if u == geom.Inch {
		return geom.MMPerInch / 8
	}
	return 1
}
