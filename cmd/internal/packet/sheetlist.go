package packet

import (
	"cmp"
	"context"
	"slices"
	"sync/atomic"

	"starwright/geom/problem"
	"starwright/toolpath"
	"starwright/toolpath/nest"
	"starwright/toolpath/planner"
)

// sheetToCut is a sheet with what lies on it, and how often it is cut.
type sheetToCut struct {
	stock sheetStock
	parts []toolpath.Part
	runs  int
}

// plannedSheet is a nested sheet with its program.
type plannedSheet struct {
	job      planner.SheetJob
	program  toolpath.Program
	report   planner.SheetReport
	minutes  float64 // that the program runs
	problems problem.List
}

// sheetList is sheets that are added all or none, while they are planned.
type sheetList struct {
	w       *Work
	list    []sheetToCut
	planned []plannedSheet
	done    []bool // which are
}

// sheetsOf are the sheets of a nest. runs says how often each program is run, once
// where it is short.
func sheetsOf(stock sheetStock, r nest.Result, runs ...int) []sheetToCut {
	list := make([]sheetToCut, len(r.Sheets))
	for i, s := range r.Sheets {
		list[i] = sheetToCut{stock: stock, runs: 1}
		for _, p := range s.Parts {
			list[i].parts = append(list[i].parts, p.Part)
		}
		if i < len(runs) {
			list[i].runs = runs[i]
		}
	}
	return list
}

// cutSheets adds drawing and program of each sheet, all or none. Where the context
// ends nothing is added, and what is returned is of no use.
func (w *Work) cutSheets(ctx context.Context, list []sheetToCut) problem.List {
	l := w.sheetList(list)
	l.plan(ctx, all)
	return l.add(ctx)
}

func (w *Work) sheetList(list []sheetToCut) *sheetList {
	return &sheetList{w, list, make([]plannedSheet, len(list)), make([]bool, len(list))}
}

// howFar says which sheets are planned.
type howFar bool

const (
	all           howFar = false
	untilOneFails howFar = true // and the rest is of no use: it took a quarter of a plan
)

// plan plans the sheets that are not planned yet, as far as is asked.
func (l *sheetList) plan(ctx context.Context, far howFar) {
	left := 0
	for _, done := range l.done {
		if !done {
			left++
		}
	}
	if left > 0 {
		l.work(ctx, far, l.w.begin("planning "+l.list[0].stock.what, left).file)
	}
}

// work is [sheetList.plan], and tells of each sheet. Those of the most parts come
// first, for they take longest and fail soonest, and of equal ones the last, on which
// lies what found no room on the others.
func (l *sheetList) work(ctx context.Context, far howFar, tell func()) {
	var order []int
	for i, done := range slices.Backward(l.done) {
		if !done {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(i, k int) int { return cmp.Compare(len(l.list[k].parts), len(l.list[i].parts)) })
	var failed atomic.Bool
	inParallel(len(order), func(n int) {
		defer tell()
		if ctx.Err() != nil || far == untilOneFails && failed.Load() {
			return
		}
		i := order[n]
		l.planned[i], l.done[i] = l.w.planSheet(i+1, l.list[i]), true
		if len(l.planned[i].problems) > 0 {
			failed.Store(true)
		}
	})
}

// fit reports whether all sheets are planned and none has a problem.
func (l *sheetList) fit() bool {
	for i, p := range l.planned {
		if !l.done[i] || len(p.problems) > 0 {
			return false
		}
	}
	return true
}

// add adds drawing and program of each sheet, once all are planned; of sheets with
// problems it returns those.
func (l *sheetList) add(ctx context.Context) problem.List {
	if err := ctx.Err(); err != nil {
		return asProblems(err)
	}
	var problems problem.List
	for _, p := range l.planned {
		problems = append(problems, p.problems...)
	}
	if len(problems) > 0 {
		return oneOfEach(problems)
	}
	for i, p := range l.planned {
		l.w.addSheet(l.list[i].stock, i+1, len(l.planned), p, l.list[i].runs)
	}
	return nil
}

func (w *Work) planSheet(number int, s sheetToCut) plannedSheet {
	stock := s.stock
	p := plannedSheet{job: w.sheetJob(stock, number, s.parts)}
	if stock.tabWidth > 0 {
		p.job.Tabs.Width = stock.tabWidth
	}
	p.job.FewestTabs = fewestTabs(p.job.Tabs.Count, stock.minTabs)
	var err error
	p.program, p.report, err = planner.Sheet(p.job)
	p.problems = oneOfEach(asProblems(err))
	p.minutes = estimate(p.program, w.Job.Machine.Accel)
	return p
}
