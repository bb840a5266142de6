package geom

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// The finest steps lengths are printed in: what a tape and a rule show.
const (
	stepsPerInch = 32
	stepsPerMM   = 10
)

// stepFuzz is the part of a step by which a length may miss it and still count
// as on it: far more than float64 leaves of 100 m, far less than a hair.
const stepFuzz = 1e-6

// mostSteps is the most that is printed, in steps: a float64 still counts so far
// one by one, and nothing that is measured comes near.
const mostSteps = 1e15

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
	case math.IsNaN(n) || math.Abs(n) > mostSteps:
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
	if math.IsNaN(n) || math.Abs(n) > mostSteps {
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

// FormatExact prints a length (mm) so that [ParseLength] reads it back as it was,
// in as few figures as that takes: on a step as [Unit.Format] does, else as a
// fraction down to 1/128 in, or with decimals, in the other unit where that is
// the one it is a size of, such as a 3 mm bit in a job in inches. Only lengths
// that are none of these are rounded, to a millionth.
func (u Unit) FormatExact(mm float64) string {
	other := Inch
	if u == Inch {
		other = Millimetre
	}
	for _, s := range []string{u.Format(mm), u.fraction(mm), u.decimals(mm, 3), other.fraction(mm), other.decimals(mm, 3), u.decimals(mm, 4)} {
		if back, err := ParseLength(s, u); err == nil && math.Abs(back-mm) <= Rounding {
			return s
		}
	}
	return u.decimals(mm, 6)
}

// Below returns a length (mm) that is no longer than one and that people set or
// buy: rounded down to a step, or, where that would take away more than a tenth, to
// a fine one, or as it is. Of what is above zero it never makes zero.
func (u Unit) Below(mm float64) float64 {
	const most = 0.1
	if v := u.Floor(mm); v >= mm*(1-most) {
		return v
	}
	// A bit of the other unit keeps its size.
	if s := u.FormatExact(mm); s != u.decimals(mm, 6) {
		if back, err := ParseLength(s, u); err == nil && back <= mm+Rounding {
			return back
		}
	}
	return u.FloorFine(mm)
}

// FormatFloor prints [Unit.Below] a length (mm).
func (u Unit) FormatFloor(mm float64) string { return u.FormatExact(u.Below(mm)) }

// fraction prints a length (mm) to the nearest 1/128 in; "" of other units.
func (u Unit) fraction(mm float64) string {
	if u != Inch || !(mm >= 0 && mm < 1e9) {
		return ""
	}
	n, bottom := int64(math.Round(mm/MMPerInch*128)), int64(128)
	whole, top := n/bottom, n%bottom
	for top != 0 && top%2 == 0 {
		top, bottom = top/2, bottom/2
	}
	switch {
	case top == 0:
		return strconv.FormatInt(whole, 10) + " in"
	case whole == 0:
		return fmt.Sprintf("%d/%d in", top, bottom)
	}
	return fmt.Sprintf("%d %d/%d in", whole, top, bottom)
}

// decimals prints a length (mm) with so many decimals at most.
func (u Unit) decimals(mm float64, most int) string {
	s := strconv.FormatFloat(mm/u.MM(), 'f', most, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s + " " + u.String()
}

// fineSteps returns the length (mm) in ten-thousandths of an inch or thousandths of
// a millimetre, the finest that machines for wood are set to, and fromFine the
// length of whole ones, rounded once.
func (u Unit) fineSteps(mm float64) float64 {
	if u == Inch {
		return mm / MMPerInch * 10000
	}
	return mm * 1000
}

func (u Unit) fromFine(n float64) float64 {
	if u == Inch {
		return u.toMM(n / 10000)
	}
	return n / 1000
}

// FloorFine returns the length (mm) rounded down to 0.0001 in or 0.001 mm, which
// [Unit.FormatExact] prints whole. A length within a millionth of a step below a
// step counts as on it.
func (u Unit) FloorFine(mm float64) float64 {
	return u.fromFine(math.Floor(u.fineSteps(mm) + stepFuzz))
}

// CeilFine is [Unit.FloorFine] to the other side.
func (u Unit) CeilFine(mm float64) float64 { return u.fromFine(math.Ceil(u.fineSteps(mm) - stepFuzz)) }

// FormatFeed prints a feed (mm/min) in the unit a minute, to 0.1: "1200
// mm/min", "47.2 in/min".
func (u Unit) FormatFeed(mmPerMin float64) string {
	n := math.Round(mmPerMin / u.MM() * 10)
	if math.IsNaN(n) || math.Abs(n) > mostSteps {
		return "no feed"
	}
	return tenths(n) + " " + u.String() + "/min"
}

// FormatFeedExact prints a feed (mm/min) so that [ParseFeed] reads it back as it
// was, in the other unit where that is the one it was thought of in. Only feeds
// that are neither are rounded, to a millionth.
func (u Unit) FormatFeedExact(mmPerMin float64) string {
	other := Inch
	if u == Inch {
		other = Millimetre
	}
	for _, s := range []string{u.FormatFeed(mmPerMin), u.decimals(mmPerMin, 3) + "/min", other.decimals(mmPerMin, 2) + "/min"} {
		if back, err := ParseFeed(s, u); err == nil && math.Abs(back-mmPerMin) <= Rounding*mmPerMin {
			return s
		}
	}
	return u.decimals(mmPerMin, 6) + "/min"
}

// FormatExact prints an angle in degrees so that [ParseAngle] reads it back as it
// was, to a hundredth of a degree or as a fraction where it is a simple one, as
// those of regular polygons are: "36 deg", "25 5/7 deg". Others are rounded, to a
// millionth.
func (a Angle) FormatExact() string {
	d := a.Degrees()
	if s := a.Format(); math.Abs(math.Round(d*100)/100-d) <= Rounding {
		return s
	}
	whole := math.Floor(d)
	for bottom := 3.0; bottom <= 16; bottom++ {
		if top := math.Round((d - whole) * bottom); math.Abs(whole+top/bottom-d) <= Rounding {
			return fmt.Sprintf("%.0f %.0f/%.0f deg", whole, top, bottom)
		}
	}
	return strconv.FormatFloat(math.Round(d*1e6)/1e6, 'f', -1, 64) + " deg"
}

// Format prints an angle in degrees to two decimals, without idle noughts:
// "36 deg", "25.71 deg".
func (a Angle) Format() string {
	n := math.Round(a.Degrees() * 100)
	if math.IsNaN(n) || math.Abs(n) > mostSteps {
		return "no angle"
	}
	return strconv.FormatFloat(n/100+0, 'f', -1, 64) + " deg"
}

// tenths prints n tenths, without a decimal where it is 0.
func tenths(n float64) string {
	return strconv.FormatFloat(n/10+0, 'f', -1, 64) // + 0 turns -0 into 0
}
