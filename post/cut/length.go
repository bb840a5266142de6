package cut

import (
	"strconv"
	"strings"

	"starwright/geom"
)

// maxStated is the largest length that a drawing may state, mm.
const maxStated = 1e12

// StatedLength reads a length of a number and a unit at the start of s, as
// drawings state it: "100 mm", "4 in", `1"`. It returns millimetres.
func StatedLength(s string) (mm float64, ok bool) {
	s = strings.ToLower(strings.TrimSpace(s))
	n := 0
	for n < len(s) && (s[n]-'0' <= 9 || s[n] == '.') {
		n++
	}
	v, err := strconv.ParseFloat(s[:n], 64)
	if err != nil || v <= 0 || v > maxStated {
		return 0, false
	}
	word := strings.TrimLeft(s[n:], " ")
	end := strings.IndexFunc(word, func(r rune) bool { return r < 'a' || r > 'z' })
	if strings.HasPrefix(word, `"`) {
		end = 1
	}
	if end >= 0 {
		word = word[:end]
	}
	switch word {
	case "mm", "millimetre", "millimetres", "millimeter", "millimeters":
		return v, true
	case "cm":
		return v * 10, true
	case "in", "inch", "inches", `"`:
		return v * geom.MMPerInch, true
	}
	return 0, false
}
