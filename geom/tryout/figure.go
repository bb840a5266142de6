package tryout

import (
	"fmt"
	"math"

	"starwright/geom"
)

// Figure is one thing that was measured.
type Figure struct {
	Name  string // outline, joint, reach, slot, count, contact
	Setup string // name of the set-up, "" where it is of the whole route
	Value float64
	Limit float64
	Unit  string // mm, degrees or pieces
	Pass  bool
	Why   string // of one that does not pass: what happens at the bench
}

// Report is what came of a route.
type Report struct {
	Figures []Figure
}

// Faults returns the figures that do not pass, in the order of the work.
func (r *Report) Faults() []Figure {
	var out []Figure
	for _, f := range r.Figures {
		if !f.Pass {
			out = append(out, f)
		}
	}
	return out
}

// Worst returns, for each name in the order of its first appearance, the figure
// that comes nearest to its limit or passes it by the most.
func (r *Report) Worst() []Figure {
	var out []Figure
	at := map[string]int{}
	for _, f := range r.Figures {
		i, seen := at[f.Name]
		if !seen {
			at[f.Name] = len(out)
			out = append(out, f)
		} else if f.excess() > out[i].excess() {
			out[i] = f
		}
	}
	return out
}

// excess is how much of its limit a figure takes; one that fails comes before
// all that pass.
func (f Figure) excess() float64 {
	e := f.Value
	if f.Limit > 0 {
		e /= f.Limit
	}
	if !f.Pass {
		return math.Inf(1)
	}
	return e
}

// atMost records a value that may not exceed a limit.
func (b *bench) atMost(name, setup string, value, limit float64, why string, args ...any) bool {
	ok := value <= limit
	f := Figure{Name: name, Setup: setup, Value: value, Limit: limit, Unit: "mm", Pass: ok}
	if !ok {
		f.Why = fmt.Sprintf(why, args...)
	}
	b.report.Figures = append(b.report.Figures, f)
	return ok
}

// in is a length (mm) as a fault gives it.
func (b *bench) in(mm float64) geom.Measure { return geom.Measure{MM: mm, Unit: b.want.Unit} }

// fault records something that is plainly wrong.
func (b *bench) fault(name, setup, why string, args ...any) {
	b.report.Figures = append(b.report.Figures, Figure{Name: name, Setup: setup, Value: 1, Unit: "faults", Why: fmt.Sprintf(why, args...)})
}
