package dxfwrite

import (
	"strings"

	"starwright/geom/words"
)

// label returns s as the words of a TEXT: the file carries no code page, so that
// every letter beyond ASCII would come out differently from program to program.
// Two per cent signs and a caret would be read as the start of a control code.
func label(s string) string {
	s = words.ASCII(s)
	for strings.Contains(s, "%%") {
		s = strings.ReplaceAll(s, "%%", "% %")
	}
	return strings.ReplaceAll(s, "^", "^ ")
}
