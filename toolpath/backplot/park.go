package backplot

import "fmt"

// parkTol is how much nearer than asked the cutter may be left, mm: no hand
// notices it.
const parkTol = 1.0

// parked holds the place in which the cutter is left for the operator against
// where the job wants it.
func (r *Replay) parked(line int, when string) {
	if r.Park == nil || !r.started {
		return
	}
	is, axis := r.at.X, "X"
	if r.Park.Axis == 1 {
		is, axis = r.at.Y, "Y"
	}
	short := r.Park.To - is
	if r.Park.Back {
		short = -short
	}
	if short > parkTol {
		r.find(line, "park", fmt.Sprintf("%s with the cutter at %s %.3f, the job parks it at %s %.3f", when, axis, r.in(is), axis, r.in(r.Park.To)), short, r.at,
			"hands that change the work reach in under the cutter")
	}
}
