package packet

import (
	"context"
	"errors"
	"fmt"

	"starwright/cmd/internal/job"
	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/problem"
	"starwright/toolpath"
	"starwright/toolpath/nest"
)

// JigChoices says which jigs are worth making where the job names none, and why.
// Of an order it says so star by star.
func (w *Work) JigChoices() []jig.Choice {
	if !w.Job.IsOrder() {
		return jig.Default(w.Order, w.jigParams(w.sheetBit()), w.shop())
	}
	var out []jig.Choice
	for _, u := range w.Order.FromBoards() {
		for _, c := range jig.Default(w.Order.Only(u), w.jigParams(w.sheetBit()), w.shop()) {
			c.Why = u.Spec.Name + ": " + c.Why
			out = append(out, c)
		}
	}
	return out
}

// shop is what the choice of jigs needs to know of the shop: a saw that saws no
// segments needs none.
func (w *Work) shop() jig.Shop {
	has := w.Job.Shop.With
	return jig.Shop{MitreSaw: has(job.MitreSaw) && !w.Job.Segments.CNC, CNC: has(job.CNC), RouterTable: has(job.RouterTable)}
}

// cnc reports whether the shop has a machine that runs programs.
func (w *Work) cnc() bool { return w.Job.Shop.With(job.CNC) }

// sheetBit is the diameter of the cutter that jigs and splines are cut with, mm.
func (w *Work) sheetBit() float64 { return *w.Job.Sheets.Diameter }

// jigParams is what the kit depends on, for a cutter or, at 0, a laser.
func (w *Work) jigParams(cutter float64) jig.Params {
	s := w.Job.Sheet
	s.Margin = max(s.Margin, w.sheetBit())
	p := jig.Params{
		Cutter: cutter, MaxMiter: w.Job.Saw.MaxMiter,
		MaxW: s.Width - 2*s.Margin, MaxH: s.Height - 2*s.Margin, Margin: s.Margin, Thickness: s.Thickness, Named: w.Job.Jigs.Make,
	}
	if s.ScrewZones {
		p.Corner = screwZone + w.nestOptions().ZoneSpacing() - s.Margin
	}
	return p
}

// nestKit nests the kit.
func nestKit(ctx context.Context, w *Work, items *nest.Batch, o nest.Options) (nest.Result, problem.List) {
	w.begin("nesting jigs", 1) // one search, which cannot say how far it is
	result, err := items.Nest(ctx, o)
	return result, asProblems(err)
}

// jigItems returns the parts of a kit, each as often as it is needed.
func jigItems(kit []jig.Jig) (items []nest.Item) {
	for _, j := range kit {
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
			items = append(items, nest.Item{Part: p})
		}
	}
	return items
}

func (w *Work) nestOptions() nest.Options {
	s := w.Job.Sheet
	o := nest.Options{W: s.Width, H: s.Height, Margin: max(s.Margin, w.sheetBit()), Spacing: w.spacing(), Cutter: w.sheetBit(), Unit: w.Job.Units}
	o.Zones = w.cornersOf(s.Width, s.Height)
	return o
}

// cornersOf are the squares for screws in the corners of a sheet, where the job keeps
// them free.
func (w *Work) cornersOf(wide, high float64) []geom.Box {
	if !w.Job.Sheet.ScrewZones {
		return nil
	}
	return nest.CornerZones(wide, high, screwZone)
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
	return w.sheetBit() + 2
}

// asProblems turns an error of a planner into problems of the job.
func asProblems(err error) problem.List {
	var large *nest.TooLarge
	var one problem.Problem
	var many problem.List
	switch {
	case err == nil:
		return nil
	case errors.As(err, &large):
		return problem.List{large.Problem()}
	case errors.As(err, &one):
		return problem.List{one}
	case errors.As(err, &many):
		return many
	}
	return problem.List{{Key: "sheet", Why: err.Error()}}
}
