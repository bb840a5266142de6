package choose

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"starwright/geom"
	"starwright/geom/route"
)

// tolerance is by how much the rounding of one printed number may move a corner
// of an outline, mm. Four of them together stay below 0.2 mm.
const tolerance = 0.04

// printer writes readings in a job's unit.
type printer struct{ geom.Unit }

// place writes a length that places an outline: a millimetre of it moves a corner
// by gain. It is rounded as coarsely as that allows; inches are a fraction, with
// the decimal beside it where the fraction is too coarse.
func (u printer) place(name string, mm, gain float64) route.Reading {
	good := func(v float64) bool { return math.Abs(v-mm)*gain <= tolerance }
	if v := u.Round(mm); good(v) && u.Unit == geom.Millimetre {
		return length(name, u.Format(mm), v)
	} else if u.Unit == geom.Inch && math.Abs(v-mm) < geom.Rounding {
		return length(name, u.Format(mm), v)
	}
	if u.Unit == geom.Inch {
		for k := 3; ; k++ {
			text, v := decimals(mm/geom.MMPerInch, k)
			if v *= geom.MMPerInch; good(v) || k == 5 {
				if w := u.Round(mm); good(w) && math.Abs(w-mm) <= 0.1 {
					return length(name, u.Format(mm), w)
				}
				return length(name, u.Format(mm)+" ("+text+")", v)
			}
		}
	}
	for k := 2; ; k++ {
		if text, v := decimals(mm, k); good(v) || k == 4 {
			return length(name, text+" mm", v)
		}
	}
}

// plain writes a length that places nothing.
func (u printer) plain(name string, mm float64) route.Reading {
	return length(name, u.Format(mm), u.Round(mm))
}

// atLeast writes a length that must be had, rounded up.
func (u printer) atLeast(name string, mm float64) route.Reading {
	return length(name, u.Format(u.Ceil(mm)), u.Ceil(mm))
}

// fine writes a small length, to 0.01 mm or 0.001 in.
func (u printer) fine(name string, mm float64) route.Reading {
	if u.Unit == geom.Inch {
		return u.exact(name, mm, 3)
	}
	return u.exact(name, mm, 2)
}

// size writes a bought size, a bit's, as it stands on it: to 0.001 mm, or a
// fraction of an inch where it is one.
func (u printer) size(name string, mm float64) route.Reading {
	if u.Unit == geom.Inch && math.Abs(u.Round(mm)-mm) < near {
		return length(name, u.Format(mm), mm)
	}
	return u.exact(name, mm, 3)
}

// exact writes a length with so many decimals.
func (u printer) exact(name string, mm float64, k int) route.Reading {
	text, v := decimals(mm/u.MM(), k)
	unit := " mm"
	if u.Unit == geom.Inch {
		unit = " in"
	}
	return length(name, text+unit, v*u.MM())
}

// angle writes an angle; a radian of it moves a corner by gain mm.
func angle(name string, a geom.Angle, gain float64) route.Reading {
	for k := 0; ; k++ {
		text, v := decimals(a.Degrees(), k)
		if math.Abs(float64(geom.Deg(v)-a))*gain <= tolerance || k == 5 {
			return route.Reading{Name: name, Printed: text + "°", Deg: &v}
		}
	}
}

// decimals writes a number with so many decimals at most, without idle noughts,
// and returns what the text says.
func decimals(v float64, k int) (string, float64) {
	text := strconv.FormatFloat(v, 'f', k, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		text = "0"
	}
	w, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return text, v
	}
	return text, w
}

func length(name, printed string, mm float64) route.Reading {
	return route.Reading{Name: name, Printed: printed, MM: &mm}
}

// set marks a reading as one that is set on the machine.
func set(r route.Reading) route.Reading {
	r.Set = true
	return r
}

// deg writes an angle in a sentence.
func deg(a geom.Angle) string {
	text, _ := decimals(a.Degrees(), 2)
	return text + "°"
}

// plural counts things.
func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
