package planner

import (
	"math"

	"starwright/geom"
)

// rampMost is the steepest ramp that is offered: most cutters cut poorly at their
// middle. Common practice, no source.
const rampMost = 20 * geom.Degree

// steeper returns the next half degree above an angle.
func steeper(a geom.Angle) geom.Angle {
	return geom.Deg(math.Floor(a.Degrees()*2+1+geom.Rounding) / 2)
}

// Steeper returns the flattest ramp above an angle, in half degrees, that will do,
// as it is written in a job; "" where none does that is worth offering.
func Steeper(than geom.Angle, does func(geom.Angle) bool) string {
	for a := steeper(than); a <= rampMost; a = steeper(a) {
		if does(a) {
			return a.Format()
		}
	}
	return ""
}
