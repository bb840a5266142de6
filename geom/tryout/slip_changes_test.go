package tryout_test

import (
	"fmt"
	"slices"

	"starwright/geom"
	"starwright/geom/route"
	"starwright/geom/tryout"
)

// slip changes one set-up of a route, or the route, as a slip of someone who writes
// one would; false where it has nothing to do with it.
type slip struct {
	name   string
	change func(r *route.Route, w *tryout.Want, i int) bool
}

// of makes a slip of a change to one set-up.
func of(name string, change func(s *route.Setup) bool) slip {
	return slip{name, func(r *route.Route, _ *tryout.Want, i int) bool { return change(&r.Setups[i]) }}
}

// sawn reports whether a set-up saws an outline on the machine.
func sawn(s *route.Setup) bool { return s.Cut != nil && s.Machine == route.MitreSaw }

// length adds to a printed length.
func length(name string, by float64) func(*route.Setup) bool {
	return func(s *route.Setup) bool {
		for k, r := range s.Readings {
			if r.Name == name && r.MM != nil {
				v := *r.MM + by
				s.Readings = slices.Clone(s.Readings)
				s.Readings[k].MM, s.Readings[k].Printed = &v, fmt.Sprintf("%.3f mm", v)
				return true
			}
		}
		return false
	}
}

// degrees sets a printed angle to another one.
func degrees(name string, to func(float64) float64) func(*route.Setup) bool {
	return func(s *route.Setup) bool {
		for k, r := range s.Readings {
			if r.Name == name && r.Deg != nil {
				v := to(*r.Deg)
				if v == *r.Deg {
					return false
				}
				s.Readings = slices.Clone(s.Readings)
				s.Readings[k].Deg, s.Readings[k].Printed = &v, fmt.Sprintf("%.3f°", v)
				return true
			}
		}
		return false
	}
}

func drop(name string) func(*route.Setup) bool {
	return func(s *route.Setup) bool {
		n := len(s.Readings)
		s.Readings = slices.DeleteFunc(slices.Clone(s.Readings), func(r route.Reading) bool { return r.Name == name })
		return len(s.Readings) < n
	}
}

// touches changes the contacts of one kind.
func touches(what string, change func(s *route.Setup, t *route.Touch) bool) func(*route.Setup) bool {
	return func(s *route.Setup) bool {
		s.Touches = slices.Clone(s.Touches)
		for k := range s.Touches {
			if s.Touches[k].What == what && change(s, &s.Touches[k]) {
				return true
			}
		}
		return false
	}
}

func plus(by float64) func(float64) float64 { return func(v float64) float64 { return v + by } }

// copied gives a set-up its own parts, so that a slip does not reach the next.
func copied(s *route.Setup) {
	if s.Cut != nil {
		c := *s.Cut
		s.Cut = &c
	}
	if s.Hold != nil {
		h := *s.Hold
		s.Hold = &h
	}
	if s.Piece != nil {
		p := *s.Piece
		p.Before, p.After = slices.Clone(p.Before), slices.Clone(p.After)
		s.Piece = &p
	}
	if s.Slot != nil {
		x := *s.Slot
		s.Slot = &x
	}
	if s.Join != nil {
		j := *s.Join
		j.Parts = slices.Clone(j.Parts)
		s.Join = &j
	}
	s.Jigs = slices.Clone(s.Jigs)
}

// nextEdge lays the next edge of the piece against what is touched.
func nextEdge(s *route.Setup, t *route.Touch) bool {
	if t.Edge < 0 {
		return false
	}
	t.Edge = (t.Edge + 1) % len(s.Piece.Before)
	return true
}

// several reports whether a unit is cut in two stages.
func several(r *route.Route, unit int) bool {
	return slices.ContainsFunc(r.Setups, func(s route.Setup) bool { return s.Unit == unit && s.Stage == route.Rest })
}

// bent turns one side of a jig's notch in its drawing.
func bent(s *route.Setup, w *tryout.Want, what string) bool {
	for _, t := range s.Touches {
		p, ok := w.Plates[t.Jig]
		if t.What != what || !ok {
			continue
		}
		plates := map[string]tryout.Plate{}
		for k, q := range w.Plates {
			plates[k] = q
		}
		c := slices.Clone(p.Outline)
		turn := geom.Place{Turn: 0.5 * geom.Degree}
		for k := range c {
			c[k].Point = turn.Point(c[k].Point)
		}
		plates[t.Jig] = tryout.Plate{Outline: c, Holes: p.Holes}
		w.Plates = plates
		return true
	}
	return false
}
