package job

import (
	"slices"
	"strings"

	"starwright/geom"
	"starwright/geom/words"
)

// sameWord are other words that people write for a word of the job file.
var sameWord = map[string]string{
	"inch": "in", "inches": "in", `"`: "in", "imperial": "in", "ft": "in", "feet": "in", "foot": "in",
	"millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm", "metric": "mm", "cm": "mm", "m": "mm",
	"us letter": "Letter", "a4 paper": "A4",
	"up-cut": "conventional", "up cut": "conventional", "down-cut": "climb", "down cut": "climb",
	"either": "both", "left and right": "both", "l": "left", "r": "right",
}

// meantWord returns which of the words a text means, "" where nobody can tell.
func meantWord(text string, choices []string) string {
	t := strings.ToLower(strings.Trim(unquoted(text), " .\t"))
	for _, c := range choices {
		if strings.ToLower(c) == t {
			return c
		}
	}
	if w := sameWord[t]; w != "" && slices.Contains(choices, w) {
		return w
	}
	if w := words.Meant(t, choices); w != "" {
		return w
	}
	for _, c := range choices {
		if low := strings.ToLower(c); len(t) > 0 && len(low) > 2 && (strings.HasPrefix(low, t) || strings.HasPrefix(t, low)) {
			return c
		}
	}
	return ""
}

// meantTruth returns whether a text means true or false; ok is false where
// nobody can tell.
func meantTruth(text string) (yes, ok bool) {
	switch strings.ToLower(strings.Trim(unquoted(text), " .\t")) {
	case "true", "yes", "y", "on", "1", "t", "wahr", "ja":
		return true, true
	case "false", "no", "n", "off", "0", "f", "none", "never", "without", "nein", "falsch":
		return false, true
	}
	return false, false
}

// quoteMarks are the signs that writing programs put for quotes.
const quoteMarks = "“”„‟«»‘’‚‛′″"

// unquoted returns a text without quotes of any kind round it.
func unquoted(s string) string {
	s = strings.TrimSpace(s)
	for range 2 {
		s = strings.TrimFunc(s, func(r rune) bool {
			return r == '"' || r == '\'' || strings.ContainsRune("“”„‟«»‘’‚‛", r)
		})
	}
	return strings.TrimSpace(s)
}

// meantLength returns a length as it should have been written: with a point
// for a comma, without a sign or words before it, and with inches where it is
// a fraction. It is "" where that is no length.
func meantLength(text string, u geom.Unit) string {
	if len(text) > 64 {
		return ""
	}
	t := strings.TrimSpace(text)
	for _, cut := range []string{"about", "approx.", "approx", "ca.", "ca", "~", "≈", "+", "-", "−", "–"} {
		t = strings.TrimSpace(strings.TrimPrefix(strings.ToLower(t), cut))
	}
	t = strings.Trim(strings.Replace(t, ",", ".", 1), " ;")
	t = strings.NewReplacer("”", `"`, "“", `"`, "„", `"`, "″", `"`, "’", "'", "‘", "'", "′", "'").Replace(t)
	t = strings.TrimSpace(t)
	for _, unit := range []struct{ was, is string }{
		{"millimetres", "mm"}, {"millimeters", "mm"}, {"millimetre", "mm"}, {"millimeter", "mm"}, {"mms", "mm"}, {"mn", "mm"}, {"nm", "mm"}, {"m m", "mm"},
		{"centimetres", "cm"}, {"centimeters", "cm"}, {"centimetre", "cm"}, {"centimeter", "cm"}, {"cms", "cm"},
		{"metres", "m"}, {"meters", "m"}, {"metre", "m"}, {"meter", "m"}, {"ins", "in"}, {"inchs", "in"}, {"inche", "in"}, {"im", "in"}, {"zoll", "in"},
	} {
		if s, ok := strings.CutSuffix(t, unit.was); ok {
			t = strings.TrimSpace(s) + " " + unit.is
			break
		}
	}
	if _, err := geom.ParseLength(t, u); err != nil {
		return ""
	}
	if bareFraction(t) && u == geom.Millimetre {
		t += " in"
	}
	return t
}

// bareFraction reports whether a text is a fraction without a unit.
func bareFraction(t string) bool {
	if !strings.ContainsAny(t, "/½⅓⅔¼¾⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚⁄") {
		return false
	}
	_, err := geom.ParseLength(t+" in", geom.Millimetre)
	return err == nil
}
