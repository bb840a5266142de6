package draw

import (
	"math"

	"starwright/geom"
	"starwright/post/picture"
)

// lengths prints lengths (mm) for people.
type lengths struct {
	say   picture.Say // as a rule shows it: to 0.1 mm or 1/32 in
	exact picture.Say // one that is not read off a rule: finer where rounding to its lines would change it
}

func lengthsIn(u geom.Unit) lengths {
	return lengths{u.Format, func(mm float64) string {
		const seen = 0.005 // mm
		if math.Abs(u.FractionError(mm)) < seen {
			return u.Format(mm)
		}
		return u.FormatFine(mm)
	}}
}
