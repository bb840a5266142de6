package ncread

import "strconv"

// pow10 holds the powers of ten that float64 represents exactly and that the
// short way of reading a number needs. Read only.
var pow10 = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9,
	1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18}

// Limits of numbers.
const (
	// shortDigits is the most digits, leading zeros included, that cannot
	// overflow the integer of the short way.
	shortDigits = 18
	// exactInt is the first integer above which float64 skips integers.
	exactInt = 1 << 53
	// numberMax is the largest number that is read, in the program's own
	// units. No word of a program for a machine needs more, and sums of such
	// numbers stay far from overflow.
	numberMax = 1e9
)

// number reads the real number at s[i:] (NISTIR 6556 §3.3.2.1): an optional
// sign and digits with at most one decimal point, blanks allowed anywhere, no
// exponent. It returns the value, the place of the first byte that is not
// part of the number, and whether a decimal point stood in it.
//
// The value is the float64 nearest to the decimal text: up to 18 digits the
// digits are gathered as an integer below 2^53 and divided once by an exact
// power of ten, which rounds once; longer numbers go to strconv.
func number(s []byte, i int) (v float64, next int, point, ok bool) {
	start := i
	var m uint64
	digits, whole := 0, 0
	neg := false
	for i < len(s) && (s[i] == ' ' || s[i] == '\t') {
		i++
	}
	if i < len(s) && (s[i] == '-' || s[i] == '+') {
		neg = s[i] == '-'
		i++
	}
	for ; i < len(s); i++ {
		if d := s[i] - '0'; d < 10 {
			m = m*10 + uint64(d) // may wrap; then digits sends it the long way
			digits++
			continue
		}
		if s[i] == '.' && !point {
			point, whole = true, digits
			continue
		}
		if s[i] != ' ' && s[i] != '\t' {
			break
		}
	}
	if digits == 0 {
		return 0, i, point, false
	}
	if digits > shortDigits || m >= exactInt {
		v, ok = longNumber(s[start:i])
		return v, i, point, ok
	}
	v = float64(m)
	if point {
		v /= pow10[digits-whole]
	}
	if neg {
		v = -v
	}
	return v, i, point, v <= numberMax && v >= -numberMax
}

// longNumber reads a number of many digits.
func longNumber(s []byte) (float64, bool) {
	clean := make([]byte, 0, len(s))
	for _, c := range s {
		if c != ' ' && c != '\t' {
			clean = append(clean, c)
		}
	}
	v, err := strconv.ParseFloat(string(clean), 64)
	return v, err == nil && v <= numberMax && v >= -numberMax
}
