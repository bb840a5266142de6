package planner

import (
	"starwright/geom"
	"starwright/toolpath"
)

// Cutting is the cutter and the machine, and how they are run: the same for every
// program of a job. Lengths are mm, feeds mm/min.
type Cutting struct {
	CutterDiameter float64
	DepthPerPass   float64 // most; passes are equal
	Feed           float64
	PlungeFeed     float64 // most the cutter may sink per minute
	RampMax        geom.Angle
	RPM, SpinUpS   float64
	SafeZ          float64 // height of travel
	Approach       float64 // height where a rapid down ends
	Climb          bool    // side of cut; conventional without it
	Accel          float64 // of the machine, mm/s²; 0 where arcs need not heed it
	// Park is where the cutter leaves the work to, at the stops and at the end; nil
	// to stay over it.
	Park *toolpath.Park
}
