package ncwrite

import (
	"strings"
)

// lineMax is the longest line that is written, its end not counted. Older
// small controllers stop at 70 characters (from memory), newer ones at 79.
const lineMax = 70

// plain spells signs that people write in words with letters every controller
// has. Parentheses cannot stand in a comment (NISTIR 6556 §3.3.4); ! ? ~ are
// commands to a running machine in some small firmware even within a comment
// (from memory); ; and % are read as comment and tape end by others.
var plain = strings.NewReplacer(
	"(", "-", ")", "-", "!", ".", "?", ".", "~", "-", ";", ",", "%", " per cent",
	"°", " deg", "×", "x", "–", "-", "—", "-", "−", "-", "’", "'", "‘", "'", "“", "'", "”", "'",
	"½", " 1/2", "¼", " 1/4", "¾", " 3/4", "±", "+-", "≤", "<=", "≥", ">=", "Ø", "dia ", "→", "->",
	"ä", "ae", "ö", "oe", "ü", "ue", "ß", "ss", "Ä", "Ae", "Ö", "Oe", "Ü", "Ue",
	"é", "e", "è", "e", "ê", "e", "à", "a", "ç", "c", "ñ", "n", "å", "a", "ø", "o",
)

// ascii returns text as it can stand in a comment: printable ASCII, runs of
// white space as one blank, control characters removed, and whatever has no
// plain spelling as an underscore.
func ascii(text string) string {
	text = strings.Join(strings.Fields(plain.Replace(text)), " ")
	return strings.Map(func(r rune) rune {
		switch {
		case r < ' ' || r == 0x7f:
			return -1
		case r > '~':
			return '_'
		}
		return r
	}, text)
}

// comments returns text as comment lines, broken at words so that none is
// longer than lineMax. A word that does not fit a line by itself is cut.
func comments(text string) []string {
	const room = lineMax - len("()")
	var out []string
	line := ""
	flush := func() {
		if line != "" {
			out = append(out, "("+line+")")
		}
		line = ""
	}
	for _, w := range strings.Fields(ascii(text)) {
		if line != "" && len(line)+1+len(w) > room {
			flush()
		}
		for len(w) > room {
			line = w[:room]
			flush()
			w = w[room:]
		}
		if line != "" {
			line += " "
		}
		line += w
	}
	flush()
	return out
}
