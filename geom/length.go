package geom

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Unit is the unit a person measures in. Inside the program every length is
// in millimetres; a Unit only says how one is read and printed.
type Unit int

// The units a job can be written in.
const (
	Millimetre Unit = iota
	Inch
)

// LengthForms are the ways to write a length, for messages.
const LengthForms = `3 1/2 in, 3-1/2in, 9 1/4", 4 ft, 19 mm, 1.9 cm`

// MaxLength is the longest length (mm) that is believed: no board, sheet or
// machine of a star maker is longer than 100 m, so more is a slip of the pen.
const MaxLength = 100_000

// maxText is the longest text (bytes) that is looked at as one value.
const maxText = 64

// String returns "mm" or "in".
func (u Unit) String() string {
	if u == Inch {
		return "in"
	}
	return "mm"
}

// MM returns how many millimetres the unit is long: 1 or 25.4, both exact.
func (u Unit) MM() float64 {
	if u == Inch {
		return MMPerInch
	}
	return 1
}

// toMM returns n units in millimetres. Inches go by 127/5, which has no error
// of its own, so that sixteenths and the like come out rounded just once.
func (u Unit) toMM(n float64) float64 {
	if u == Inch {
		return n * 127 / 5
	}
	return n
}

// ValueError says why a text is not a length, an angle or a feed.
type ValueError struct {
	What  string // "a length", "an angle", "a feed"
	Text  string // as written, cut short where it is very long
	Why   string // what is wrong
	Forms string // ways to write it that work
}

// Error says what was read, what is wrong with it and what would work.
func (e *ValueError) Error() string {
	return fmt.Sprintf("%q is not %s: %s; write it like %s", e.Text, e.What, e.Why, e.Forms)
}

// newValueError makes a ValueError whose text is safe to print.
func newValueError(what, text, why, forms string) *ValueError {
	if len(text) > maxText {
		cut := maxText
		for cut > 0 && !utf8.RuneStart(text[cut]) {
			cut--
		}
		text = text[:cut] + "..."
	}
	return &ValueError{what, text, why, forms}
}

// ParseLength reads a length as people at a bench write it and returns it in
// millimetres. It takes whole numbers, decimals with a point, fractions, mixed
// numbers and fraction characters, each with mm, cm, m, in, inch, inches or an
// inch mark; feet, with inches behind them or without; a bare number is in the unit bare. Zero is a length; negative
// numbers, exponents and lengths over [MaxLength] are not. Errors are
// [*ValueError].
func ParseLength(s string, bare Unit) (mm float64, err error) {
	refuse := func(why string) (float64, error) {
		return 0, newValueError("a length", s, why, LengthForms)
	}
	if mm, why, is := parseFeet(s); is {
		if why != "" {
			return refuse(why)
		}
		return mm, nil
	}
	num, unit, why := splitValue(s)
	if why != "" {
		return refuse(why)
	}
	var in Unit
	var shift int // decimal places, so that centimetres and metres stay exact
	switch strings.TrimSuffix(unit, ".") {
	case "":
		in = bare
	case "mm":
		in = Millimetre
	case "cm":
		in, shift = Millimetre, 1
	case "m":
		in, shift = Millimetre, 3
	case "in", "inch", "inches", `"`, "″", "”", "''":
		in = Inch
	default:
		return refuse(unknownUnit(unit))
	}
	v, why := parseNumber(num, shift)
	if why != "" {
		return refuse(why)
	}
	if v = in.toMM(v); v > MaxLength {
		return refuse("more than 100 m is not believed")
	}
	return v, nil
}

