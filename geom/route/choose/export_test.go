package choose

import (
	"testing"

	"starwright/geom/route"
	"starwright/geom/star"
)

// Jobs and SlotPath are the jobs of this package's tests, for those that
// look at it from outside.
func Jobs(t *testing.T) []testJob { return testJobs(t) }

// Name says what a job is.
func (j testJob) Name() string { return j.name }

// SlotPath is the path of a slot program in the tests.
func SlotPath(u *star.Unit, hand string) string { return "gcode/" + u.File("slot-"+hand) + ".nc" }

// Facets returns the set-ups that cut the facets of a unit, with a correction in
// their readings and in how the work lies.
func Facets(j Given, c Correct) ([]route.Setup, error) {
	k, problems := NewCorrector(j)
	if len(problems) > 0 {
		return nil, problems
	}
	all, err := k.Facets(c.Unit, c.Angle)
	if err != nil {
		return nil, err
	}
	return all[0], nil
}
