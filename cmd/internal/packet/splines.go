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
//
// They wait for nothing that is made of route and jigs. So they are begun with the
// route, which leaves a processor idle, and added behind the jigs.
type splineSheets struct {
	w    *Work
	done chan struct{} // closed once what follows is there

	stock sheetStock
	list  []sheetToCut
	err   error // why they do not lie on the sheet
	plan  *sheetList
}

// beginSplines lays the splines out and plans their sheets beside what else is done.
// The work has to wait for them, see [splineSheets.end].
func beginSplines(ctx context.Context, w *Work) *splineSheets {
	s := &splineSheets{w: w, done: make(chan struct{})}
	go func() {
		defer close(s.done)
		if s.lay(); s.err == nil && len(s.list) > 0 {
			s.plan = s.w.sheetList(s.list)
			s.plan.work(ctx, all, func() {})
		}
	}()
	return s
}

// end waits until nothing is done any more.
func (s *splineSheets) end() { <-s.done }

// add adds the sheets, or says why there are none.
func (s *splineSheets) add(ctx context.Context) problem.List {
	s.end()
	w, thickness := s.w, s.stock.thickness
	switch {
	case s.err != nil:
		return w.withoutSplines(thickness, s.err)
	case len(s.list) == 0:
		return nil
	}
	problems := w.withNarrowerTabs(ctx, s.stock.what, func(wide float64) problem.List {
		if wide == 0 {
			watched := w.begin("planning "+s.stock.what, len(s.list))
			for range s.list {
				watched.file()
			}
			return s.plan.add(ctx)
		}
		for i := range s.list {
			s.list[i].stock.tabWidth = wide
		}
		return w.cutSheets(ctx, s.list)
	})
	if len(problems) > 0 {
		return w.withoutSplines(thickness, problems[0])
	}
	return nil
}

// lay lays the splines out.
func (s *splineSheets) lay() {
	w := s.w
	if !w.cnc() {
		return
	}
	s.stock = sheetStock{name: "splines", what: "splines", minTabs: 1}
	var full nest.Result
	var runs []int
	var rest []nest.Stack
	for _, u := range w.Order.Units {
		p := u.Spline
		if p == nil {
			continue
		}
		s.stock.thickness = p.Thickness
		part := toolpath.Part{Name: u.Words("spline"), Outline: p.Outline()}
		one, left, err := fullSheet(part, p.Count, w.mostOnSheet(p.Thickness), w.rowOptions())
		if err != nil {
			s.err = err
			return
		}
		if one != nil {
			full.Sheets = append(full.Sheets, *one)
			runs = append(runs, p.Count/len(one.Parts))
		}
		if left > 0 {
			rest = append(rest, nest.Stack{Part: part, Count: left})
		}
	}
	if s.stock.thickness == 0 {
		return
	}
	last, err := nest.Rows(rest, w.rowOptions())
	if err != nil {
		s.err = err
		return
	}
	full.Sheets = append(full.Sheets, last.Sheets...)
	s.list = sheetsOf(s.stock, full, runs...)
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
