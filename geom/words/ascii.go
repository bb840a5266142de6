package words

import (
	"strings"
	"sync"
	"unicode"
)

// Unspelt stands for a letter or sign that has no spelling in ASCII.
const Unspelt = '_'

// ASCII spells a text on one line with the letters that every machine and
// drawing program has: printable ASCII, runs of blanks as one.
//
// Letters of the Latin script become what passports make of them (ICAO Doc 9303
// part 3, section 6, from memory): ø is oe, å aa, ü ue, ñ n. Ø with no letter
// beside it is a diameter. Combining marks count with the letter before them.
// Letters of other scripts become [Unspelt].
func ASCII(s string) string {
	letters := []rune(s)
	var b strings.Builder
	for i, r := range letters {
		var last, next rune
		if i > 0 {
			last = letters[i-1]
		}
		if i+1 < len(letters) {
			next = letters[i+1]
		}
		switch {
		case r == ' ' || unicode.IsSpace(r) || unicode.IsControl(r):
			b.WriteByte(' ')
		case r < 0x7f:
			b.WriteRune(r)
		default:
			b.WriteString(spell(r, last, next))
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// spell returns the spelling of one letter or sign beyond ASCII between two
// others, 0 at the ends of the text.
func spell(r, last, next rune) string {
	if r == '⌀' || (r == 'Ø' || r == 'ø') && !unicode.IsLetter(last) && !unicode.IsLetter(next) {
		if next == ' ' || unicode.IsPunct(next) || next == 0 {
			return "dia"
		}
		return "dia "
	}
	if strings.ContainsRune("½¼¾⅛⅜⅝⅞", r) && unicode.IsDigit(last) {
		return " " + signs()[r] // a mixed number
	}
	if t, ok := signs()[r]; ok {
		return t
	}
	if unicode.Is(unicode.Mn, r) {
		return combined(r, last)
	}
	if !unicode.IsPrint(r) && r != unicode.ReplacementChar {
		return ""
	}
	low := unicode.ToLower(r)
	t := latin()[low]
	if low < 0x7f { // of a capital that only Turkish has
		t = string(low)
	}
	switch {
	case t == "":
		return string(Unspelt)
	case low == r:
		return t
	case unicode.IsUpper(next) || unicode.IsUpper(last) && !unicode.IsLower(next):
		return strings.ToUpper(t) // within a word in capitals
	}
	return Capital(t)
}

// combined returns what a combining mark adds to the letter before it.
func combined(mark, last rune) string {
	const diaeresis, ring = '\u0308', '\u030a'
	switch {
	case mark == diaeresis && strings.ContainsRune("aouAOU", last):
		return "e"
	case mark == ring && (last == 'a' || last == 'A'):
		return "a"
	}
	return ""
}

// signs are the spellings of what is no letter.
var signs = sync.OnceValue(func() map[rune]string {
	return table(map[string]string{
		"×": "x", "°": " deg", "±": "+-", "≤": "<=", "≥": ">=", "≈": "~", "→": "->", "←": "<-",
		"–—−‐‑‒―": "-", "‘’′‚‹›": "'", "“”″„«»": `"`, "…": "...", "·•": "-", "÷": "/",
		"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
		"¹": "1", "²": "2", "³": "3", "µμ": "u", "€": "EUR", "£": "GBP",
	})
})

// latin are the spellings of the small letters of the Latin script beyond ASCII.
var latin = sync.OnceValue(func() map[rune]string {
	return table(map[string]string{
		"àáâãāăąǎ": "a", "ä": "ae", "å": "aa", "æ": "ae", "çćĉċč": "c", "ďđ": "d", "ð": "d",
		"èéêëēĕėęěẽ": "e", "ĝğġģ": "g", "ĥħ": "h", "ìíîïĩīĭįı": "i", "ĳ": "ij", "ĵ": "j", "ķ": "k",
		"ĺļľŀł": "l", "ñńņňŉŋ": "n", "òóôõōŏőơ": "o", "ö": "oe", "ø": "oe", "œ": "oe", "ŕŗř": "r",
		"śŝşšș": "s", "ß": "ss", "ţťŧț": "t", "þ": "th", "ùúûũūŭůűųư": "u", "ü": "ue", "ŵ": "w",
		"ýÿŷ": "y", "źżž": "z",
	})
})

// table gives each sign of a key its spelling.
func table(rows map[string]string) map[rune]string {
	out := map[rune]string{}
	for key, t := range rows {
		for _, r := range key {
			out[r] = t
		}
	}
	return out
}
