package packet

import (
	"context"
	"math"
	"slices"

	"starwright/cmd/internal/job"
	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/problem"
	"starwright/geom/route"
)

// usualSheets are the sizes in which sheet is sold or cut down by the seller, small
// ones first, of which the first is a job's where it says nothing: mm, and inches. Common practice, no source.
var usualSheets = map[geom.Unit][][2]float64{
	geom.Millimetre: {{300, 300}, {600, 300}, {600, 600}, {1200, 600}, {1220, 1220}, {2440, 1220}},
	geom.Inch:       {{12, 12}, {24, 12}, {24, 24}, {48, 24}, {48, 48}, {96, 48}},
}

// kit works out the route and its jigs, and where the shop has a machine for them
// the sheets of jigs and splines. Where the job does not say how large the sheets
// are and the usual small one does not hold the kit, the next larger that does is
// taken.
func (w *Work) kit(ctx context.Context) problem.List {
	before, sizes := w.attempt(), w.sheetSizes()
	w.resize(sizes[0])
	problems, small := w.tryKit(ctx)
	for _, size := range sizes[1:] {
		if !small || ctx.Err() != nil {
			break
		}
		was := w.attempt()
		w.take(before)
		w.resize(size)
		ps, still := w.tryKit(ctx)
		if still && (len(ps) > 0 || len(problems) == 0) {
			w.take(was)
			continue
		}
		problems, small = ps, still
	}
	return problems
}

// attempt is what an attempt at the kit changes in a work.
type attempt struct {
	job      *job.Job
	drawings []Drawing
	programs []Program
	warnings []problem.Note
	route    route.Route
	jigs     []jig.Jig
	wants    []jig.Want
}

func (w *Work) attempt() attempt {
	return attempt{w.Job, w.Drawings, w.Programs, w.Warnings, w.Route, w.Jigs, w.wants}
}

func (w *Work) take(a attempt) {
	w.Job, w.Drawings, w.Programs, w.Warnings, w.Route, w.Jigs, w.wants = a.job, a.drawings, a.programs, a.warnings, a.route, a.jigs, a.wants
}

// tryKit works the kit out with the sheet as it is, on copies of what stands in
// the work; small says that a larger sheet may do better.
func (w *Work) tryKit(ctx context.Context) (problems problem.List, small bool) {
	w.Programs, w.Drawings, w.Warnings = slices.Clone(w.Programs), slices.Clone(w.Drawings), slices.Clone(w.Warnings)
	told, splines := len(w.Warnings), beginSplines(ctx, w)
	defer splines.end()
	for _, part := range []func() problem.List{
		w.findRoute,
		func() problem.List { return jigSheets(ctx, w) },
		func() problem.List { return splines.add(ctx) },
	} {
		if problems = part(); len(problems) > 0 || ctx.Err() != nil {
			break
		}
	}
	bySize := func(key string) bool {
		return slices.Contains([]string{"sheet.width", "sheet.height", "sheet.screw_zones", "sheet.spacing"}, key)
	}
	small = slices.ContainsFunc(problems, func(p problem.Problem) bool { return bySize(p.Key) }) ||
		slices.ContainsFunc(w.Warnings[told:], func(n problem.Note) bool { return bySize(n.Key) })
	return problems, small
}

// sheetSizes are the sheets to try in turn, where the job leaves the size open: no
// larger than the machine's travel. Where it gives one side of usual sheets alone,
// they come first, so that a side that was chosen can be written into the job and
// the other is chosen as before.
func (w *Work) sheetSizes() [][2]float64 {
	s, u := w.Job.Sheet, w.Job.Units
	fixed := [2]bool{w.Job.At("sheet.width") > 0, w.Job.At("sheet.height") > 0}
	now := [2]float64{s.Width, s.Height}
	out, usuals := [][2]float64{now}, [][2]float64{}
	if fixed[0] && fixed[1] {
		return out
	}
	for _, usual := range usualSheets[u] {
		size, isUsual := now, true
		for i := range size {
			side := u.Round(usual[i] * u.MM()) // as the job's reader has it, to the last bit
			if t := w.Job.Machine.Travel[i]; t > 0 {
				side = min(side, u.Floor(t))
			}
			if fixed[i] {
				isUsual = math.Abs(side-now[i]) < geom.Rounding
				continue
			}
			size[i] = max(side, now[i])
		}
		if isUsual {
			usuals = append(usuals, size)
		}
		if !slices.Contains(out, size) {
			out = append(out, size)
		}
	}
	if !fixed[0] && !fixed[1] {
		return out
	}
	for _, size := range out {
		if !slices.Contains(usuals, size) {
			usuals = append(usuals, size)
		}
	}
	return usuals
}

// resize takes another sheet, and says so among the defaults. The job is copied:
// what holds the old one keeps it.
func (w *Work) resize(size [2]float64) {
	j := *w.Job
	j.Defaults = slices.Clone(j.Defaults)
	for i, v := range []struct {
		key string
		dst *float64
	}{{"sheet.width", &j.Sheet.Width}, {"sheet.height", &j.Sheet.Height}} {
		if *v.dst == size[i] {
			continue
		}
		*v.dst = size[i]
		for k, n := range j.Defaults {
			if n.Key == v.key {
				j.Defaults[k] = problem.Note{Key: v.key, Value: j.Units.Format(size[i]), Why: "the smallest usual sheet that holds the kit"}
			}
		}
	}
	w.Job = &j
}
