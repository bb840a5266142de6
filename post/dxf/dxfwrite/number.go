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
	b = append(b, '.')
	frac := u % pow
	for i := 0; i == 0 || frac > 0; i++ {
		frac *= 10
		b = append(b, byte('0'+frac/pow))
		frac %= pow
	}
	return b
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
