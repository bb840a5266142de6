package bench

import (
	"math"
	"testing"
)

func TestNumAndSay(t *testing.T) {
	rows := []struct {
		name string
		got  string
		want string
	}{
		{"trailing zeros", Num(2.400, 3), "2.4"},
		{"whole", Num(100, 2), "100"},
		{"negative nothing", Num(-0.0001, 2), "0"},
		{"no number", Num(math.NaN(), 2), "NaN"},
		{"default unit", Say(nil).Of(12.70004), "12.7 mm"},
		{"own unit", Say(func(mm float64) string { return Num(mm/25.4, 2) + " in" }).Of(12.7), "0.5 in"},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			if r.got != r.want {
				t.Errorf("got %q, want %q", r.got, r.want)
			}
		})
	}
}
