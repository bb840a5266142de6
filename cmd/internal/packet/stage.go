package packet

import "starwright/cmd/internal/job"

// LoadStar is the first stage of [Load]: numbers, drawings and slot programs of
// the star, without jigs, sheets and stock, which take most of the time.
func LoadStar(in job.Input) (*Work, []job.Error) {
	return loadStar(in, nil)
}
