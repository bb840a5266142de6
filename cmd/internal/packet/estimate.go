package packet

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"starwright/geom"
	"starwright/toolpath"
)

// rapidRate is the speed of rapids assumed for times, mm/min. Common practice,
// no source: hobby machines make 2000 to 6000.
const rapidRate = 3000.0

// estimate returns the minutes a program runs: each move from rest to rest at
// the machine's acceleration (mm/s²), which is what short moves on a small
// machine come to. Where the cutter waits before the first move nobody knows, so the
// way there is not counted.
func estimate(p toolpath.Program, accel float64) float64 {
	seconds, at := p.SpinUpS, geom.Point3{Z: p.SafeZ}
	if i := slices.IndexFunc(p.Steps, func(s toolpath.Step) bool { return s.Do == toolpath.StepMove }); i >= 0 {
		at.X, at.Y = p.Steps[i].To.X, p.Steps[i].To.Y
	}
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

// moveTimes are the seconds of each move of a program as it was read back, by the
// same reckoning as [estimate]: what shows a program move by move comes to the same
// end. The spindle's way up to speed is part of the first move, and after each line
// where the program stops of the next.
func moveTimes(moves []toolpath.Move, stops []int, spinUpS, accel float64) []float64 {
	out := make([]float64, len(moves))
	wait := spinUpS
	for i, m := range moves {
		for len(stops) > 0 && m.Line > stops[0] {
			wait, stops = wait+spinUpS, stops[1:]
		}
		feed, length := m.Feed, m.From.Dist(m.To)
		if m.Kind == toolpath.Rapid {
			feed = rapidRate
		}
		if m.IsArc() {
			length = math.Hypot(m.From.XY().Dist(m.Center)*math.Abs(float64(m.Sweep)), m.To.Z-m.From.Z)
		}
		out[i] = wait + moveSeconds(length, feed/60, accel)
		wait = 0
	}
	return out
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

// runLine says at a program's head how often it runs, and how long.
func runLine(p Program) string {
	if p.Quantity == 1 {
		return fmt.Sprintf("Run: 1 time for the batch, about %.1f minutes", p.Minutes)
	}
	return fmt.Sprintf("Run: %d times for the batch, about %.1f minutes each", p.Quantity, p.Minutes)
}
