package dxfwrite

import "math"

// decimals is a number format: so many digits behind the point, trailing
// zeros dropped but the first. It cannot emit an exponent, "-0" or a number
// without a point, so that a lost line of a file is always noticed: no value
// of a coordinate can be taken for a group code.
type decimals struct {
	digits int
	pow    float64 // 10^digits
}

// maxDigits is the most digits that any format has behind the point.
const maxDigits = 10

var (
	mmDecimals    = decimals{6, 1e6}   // 1e-6 mm
	inchDecimals  = decimals{8, 1e8}   // 2.5e-7 mm
	bulgeDecimals = decimals{10, 1e10} // turns an arc over a chord of 1 m by under 1e-7 mm
)

// units returns v as a whole number of last digits.
func (d decimals) units(v float64) int64 { return int64(math.Round(v * d.pow)) }

// append appends the number n·10^-digits.
func (d decimals) append(b []byte, n int64) []byte {
	u := uint64(n)
	if n < 0 {
		b = append(b, '-')
		u = -u
	}
	pow := uint64(d.pow)
	b = appendUint(b, u/pow)
	// From the last digit to the first, since a division by ten is quicker
	// than one by a power that is not known beforehand.
	var text [1 + maxDigits]byte
	text[0] = '.'
	frac, last := u%pow, 1
	for i := d.digits; i >= 1; i-- {
		digit := byte(frac % 10)
		frac /= 10
		text[i] = '0' + digit
		if digit != 0 && last == 1 {
			last = i
		}
	}
	return append(b, text[:last+1]...)
}

func appendUint(b []byte, u uint64) []byte {
	var digits [20]byte
	i := len(digits)
	for {
		i--
		digits[i] = byte('0' + u%10)
		u /= 10
		if u == 0 {
			return append(b, digits[i:]...)
		}
	}
}
