package geom

import "math"

// Angle is an angle in radians, positive counter-clockwise.
type Angle float64

// Degree is one degree. Multiples of it are exact to a rounding of float64.
const Degree Angle = math.Pi / 180

// Deg makes an Angle of a number of degrees.
func Deg(degrees float64) Angle { return Angle(degrees) * Degree }

// Degrees returns the angle in degrees.
func (a Angle) Degrees() float64 { return float64(a / Degree) }

// Sin returns the sine of the angle.
func (a Angle) Sin() float64 { return math.Sin(float64(a)) }

// Cos returns the cosine of the angle.
func (a Angle) Cos() float64 { return math.Cos(float64(a)) }

// SinCos returns [Angle.Sin] and [Angle.Cos], to the last bit, in little more time than
// one of them takes.
func (a Angle) SinCos() (sin, cos float64) { return math.Sincos(float64(a)) }

// Tan returns the tangent of the angle.
func (a Angle) Tan() float64 { return math.Tan(float64(a)) }

// Cot returns the cotangent of the angle.
func (a Angle) Cot() float64 { return 1 / math.Tan(float64(a)) }

// Normal returns the same direction in [0, 2π).
func (a Angle) Normal() Angle {
	r := math.Mod(float64(a), 2*math.Pi)
	if r < 0 {
		r += 2 * math.Pi
	}
	if r >= 2*math.Pi { // a tiny negative angle rounds up to a full turn
		r = 0
	}
	return Angle(r)
}
