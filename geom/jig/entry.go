package jig

import (
	"fmt"

	"starwright/geom"
	"starwright/geom/problem"
	"starwright/geom/star"
)

// mostBite is the largest part of a seat's edge that its reliefs may take.
const mostBite = 0.8

// leastCutter is the smallest cutter worth naming to a user, mm.
const leastCutter = 0.8

// hold is an edge that holds work, with the openings of the inside corners at
// its ends.
type hold struct {
	length   float64 // mm
	openings []geom.Angle
}

// loss returns what the reliefs at its ends take of the edge, mm.
func (h hold) loss(cutter float64) float64 {
	sum := 0.0
	for _, o := range h.openings {
		sum += biteLoss(o, cutter)
	}
	return sum
}

// entry says what is wrong where the cutter's reliefs leave too little of the
// edges that hold the work in the jig what.
func entry(u *star.Unit, cutter float64, what, key string, holds ...hold) problem.List {
	in := u.Spec.Unit
	for _, h := range holds {
		if h.loss(cutter) <= mostBite*h.length {
			continue
		}
		would := without(key)
		if d := in.Floor(largestCutter(cutter, holds)); d >= leastCutter {
			would = fmt.Sprintf("diameter = %q, or %s", in.Format(d), would)
		}
		return problem.List{{
			Key: "cutter.diameter", Got: in.FormatSize(cutter),
			Why: fmt.Sprintf("the %s holds the work by edges %s long, and to reach their corners the cutter takes %s of them",
				what, in.Format(h.length), in.Format(h.loss(cutter))),
			Would: would,
		}}
	}
	return nil
}

// largestCutter returns the largest cutter below most that leaves enough of all
// edges, mm. The loss grows with the cutter, so that halving finds it.
func largestCutter(most float64, holds []hold) float64 {
	low, high := 0.0, most
	for range 40 {
		d := (low + high) / 2
		fits := true
		for _, h := range holds {
			fits = fits && h.loss(d) <= mostBite*h.length
		}
		if fits {
			low = d
		} else {
			high = d
		}
	}
	return low
}
