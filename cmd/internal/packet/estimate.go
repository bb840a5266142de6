package packet

import (
	"math"
	"strconv"

	"starwright/geom"
	"starwright/toolpath"
)

// rapidRate is the speed of rapids assumed for times, mm/min. Common practice,
// no source: hobby machines make 2000 to 6000.
const rapidRate = 3000.0

// estimate returns the minutes a program runs: each move from rest to rest at
// the machine's acceleration (mm/s²), which is what short moves on a small
// machine come to.
func estimate(p toolpath.Program, accel float64) float64 {
	seconds, at := p.SpinUpS, geom.Point3{Z: p.SafeZ}
	for _, s := range p.Steps {
		switch s.Do {
		case toolpath.StepStop:
			seconds += p.SpinUpS
		case toolpath.StepMove:
			feed := s.Feed
			if s.Kind == toolpath.Rapid {
				feed = rapidRate
			}
			seconds += moveSeconds(stepLength(at, s), feed/60, accel)
			at = s.To
		}
	}
	return seconds / 60
}

// moveSeconds is the time of a move of length mm from rest to rest at v mm/s
// and a mm/s²: a trapezoid of speed, or a triangle where it is too short.
func moveSeconds(length, v, a float64) float64 {
	if length <= 0 || v <= 0 {
		return 0
	}
	if a <= 0 {
		return length / v
	}
	if length < v*v/a {
		return 2 * math.Sqrt(length/a)
	}
	return length/v + v/a
}

func stepLength(from geom.Point3, s toolpath.Step) float64 {
	if s.Kind != toolpath.ArcCW && s.Kind != toolpath.ArcCCW {
		return from.Dist(s.To)
	}
	a, b := from.XY().Sub(s.Center).Angle(), s.To.XY().Sub(s.Center).Angle()
	turn := (b - a).Normal()
	if s.Kind == toolpath.ArcCW {
		turn = (a - b).Normal()
	}
	if turn == 0 {
		turn = 2 * math.Pi
	}
	return math.Hypot(from.XY().Dist(s.Center)*float64(turn), s.To.Z-from.Z)
}

// formatNumber prints a coordinate as a program shows it: 3 decimals of a
// millimetre, 4 of an inch, without trailing zeros.
func formatNumber(v, unitMM float64) string {
	k := 1000.0
	if unitMM > 1 {
		k = 10000
	}
	return strconv.FormatFloat(math.Round(v*k)/k, 'f', -1, 64)
}
