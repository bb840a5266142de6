package geom

import (
	"math"
	"strconv"
)

// The finest steps lengths are printed in: what a tape and a rule show.
const (
	stepsPerInch = 32
	stepsPerMM   = 10
)

// stepFuzz is the part of a step by which a length may miss it and still count
// as on it: far more than float64 leaves of 100 m, far less than a hair.
const stepFuzz = 1e-6

// steps returns the length (mm) in steps of the unit's print.
func (u Unit) steps(mm float64) float64 {
	if u == Inch {
		return mm / MMPerInch * stepsPerInch
	}
	return mm * stepsPerMM
}

// fromSteps returns the length (mm) of whole steps, rounded once.
func (u Unit) fromSteps(n float64) float64 {
	if u == Inch {
		return u.toMM(n / stepsPerInch)
	}
	return n / stepsPerMM
}

// Round returns the length (mm) that [Unit.Format] prints: the nearest 1/32 in
// or 0.1 mm.
func (u Unit) Round(mm float64) float64 { return u.fromSteps(math.Round(u.steps(mm))) }

// Floor returns the length (mm) rounded down to 1/32 in or 0.1 mm. A length
// within a millionth of a step below a step counts as on it.
func (u Unit) Floor(mm float64) float64 { return u.fromSteps(math.Floor(u.steps(mm) + stepFuzz)) }

// Ceil returns the length (mm) rounded up to 1/32 in or 0.1 mm. A length
// within a millionth of a step above a step counts as on it.
func (u Unit) Ceil(mm float64) float64 { return u.fromSteps(math.Ceil(u.steps(mm) - stepFuzz)) }

// FractionError returns by how much (mm) the printed length is longer than the
// true one; negative where it is shorter.
func (u Unit) FractionError(mm float64) float64 { return u.Round(mm) - mm }

// Format prints a length (mm) with its unit: inches as a mixed number to the
// nearest 1/32, "3 1/2 in"; millimetres to 0.1, "19 mm" or "19.5 mm".
func (u Unit) Format(mm float64) string {
	n := math.Round(u.steps(mm))
	switch {
	case math.IsNaN(n) || math.Abs(n) > 1e15:
		return "no length"
	case u != Inch:
		return tenths(n) + " mm"
	}
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	whole, top, bottom := int64(n)/stepsPerInch, int64(n)%stepsPerInch, int64(stepsPerInch)
	for top != 0 && top%2 == 0 {
		top, bottom = top/2, bottom/2
	}
	s := sign
	if whole > 0 || top == 0 {
		s += strconv.FormatInt(whole, 10)
	}
	if top > 0 {
		if whole > 0 {
			s += " "
		}
		s += strconv.FormatInt(top, 10) + "/" + strconv.FormatInt(bottom, 10)
	}
	return s + " in"
}

// FormatFine prints a small length (mm), such as a play or a gap that is felt
// with a feeler gauge: "0.15 mm" to 0.01, "0.006 in" to 0.001.
func (u Unit) FormatFine(mm float64) string {
	n, per := math.Round(mm*100), 100.0
	if u == Inch {
		n, per = math.Round(mm/MMPerInch*1000), 1000
	}
	if math.IsNaN(n) || math.Abs(n) > 1e15 {
		return "no length"
	}
	return strconv.FormatFloat(n/per+0, 'f', -1, 64) + " " + u.String()
}

// FormatSize prints a length (mm) that was bought or measured, such as a
// cutter's or a sheet's, without losing what it is called by: "6.35 mm" to
// 0.01, or as it is where it is an inch size such as 3.175 mm; inches as a fraction
// where they lie on a 1/32, else to 0.001.
func (u Unit) FormatSize(mm float64) string {
	const onStep = 1e-4 // mm; far below any size in hundredths of a millimetre that is no 1/32 in
	if u != Inch && math.Abs(Inch.FractionError(mm)) < onStep && mm < MMPerInch {
		return strconv.FormatFloat(math.Round(mm*1e5)/1e5, 'f', -1, 64) + " mm"
	}
	if u == Inch && math.Abs(u.FractionError(mm)) < onStep {
		return u.Format(mm)
	}
	return u.FormatFine(mm)
}

// FormatFeed prints a feed (mm/min) in the unit a minute, to 0.1: "1200
// mm/min", "47.2 in/min".
func (u Unit) FormatFeed(mmPerMin float64) string {
	n := math.Round(mmPerMin / u.MM() * 10)
	if math.IsNaN(n) || math.Abs(n) > 1e15 {
		return "no feed"
	}
	return tenths(n) + " " + u.String() + "/min"
}

// Format prints an angle in degrees to two decimals, without idle noughts:
// "36 deg", "25.71 deg".
func (a Angle) Format() string {
	n := math.Round(a.Degrees() * 100)
	if math.IsNaN(n) || math.Abs(n) > 1e15 {
		return "no angle"
	}
	return strconv.FormatFloat(n/100+0, 'f', -1, 64) + " deg"
}

// tenths prints n tenths, without a decimal where it is 0.
func tenths(n float64) string {
	return strconv.FormatFloat(n/10+0, 'f', -1, 64) // + 0 turns -0 into 0
}