// parseFeet reads feet, and the inches behind them: "4 ft", "4'", "5' 3\"",
// "5 ft 3 1/2 in". It says why where it cannot; is tells whether there are feet
// at all.
func parseFeet(s string) (mm float64, why string, is bool) {
	if len(s) > maxText || !utf8.ValidString(s) {
		return 0, "", false
	}
	t := strings.ToLower(strings.Trim(typed(s), " \t"))
	if ascii(t) {
		t = strings.ReplaceAll(t, "''", `"`)
	} else {
		t = strings.NewReplacer("′′", `"`, "''", `"`, "’’", `"`, "″", `"`, "”", `"`, "′", "'", "’", "'").Replace(t)
	}
	at, mark := -1, ""
	for _, m := range []string{"feet", "foot", "ft.", "ft", "'"} {
		if at = strings.Index(t, m); at > 0 {
			mark = m
			break
		}
	}
	if at <= 0 {
		return 0, "", false
	}
	feet, why := parseNumber(strings.Trim(t[:at], " \t"), 0)
	if why != "" {
		return 0, why, true
	}
	const inches = 12 // in a foot
	v := feet * inches
	rest := strings.Trim(t[at+len(mark):], " \t")
	if rest != "" {
		num, unit, why := splitValue(strings.Trim(strings.TrimPrefix(rest, "-"), " \t"))
		switch strings.TrimSuffix(unit, ".") {
		case "", "in", "inch", "inches", `"`:
		default:
			if why == "" {
				why = unknownUnit(unit)
			}
		}
		if why != "" {
			return 0, why, true
		}
		more, why := parseNumber(num, 0)
		if why != "" {
			return 0, why, true
		}
		if more >= inches {
			return 0, "there are 12 inches or more behind the feet", true
		}
		v += more
	}
	if v = Inch.toMM(v); v > MaxLength {
		return 0, "more than 100 m is not believed", true
	}
	return v, "", true
}

// AngleForms are the ways to write an angle, for messages.
const AngleForms = `36 deg, 36.5 deg, 36°`

// ParseAngle reads an angle: a number of degrees, bare or followed by deg,
// degree, degrees or the degree sign; 0 to 360. Errors are [*ValueError].
func ParseAngle(s string) (Angle, error) {
	refuse := func(why string) (Angle, error) {
		return 0, newValueError("an angle", s, why, AngleForms)
	}
	num, unit, why := splitValue(s)
	if why != "" {
		return refuse(why)
	}
	switch unit {
	case "", "deg", "degree", "degrees", "°":
	default:
		return refuse(unknownUnit(unit))
	}
	v, why := parseNumber(num, 0)
	if why != "" {
		return refuse(why)
	}
	if v > 360 {
		return refuse("more than 360 degrees is not believed")
	}
	return Deg(v), nil
}

// FeedForms are the ways to write a feed, for messages.
const FeedForms = `1200 mm/min, 47 in/min`

// MaxFeed is the highest feed (mm/min) that is believed: 100 m/min is several
// times what a machine for wood moves at.
const MaxFeed = 100_000

// ParseFeed reads a feed and returns it in mm/min: a number with mm/min, m/min
// or in/min; a bare number is in the given unit a minute. Zero is read; errors
// are [*ValueError].
func ParseFeed(s string, bare Unit) (mmPerMin float64, err error) {
	refuse := func(why string) (float64, error) {
		return 0, newValueError("a feed", s, why, FeedForms)
	}
	num, unit, why := splitValue(s)
	if why != "" {
		return refuse(why)
	}
	var in Unit
	var shift int
	switch strings.ReplaceAll(unit, " ", "") {
	case "":
		in = bare
	case "mm/min":
		in = Millimetre
	case "m/min":
		in, shift = Millimetre, 3
	case "in/min", "ipm":
		in = Inch
	default:
		return refuse(unknownUnit(unit))
	}
	v, why := parseNumber(num, shift)
	if why != "" {
		return refuse(why)
	}
	if v = in.toMM(v); v > MaxFeed {
		return refuse("more than 100 m/min is not believed")
	}
	return v, nil
}

// unknownUnit names the unit that was read, cut short where it runs on.
func unknownUnit(unit string) string {
	const most = 16 // characters; the longest unit has eight
	if r := []rune(unit); len(r) > most {
		unit = string(r[:most]) + "..."
	}
	return fmt.Sprintf("the unit %q is not known", unit)
}

