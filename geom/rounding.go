package geom

import "math"

const (
	// Rounding is by how much two values that are the same may differ once they
	// have been turned, added and divided: lengths in mm, angles in radians, and
	// numbers of steps. Float64 keeps sixteen digits, so that a star of ten
	// metres loses some 1e-12 mm at each operation; the finest step that is
	// written to a file is a thousand times as large as this.
	Rounding = 1e-9

	// Touch is how near two places are taken for one, mm: ten times what
	// intersections are accurate to, a ten-thousandth of what a machine does.
	Touch = 1e-6
)

// Steps returns how many steps of a size reach v, a whole number. Rounding does
// not make it one more: three steps of 3 mm reach 9 mm, whatever 9/3 says.
func Steps(v, size float64) float64 { return math.Ceil(v/size - Rounding) }

// RoundUp returns v rounded up to a multiple of step; step 0 leaves it.
func RoundUp(v, step float64) float64 {
	if step <= 0 {
		return v
	}
	return Steps(v, step) * step
}
