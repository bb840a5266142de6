package ncwrite

import (
	"strings"

	"starwright/geom/words"
)

// lineMax is the longest line that is written, its end not counted. Older
// small controllers stop at 70 characters (from memory), newer ones at 79.
const lineMax = 70

// harmless replaces what a comment cannot hold. Parentheses cannot stand in one
// (NISTIR 6556 §3.3.4); ! ? ~ are commands to a running machine in some small
// firmware even within a comment (from memory); ; and % are read as comment and
// tape end by others.
var harmless = strings.NewReplacer("(", "-", ")", "-", "!", ".", "?", ".", "~", "-", ";", ",", "%", " per cent")

// comments returns text as the texts of comment lines, broken at words so that none is
// longer than lineMax. A word that does not fit a line by itself is cut.
func comments(text string) []string {
	return words.Wrap(harmless.Replace(words.ASCII(text)), lineMax-len("()"))
}
