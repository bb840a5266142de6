package tryout

import (
	"strconv"
	"strings"

	"starwright/geom/words"
)

// How lengths and angles stand on a page: `231.5 mm`, `9 17/32 in`,
// `9 17/32 in (9.543)`, `54°`. Decimals in brackets are the finer print of the
// fraction before them and count.
var (
	metric  = words.Pattern(`^(-?\d+(?:\.\d+)?) ?mm$`)
	decimal = words.Pattern(`^(-?\d+(?:\.\d+)?) ?(?:in|")$`)
	inches  = words.Pattern(`^(?:(\d+)(?:[ -](\d+)/(\d+))?|(\d+)/(\d+)) ?(?:in|")$`)
	finer   = words.Pattern(`^(.*) \((\d+\.\d+)(?: in)?\)$`)
	angle   = words.Pattern(`^(-?\d+(?:\.\d+)?) ?(?:°|deg)$`)
)

// lengthOf reads a printed length, mm.
func lengthOf(text string) (float64, bool) {
	const inch = 25.4
	t := strings.TrimSpace(strings.NewReplacer("−", "-", " ", " ").Replace(text))
	if m := finer().FindStringSubmatch(t); m != nil {
		return scaled(m[2], inch)
	}
	if m := metric().FindStringSubmatch(t); m != nil {
		return scaled(m[1], 1)
	}
	if m := inches().FindStringSubmatch(t); m != nil {
		whole, top, below := number(m[1]), number(m[2])+number(m[4]), number(m[3])+number(m[5])
		if below == 0 {
			below = 1
		}
		return (whole + top/below) * inch, true
	}
	if m := decimal().FindStringSubmatch(t); m != nil {
		return scaled(m[1], inch)
	}
	return 0, false
}

// angleOf reads a printed angle, degrees.
func angleOf(text string) (float64, bool) {
	if m := angle().FindStringSubmatch(strings.TrimSpace(strings.ReplaceAll(text, "−", "-"))); m != nil {
		return scaled(m[1], 1)
	}
	return 0, false
}

func scaled(text string, k float64) (float64, bool) {
	f, err := strconv.ParseFloat(text, 64)
	return f * k, err == nil
}

// number is 0 for a part that is not there.
func number(text string) float64 {
	f, _ := strconv.ParseFloat(text, 64)
	return f
}
