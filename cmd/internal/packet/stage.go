package packet

import (
	"context"
	"slices"
	"strings"

	"starwright/cmd/internal/benchwork"
	"starwright/cmd/internal/job"
	"starwright/geom/problem"
)

// A job is worked out in two stages, so that a page can show the first before the
// second is done: [Start] has the numbers and the star, [Work.Finish] the way
// through the shop with its jigs, the sheets and their programs. Both end early
// where their context does.

// Load works out a job, with the shop's file where there is one: both stages. The error is of type [JobErrors] where
// the job cannot be made, and the context's own where that has ended. watch hears
// how far it is, here and in all that is done with the work afterwards; it may be
// nil.
func Load(ctx context.Context, in job.Input, watch Progress) (*Work, error) {
	w, err := Start(ctx, in, watch)
	if err == nil {
		err = w.Finish(ctx)
	}
	if err != nil {
		return nil, err
	}
	return w, nil
}

// Start is the first stage of [Load], a hundredth of the whole: the numbers of
// the job, the drawings of its stars and their slot programs.
func Start(ctx context.Context, in job.Input, watch Progress) (*Work, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	j, order, errs := job.Load(in)
	if len(errs) > 0 {
		return nil, JobErrors(errs)
	}
	w := &Work{Job: j, Source: in.Job.Data, Order: order, watch: watch}
	if in.Shop != nil {
		w.Shop = in.Shop.Data
	}
	if problems := w.begun(); len(problems) > 0 {
		return nil, asErrors(j, problems)
	}
	return w, nil
}

// begun draws the stars of the order and plans their slots.
func (w *Work) begun() (problems problem.List) {
	w.Drawings = starDrawings(w)
	w.Programs, problems = slotPrograms(w)
	return problems
}

// Finish is the second stage of [Load]: what the bench needs, the route and its
// jigs, and where the shop has a machine that cuts them, the sheets with their
// programs. Where the cutter for the sheets does not get round some part, the shop's
// next best is tried. A work that could not be finished is not to be used.
func (w *Work) Finish(ctx context.Context) error {
	job, problems := w.Job, w.finish(ctx)
	first := problems
	for cutterAtFault(problems) && ctx.Err() == nil && w.next() {
		problems = w.finish(ctx)
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if len(problems) > 0 {
		return asErrors(job, first)
	}
	return w.cost()
}

// next begins the work again with the shop's next best cutter for the sheets, where
// there is one.
func (w *Work) next() bool {
	j, order, ok := w.Job.Next()
	if !ok {
		return false
	}
	w.Job, w.Order, w.Programs, w.Warnings, w.corrector = j, order, nil, nil, corrector{}
	return len(w.begun()) == 0
}

// cutterAtFault reports whether another cutter may mend a problem.
func cutterAtFault(ps problem.List) bool {
	return slices.ContainsFunc(ps, func(p problem.Problem) bool {
		return strings.HasPrefix(p.Key, "cutter.") || p.Key == "sheet.spacing"
	})
}

func (w *Work) finish(ctx context.Context) problem.List {
	var problems problem.List
	if w.Job.IsOrder() || w.Order.Units[0].TwoWoods() {
		w.Bench, problems = benchwork.NewOrder(w.Job, w.Order)
	} else {
		w.Bench, problems = benchwork.New(w.Job, w.Order.FromBoards()[0], w.Order.Cutter)
	}
	if ps := w.segments(ctx); len(ps) > 0 { // without them there is no way through the shop
		return append(problems, ps...)
	}
	problems = append(problems, w.kit(ctx)...)
	if ctx.Err() == nil && len(problems) == 0 {
		w.laserDrawings()
	}
	return problems
}

func asErrors(j *job.Job, ps problem.List) JobErrors {
	out := make(JobErrors, len(ps))
	for i, p := range ps {
		out[i] = j.Error(p)
	}
	return out
}
