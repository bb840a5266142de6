package backplot

// budget bounds the work on one program, so that no file can hold the judge up:
// how many cuts may be looked at in all, and for each move on the way. A program
// of long cuts looks at a few for each move, a relief of short lines at some
// hundred. A program that needs more gets a finding, tangle: no file passes because
// the judge stopped looking.
type budget struct {
	tangleFree    int
	tanglePerMove int
	maxBeyond     int // sweeps that are measured after the findings are full, or repeat one at fault
}

// usualBudget is a few seconds of work for a program of a million moves.
func usualBudget() budget { return budget{150_000_000, 100, 50_000} }

// tooTangled reports whether so many cuts lie over each other that they are
// not judged any further, and says so once.
func (r *Replay) tooTangled(line int) bool {
	if r.tangled || r.field.looked <= r.budget.tangleFree+r.budget.tanglePerMove*r.moves {
		return r.tangled
	}
	r.tangled = true
	r.find(line, "tangle", "so many cuts lie over each other that what they leave is not worked out from here on", 0, r.at,
		"nothing is known of the wood beyond this line")
	return true
}

// oldFault reports whether a cut repeats one along the very same way that is
// at least as deep and at fault already. Up to maxBeyond times it is judged
// all the same, and so is any that goes deeper.
func (r *Replay) oldFault(s, old *sweep) bool {
	if old == nil || old.clear || !old.level() || s.low() < old.zA {
		return false
	}
	r.repeated++
	return r.repeated > r.budget.maxBeyond
}
