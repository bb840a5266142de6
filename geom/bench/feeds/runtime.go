package feeds

import (
	"math"

	"starwright/geom/bench"
	"starwright/geom/problem"
)

// Leg is one straight or round piece of a program's way.
type Leg struct {
	Length    float64
	FeedMMMin float64 // ignored for a rapid
	Rapid     bool    // runs at the machine's own rate
}

// Machine is what limits the legs.
type Machine struct {
	AccelMMS2  float64 // mm/s2, the slowest axis
	RapidMMMin float64
}

// Time is how long a program runs, without tool changes, dwells and the
// spindle's start.
type Time struct {
	AtFeedS    float64 // never stopping: no machine is faster
	WithStopsS float64 // full stop at each corner: no sound machine is slower
}

// Run adds up the time of a program.
//
// Each leg is a trapezoid of speed: from a stop with the machine's acceleration
// a up to the feed v and down again to a stop, L/v + v/a; a leg too short to
// reach the feed, L < v2/a, takes 2 sqrt(L/a). Machines that look ahead do not
// stop at shallow corners, so the truth lies between the two times.
func Run(legs []Leg, m Machine) (Time, error) {
	if !bench.Finite(m.AccelMMS2) || m.AccelMMS2 <= 0 {
		return Time{}, problem.List{{Key: "accel", Got: bench.Num(m.AccelMMS2, 3) + " mm/s2",
			Why: "an acceleration above 0 is needed", Would: "200 mm/s2 (small machines have 100 to 500, common practice)"}}
	}
	var total Time
	for i, l := range legs {
		field, feed := "feed", l.FeedMMMin
		if l.Rapid {
			field, feed = "rapid", m.RapidMMMin
		}
		if !bench.Finite(l.Length) || l.Length < 0 {
			return Time{}, problem.List{{Key: "length of leg", Item: i + 1, Got: bench.Num(l.Length, 3) + " mm", Why: "not a length"}}
		}
		if !bench.Finite(feed) || feed <= 0 {
			return Time{}, problem.List{{Key: field + " of leg", Item: i + 1, Got: bench.Num(feed, 3) + " mm/min",
				Why: "must be above 0", Would: "1200 mm/min"}}
		}
		v := feed / 60
		total.AtFeedS += l.Length / v
		total.WithStopsS += legTime(l.Length, v, m.AccelMMS2)
	}
	return total, nil
}

// legTime returns the seconds of one leg from stop to stop: length in mm, v in
// mm/s, a in mm/s2.
func legTime(length, v, a float64) float64 {
	if length*a < v*v {
		return 2 * math.Sqrt(length/a)
	}
	return length/v + v/a
}
