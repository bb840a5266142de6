package ncwrite

import (
	"math"
	"strconv"
)

// grid is the raster of fixed-point numbers of a program: all coordinates
// are whole ticks from here on, so that what is compared is what is written.
type grid struct {
	unitMM   float64 // millimetres in one unit of the program
	decimals int     // decimals of a coordinate
	perUnit  float64 // ticks in one unit, 10^decimals
	arcMM    float64 // how far start and end radius of an arc may differ, mm
}

// Both rasters are finer than any woodworking machine repeats; both keep the
// limit of NISTIR 6556 §3.5.3.2 for arcs (0.002 mm, 0.0002 in) in reach. The
// inch limit is the coarser one, so the metric limit is used for both.
const (
	mmDecimals   = 3
	inchDecimals = 5
	arcLimitMM   = 0.002
)

// newGrid returns the raster for a unit of 1 or 25.4 mm.
func newGrid(unitMM float64) (grid, bool) {
	switch unitMM {
	case 1:
		return grid{unitMM, mmDecimals, 1e3, arcLimitMM}, true
	case 25.4:
		return grid{unitMM, inchDecimals, 1e5, arcLimitMM}, true
	}
	return grid{}, false
}

// ticks returns a length as the nearest whole number of ticks.
func (g grid) ticks(mm float64) int64 { return int64(math.Round(mm / g.unitMM * g.perUnit)) }

// stepSlack is the part of a tick that forgives the rounding of a division.
const stepSlack = 1e-6

// ticksBelow returns a feed as whole ticks a minute, rounded down so that a
// limit it was set to is never passed.
func (g grid) ticksBelow(mm float64) int64 {
	return int64(math.Floor(mm/g.unitMM*g.perUnit + stepSlack))
}

// mm returns ticks as a length.
func (g grid) mm(ticks int64) float64 { return float64(ticks) / g.perUnit * g.unitMM }

// appendFixed appends ticks as a fixed-point number with at least one and at
// most decimals decimals. It is the one place where a number becomes text: it
// cannot give an exponent or a negative zero.
func appendFixed(b []byte, ticks int64, decimals int) []byte {
	if ticks < 0 {
		b = append(b, '-')
		ticks = -ticks
	}
	scale := int64(1)
	for range decimals {
		scale *= 10
	}
	b = strconv.AppendInt(b, ticks/scale, 10)
	b = append(b, '.')
	frac, digits := ticks%scale, decimals
	for digits > 1 && frac%10 == 0 {
		frac /= 10
		digits--
	}
	text := strconv.AppendInt(nil, frac, 10)
	for n := len(text); n < digits; n++ {
		b = append(b, '0')
	}
	return append(b, text...)
}
