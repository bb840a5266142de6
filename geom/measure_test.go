package geom_test

import (
	"fmt"
	"testing"

	"starwright/geom"
)

// An inch is 25.4 mm by definition (international yard, 1959); the rest is worked
// by hand.
func TestMeasure(t *testing.T) {
	for _, c := range []struct {
		format string
		mm     float64
		unit   geom.Unit
		want   string
	}{
		{"%.3m", 0.5, geom.Millimetre, "0.500 mm"},
		{"%.3f", 0.5, geom.Millimetre, "0.500"},
		{"%+.3f", 0.5, geom.Millimetre, "+0.500"},
		{"%+.3f", -0.5, geom.Millimetre, "-0.500"},
		{"%.0m/min", 1200, geom.Millimetre, "1200 mm/min"},
		{"%.3m", 12.7, geom.Inch, "0.5000 in"},
		{"%.2m", 0.01, geom.Inch, "0.0004 in"},
		{"%.1m", 0.1, geom.Inch, "0.004 in"},
		{"%.0m/min", 1524, geom.Inch, "60.0 in/min"},
		{"%+.3f", 25.4, geom.Inch, "+1.0000"},
		{"%m", 25.4, geom.Inch, "1.0000 in"},
	} {
		if got := fmt.Sprintf(c.format, geom.Measure{MM: c.mm, Unit: c.unit}); got != c.want {
			t.Errorf("%s of %g mm: %q, want %q", c.format, c.mm, got, c.want)
		}
	}
	if got := geom.Inch.FormatArea(15); got != "0.023 in²" { // 15 / 645.16
		t.Error(got)
	}
	if got := geom.Millimetre.FormatArea(15); got != "15 mm²" {
		t.Error(got)
	}
}
