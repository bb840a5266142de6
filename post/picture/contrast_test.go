package picture

import (
	"math"
	"testing"
)

// luminance and contrast are those of WCAG 2.2, "relative luminance" and "contrast
// ratio".
func luminance(c Color) float64 {
	part := func(shift int) float64 {
		v := float64(c>>shift&0xff) / 255
		if v <= 0.04045 {
			return v / 12.92
		}
		return math.Pow((v+0.055)/1.055, 2.4)
	}
	return 0.2126*part(16) + 0.7152*part(8) + 0.0722*part(0)
}

func contrast(a, b Color) float64 {
	x, y := luminance(a), luminance(b)
	return (math.Max(x, y) + 0.05) / (math.Min(x, y) + 0.05)
}

// Words stand on paper and on wood in these colours; WCAG 2.2, 1.4.3, asks 4.5 at
// level AA.
func TestWordsCanBeRead(t *testing.T) {
	if c := contrast(0x000000, 0xffffff); math.Abs(c-21) > 1e-9 {
		t.Fatalf("black on white has %v", c)
	}
	for _, ink := range []Color{Ink, Blue, Grey, Rust, Red} {
		for _, ground := range []Color{White, Wood, Dusk, Shade} {
			if c := contrast(ink, ground); c < 4.5 {
				t.Errorf("%06x on %06x has %.2f, at least 4.5 is asked", uint32(ink), uint32(ground), c)
			}
		}
	}
}
