package packet

import (
	"errors"
	"fmt"
	"slices"

	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/star"
	"starwright/toolpath"
	"starwright/toolpath/nest"
	"starwright/toolpath/plan"
)

// cuttable leaves out, with a warning, the jigs that the job's cutter and tabs
// cannot cut even from a sheet of their own. Where that is all of them and the
// job itself gives the value at fault, it is an error.
func (w *Work) cuttable(kit []jig.Jig, stock sheetStock) ([]jig.Jig, []star.Problem) {
	problems := make([][]star.Problem, len(kit))
	done := w.begin("trying jigs", len(kit))
	inParallel(len(kit), func(i int) {
		defer done.file()
		problems[i] = w.alone(kit[i], stock)
	})
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
	p := w.jigParams(w.Order.Cutter)
	if p.Keys != nil {
		return jig.Kit(w.Order, p)
	}
	keys := jig.Needed(w.Order, p)
	made := make([][]jig.Jig, len(keys))
	problems := make([][]star.Problem, len(keys))
	done := w.begin("drawing jigs", len(keys))
	inParallel(len(keys), func(i int) {
		defer done.file()
		one := p
		one.Keys = keys[i : i+1]
		made[i], problems[i] = jig.Kit(w.Order, one)
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
	w.begin("nesting jigs", 1) // one search, which cannot say how far it is
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
	o := nest.Options{W: s.Width, H: s.Height, Margin: max(s.Margin, w.Order.Cutter), Spacing: w.spacing(), Cutter: w.Order.Cutter, Unit: w.Job.Units}
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
	return w.Order.Cutter + 2
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
