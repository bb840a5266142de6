package choose

import (
	"testing"

	"starwright/geom/star"
)

// Jobs and SlotPath are the jobs of this package's tests, for those that
// look at it from outside.
func Jobs(t *testing.T) []testJob { return testJobs(t) }

// Name says what a job is.
func (j testJob) Name() string { return j.name }

// SlotPath is the path of a slot program in the tests.
func SlotPath(u *star.Unit, hand string) string { return "gcode/" + u.File("slot-"+hand) + ".nc" }