// vulgar are the fraction characters that people and phones write.
var vulgar = strings.NewReplacer("½", " 1/2", "⅓", " 1/3", "⅔", " 2/3", "¼", " 1/4", "¾", " 3/4",
	"⅕", " 1/5", "⅖", " 2/5", "⅗", " 3/5", "⅘", " 4/5", "⅙", " 1/6", "⅚", " 5/6", "⅐", " 1/7",
	"⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8", "⅑", " 1/9", "⅒", " 1/10",
	"⁄", "/", "\u00a0", " ", "\u202f", " ", "\u2009", " ", "–", "-", "\u2010", "-", "\u2011", "-")

// typed is a text with what a keyboard has for the characters of [vulgar]. Most texts
// have none, and to make the replacer ready takes as long as to read a job.
func typed(s string) string {
	if ascii(s) {
		return s
	}
	return vulgar.Replace(s)
}

func ascii(s string) bool {
	for i := range len(s) {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// splitValue parts a text into its number and its unit in lower case. It says
// why where there is nothing to part.
func splitValue(s string) (num, unit, why string) {
	if len(s) > maxText {
		return "", "", fmt.Sprintf("it is longer than %d bytes", maxText)
	}
	if !utf8.ValidString(s) {
		return "", "", "it is not UTF-8 text"
	}
	t := strings.Trim(typed(s), " \t")
	end := 0
	for end < len(t) && strings.IndexByte("0123456789./ \t-", t[end]) >= 0 {
		end++
	}
	num, unit = strings.Trim(t[:end], " \t"), strings.ToLower(t[end:])
	switch {
	case t == "":
		return "", "", "it is empty"
	case strings.HasPrefix(t, "-") || strings.HasPrefix(t, "−"):
		return "", "", "it is negative"
	case strings.HasPrefix(unit, ","):
		return "", "", "a comma is not read, write a decimal point"
	case num == "":
		return "", "", "it does not begin with a number"
	}
	return num, unit, ""
}

// parseNumber reads "3", "3.5", ".5", "1/2", "3 1/2" or "3-1/2", times ten to
// the power shift. It says why where it cannot.
func parseNumber(s string, shift int) (v float64, why string) {
	if f, ok := decimal(s, shift); ok {
		return f, ""
	}
	whole, frac := "", s
	if i := strings.IndexAny(s, " \t-"); i >= 0 && !strings.Contains(s[:i], "/") {
		rest := strings.Trim(s[i:], " \t")
		whole, frac = s[:i], strings.TrimLeft(strings.TrimPrefix(rest, "-"), " \t")
	}
	top, bottom, ok := strings.Cut(frac, "/")
	top, bottom = strings.Trim(top, " \t"), strings.Trim(bottom, " \t")
	if !ok || !digits(top) || !digits(bottom) || whole != "" && !digits(whole) {
		return 0, "the number cannot be read"
	}
	a, _ := decimal(top, shift)
	b, _ := decimal(bottom, 0)
	if b == 0 {
		return 0, "the fraction has nothing below the line"
	}
	v = a / b
	if whole != "" {
		if t, _ := decimal(top, 0); t >= b {
			return 0, "the fraction of a mixed number is one or more"
		}
		w, _ := decimal(whole, shift)
		v += w
	}
	return v, ""
}

// decimal reads digits with at most one point among or before them, times ten
// to the power shift, rounded once.
func decimal(s string, shift int) (float64, bool) {
	left, right, point := strings.Cut(s, ".")
	if point && !digits(right) || left != "" && !digits(left) || left == "" && !point {
		return 0, false
	}
	f, err := strconv.ParseFloat(s+"e"+strconv.Itoa(shift), 64)
	return f, err == nil && !math.IsInf(f, 0)
}

// digits reports whether s is one or more of 0 to 9.
func digits(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}
