package draw

import (
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"starwright/geom"
	"starwright/post/picture"
)

// words prints lengths (mm) for people.
type words struct {
	say   picture.Say // as a rule shows it: to 0.1 mm or 1/32 in
	exact picture.Say // one that is not read off a rule: finer where rounding to its lines would change it
}

func wordsIn(u geom.Unit) words {
	return words{u.Format, func(mm float64) string {
		const seen = 0.005 // mm
		if math.Abs(u.FractionError(mm)) < seen {
			return u.Format(mm)
		}
		return u.FormatFine(mm)
	}}
}

// capital returns a text with its first letter as a capital.
func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + strings.TrimPrefix(s, s[:n])
}
