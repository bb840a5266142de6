package planner

import (
	"starwright/geom"
	"starwright/toolpath"
)

// parked returns the step that takes the cutter off the work, from a place at
// the safe height; none where it is to stay, or is as far off already.
func parked(park *toolpath.Park, at geom.Point3) []toolpath.Step {
	if park == nil {
		return nil
	}
	c := &at.X
	if park.Axis == 1 {
		c = &at.Y
	}
	if park.Back && *c <= park.To || !park.Back && *c >= park.To {
		return nil
	}
	*c = park.To
	return []toolpath.Step{toolpath.RapidTo(at)}
}
