package tryout

import (
	"math"
	"strings"

	"starwright/geom"
	"starwright/geom/route"
)

// readings looks whether every number has a print and a value.
func (b *bench) readings(s *route.Setup) {
	for _, r := range s.Readings {
		switch {
		case strings.TrimSpace(r.Printed) == "":
			b.fault("reading", s.Name, "%s has a value and no print", r.Name)
		case (r.MM == nil) == (r.Deg == nil):
			b.fault("reading", s.Name, "%s is neither a length nor an angle", r.Name)
		case r.MM != nil && !printed(r.Printed, *r.MM, lengthOf):
			b.fault("reading", s.Name, "%s prints %q, which is not %.3m", r.Name, r.Printed, b.in(*r.MM))
		case r.Deg != nil && !printed(r.Printed, *r.Deg, angleOf):
			b.fault("reading", s.Name, "%s prints %q, which is not %.3f degrees", r.Name, r.Printed, *r.Deg)
		}
	}
}

// thousandth is how far a number that is printed may lie from the one meant: of
// itself, or of a hundred for smaller ones.
const thousandth = 1e-3

// printed reports whether a text says a number.
func printed(text string, want float64, read func(string) (float64, bool)) bool {
	got, ok := read(text)
	return ok && math.Abs(got-want) <= thousandth*math.Max(1, math.Abs(want)/100)
}

// find returns a reading by its name.
func find(s *route.Setup, name string) (route.Reading, bool) {
	for _, r := range s.Readings {
		if r.Name == name {
			return r, true
		}
	}
	return route.Reading{}, false
}

// mm returns a printed length; a set-up that lacks it cannot be made.
func (b *bench) mm(s *route.Setup, name string) float64 {
	r, ok := find(s, name)
	if !ok || r.MM == nil {
		b.fault("reading", s.Name, "it needs the length %q and does not print it", name)
		return 0
	}
	return *r.MM
}

// degrees returns a printed angle.
func (b *bench) degrees(s *route.Setup, name string) geom.Angle {
	r, ok := find(s, name)
	if !ok || r.Deg == nil {
		b.fault("reading", s.Name, "it needs the angle %q and does not print it", name)
		return 0
	}
	return geom.Deg(*r.Deg)
}
