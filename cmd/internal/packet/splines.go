package packet

import (
	"context"
	"fmt"
	"math"

	"starwright/geom/problem"
	"starwright/toolpath"
	"starwright/toolpath/nest"
	"starwright/toolpath/planner"
)

// splineSheets makes, where the shop has a CNC, the splines from sheet of their
// own thickness. Full sheets of one kind are one program that is run several
// times; what is left over shares the last sheets.
func splineSheets(ctx context.Context, w *Work) problem.List {
	if !w.cnc() {
		return nil
	}
	thickness := 0.0
	var full nest.Result
	var runs []int
	var rest []nest.Stack
	for _, u := range w.Order.Units {
		s := u.Spline
		if s == nil {
			continue
		}
		thickness = s.Thickness
		part := toolpath.Part{Name: u.Words("spline"), Outline: s.Outline()}
		one, left, err := fullSheet(part, s.Count, w.mostOnSheet(s.Thickness), w.rowOptions())
		if err != nil {
			return w.withoutSplines(thickness, err)
		}
		if one != nil {
			full.Sheets = append(full.Sheets, *one)
			runs = append(runs, s.Count/len(one.Parts))
		}
		if left > 0 {
			rest = append(rest, nest.Stack{Part: part, Count: left})
		}
	}
	if thickness == 0 {
		return nil
	}
	last, err := nest.Rows(rest, w.rowOptions())
	if err != nil {
		return w.withoutSplines(thickness, err)
	}
	full.Sheets = append(full.Sheets, last.Sheets...)
	for len(runs) < len(full.Sheets) {
		runs = append(runs, 1)
	}
	stock := sheetStock{name: "splines", what: "splines", thickness: thickness, minTabs: 1}
	problems := w.withNarrowerTabs(ctx, stock.what, func(wide float64) problem.List {
		stock.tabWidth = wide
		return w.cutSheets(ctx, sheetsOf(stock, full, runs...))
	})
	if len(problems) > 0 {
		return w.withoutSplines(thickness, problems[0])
	}
	return nil
}

// withoutSplines gives the spline sheets up with a warning: splines are also
// cut by hand from strips, so a sheet that does not hold them stops nothing.
func (w *Work) withoutSplines(thickness float64, err error) problem.List {
	for _, p := range asProblems(err) {
		if p.Key == "sheet.thickness" { // theirs is as thick as they are
			deep := w.Job.Units.Ceil(thickness + w.Job.Sheet.Breakthrough)
			p = problem.Problem{Key: "cutter.cut_length", Got: w.Say(open(w.Job.Sheets.CutLength)), Why: p.Why,
				Would: fmt.Sprintf("cut_length = %q, of a longer cutter", w.Say(deep))}
		}
		w.warnOf(p, "the splines are not nested on the sheet, cut them from strips: ")
	}
	return nil
}

// warnOf warns of a problem that stops nothing, with a value that does away with it.
func (w *Work) warnOf(p problem.Problem, what string) {
	why := what + p.Why
	if p.Would != "" {
		why += ". Try: " + p.Would
	}
	w.warn(p.Key, p.Got, why)
}

// mostOnSheet is how many splines may lie on one sheet. A large sheet holds tens
// of thousands of small ones, a program of hours: then it counts as full
// earlier.
func (w *Work) mostOnSheet(thickness float64) int {
	const (
		most, least = 1000, 20
		moves       = 150_000 // of one program
		each        = 12      // moves round one spline in one pass, with its tabs
	)
	n, _ := planner.Passes(thickness+w.Job.Sheet.Breakthrough, w.Job.Sheets.DepthPerPass)
	return min(most, max(least, moves/(each*n)))
}

// fullSheet lays out a sheet full of one part, where there are enough for it,
// and returns how many parts are left over after as many full sheets as go. No
// more than most of them lie on a sheet.
func fullSheet(part toolpath.Part, count, most int, o nest.Options) (*nest.Sheet, int, error) {
	most = min(most, int(math.Ceil(o.W*o.H/math.Abs(part.Outline.Area())))+1)
	trial, err := nest.Rows([]nest.Stack{{Part: part, Count: min(count, most)}}, o)
	if err != nil {
		return nil, 0, err
	}
	if len(trial.Sheets) < 2 && count <= most { // they do not fill one sheet
		return nil, count, nil
	}
	first := trial.Sheets[0]
	return &first, count % len(first.Parts), nil
}
