package packet

import (
	"math"
	"strings"

	"starwright/cmd/internal/job"
	"starwright/geom"
	"starwright/toolpath/backplot"
)

// Roundings of what a head prints, mm: of lengths as the job has them, of those
// that are worked out and held against a rule, and of small ones.
const (
	exactTol = 0.002
	ruleTol  = 0.051
	inchTol  = geom.MMPerInch/64 + 0.001
)

// rule is a length that is worked out, as the job's unit prints it.
func (w *Work) rule(v float64) figure {
	if w.Job.Units == geom.Inch {
		return mm(v, inchTol)
	}
	return mm(v, ruleTol)
}

func exactly(v float64) figure { return mm(v, exactTol) }

// passesOf is in how many equal passes a depth is taken, and each of them.
func passesOf(depth float64, l backplot.Limits) (n, each figure) {
	k := int(math.Round(depth / l.StepDown))
	return count(k), exactly(depth / float64(k))
}

func conventionalOr(climb bool) string {
	if climb {
		return "climb"
	}
	return "conventional"
}

// slotSays is what the head of a slot program has to say.
func (w *Work) slotSays(g *Program) []says {
	s, j, l := g.Slot.Unit.Slot, w.of(g.Slot.Unit), g.Task.Limits
	lo, hi, hand, goes := s.Start, s.End, "left", "grows"
	if g.Slot.Mirror {
		lo, hi, hand, goes = -hi, -lo, "right", "falls"
	}
	in := func(v float64) figure { return at(v / g.UnitMM) }
	n, each := passesOf(s.Depth, l)
	which, inName := takeApart(g.Slot.Unit.Words("segment"))
	var figures []figure
	for _, f := range inName { // a star's name may have digits
		figures = append(figures, figure{f, 0})
	}
	return append(w.bothSay(g), []says{
		{"cuts", strings.Join(append([]string{hand, "facet"}, which...), " "), figures},
		{"left and right", "front tip up", nil},
		{"zero", "x centre facet y show z facet", []figure{at(0), at(0), at(0)}},
		{"x", goes + " centre valley", nil},
		{"hold", "facet level show fence y", []figure{at(0)}},
		{"clamps", "lower over facet", []figure{exactly(j.Machine.SafeZ)}},
		{"room below the facet", "", []figure{w.rule(roomBelow(g.Slot.Unit.Segment))}},
		{"slot", "x x centre y", []figure{in(lo), in(hi), in(s.FromFace), exactly(s.Width)}},
		{"depth", "", []figure{exactly(s.Depth), n, each}},
		{"widened", conventionalOr(g.Task.Climb), nil},
		{"stations", "show y", []figure{count(j.Slot.Stations), exactly(j.Slot.Pitch)}},
		{"loads", "", []figure{count(j.Slot.Loads)}},
	}...)
}

// sheetSays is what the head of a sheet's program has to say.
func (w *Work) sheetSays(g *Program) []says {
	sh := g.Task.Sheet
	depth := sh.Thickness + sh.Breakthrough
	n, each := passesOf(depth, g.Task.Limits)
	var slugs []figure
	if n := slugsInTabs(g.Tabs); n > 0 {
		slugs = append(slugs, count(n))
	}
	wood := says{"sheet", "spoilboard", []figure{exactly(sh.Size.X), exactly(sh.Size.Y), exactly(sh.Thickness)}}
	both := append(w.bothSay(g), w.holdSays(*g.Sheet, g.UnitMM)...)
	if g.board {
		wood.label = "board"
		both = append(both, says{"grain", "x", nil}, says{"joint faces", "facet", nil})
	}
	return append(both, []says{
		wood,
		{"inside", "holes outs", slugs},
		{"cuts", "", []figure{count(len(sh.Parts))}},
		{"zero", "x y lower left corner z top", []figure{at(0), at(0), at(0)}},
		{"depth", "spoilboard", []figure{exactly(depth), n, each, exactly(sh.Breakthrough)}},
		{"order", "holes outs outlines " + conventionalOr(g.Task.Climb), nil},
		{"tabs", "", []figure{count(sh.Tabs.Count), exactly(sh.Tabs.Width), exactly(sh.Tabs.Height)}},
	}...)
}

// cutterOf is the cutter of a program.
func (w *Work) cutterOf(g *Program) job.CutterTable {
	if g.Task.Sheet != nil {
		return g.cutter
	}
	return w.Job.Cutter
}

// bothSay is what the heads of all programs have to say.
func (w *Work) bothSay(g *Program) []says {
	minutes := at(g.Minutes)
	minutes.tol = 0.051
	return []says{
		{"cutter", "straight", []figure{exactly(g.Task.Cutter), count(int(math.Round(w.cutterOf(g).SpindleRPM)))}},
		w.parkSays(g),
		{"run", "", []figure{count(g.Quantity), minutes}},
	}
}
