package jig

import (
	"slices"

	"starwright/geom"
	"starwright/geom/star"
)

// AllUnits stands for every star of an order.
const AllUnits = -1

// Want is a jig that somebody asks for: a set-up of the route, or the job
// itself by its name.
type Want struct {
	Key   string     // kind, see [Keys]
	Unit  int        // index of the star in the order whose work it holds, or [AllUnits]
	Hand  string     // left or right; "" for both, and for kinds that have none
	Angle geom.Angle // of an angle block; 0 for those that [Blocks] chooses
	Sets  int        // how many of it; 0 stands for one
}

// asked returns how many sets of a jig several wants ask for.
func (j *Jig) asked(o *star.Order, wants []Want) (sets int) {
	near := func(a, b geom.Angle) bool { return a-b < angleSlack && b-a < angleSlack }
	for _, w := range wants {
		switch {
		case w.Key != j.Key,
			w.Hand != "" && j.Hand != "" && w.Hand != j.Hand,
			w.Unit != AllUnits && !slices.Contains(j.For, o.Units[w.Unit]),
			w.Angle > 0 && !near(w.Angle, j.Angle):
			continue
		}
		sets = max(sets, w.Sets, 1)
	}
	return sets
}

// Named turns names of jigs, as in `[jigs] make`, into wants for both hands and
// all stars.
func Named(keys []string) []Want {
	var out []Want
	for i, k := range keys {
		if !slices.Contains(keys[:i], k) {
			out = append(out, Want{Key: k, Unit: AllUnits})
		}
	}
	return out
}
