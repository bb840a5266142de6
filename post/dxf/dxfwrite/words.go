package dxfwrite

import (
	"strings"
	"unicode"
)

// plain returns s as printable ASCII: the file carries no code page, so every
// other letter would come out differently from program to program. Letters
// that a job name may hold get a spelling; the rest become "?".
func plain(s string) string {
	var b strings.Builder
	space := false
	var last rune
	for _, r := range s {
		afterDigit := unicode.IsDigit(last)
		last = r
		if unicode.IsSpace(r) || unicode.IsControl(r) {
			space = b.Len() > 0
			continue
		}
		if space {
			b.WriteByte(' ')
			space = false
		}
		switch {
		case r > ' ' && r < 0x7f:
			b.WriteByte(byte(r))
		case afterDigit && strings.ContainsRune("½¼¾", r):
			b.WriteString(" " + spell(r)) // a mixed number
		default:
			b.WriteString(spell(r))
		}
	}
	return b.String()
}

// spell returns an ASCII spelling of a letter or sign.
func spell(r rune) string {
	switch r {
	case '×':
		return "x"
	case '°':
		return " deg"
	case 'Ø', 'ø', '⌀':
		return "dia "
	case '–', '—', '−', '‐', '‑':
		return "-"
	case '‘', '’', '′':
		return "'"
	case '“', '”', '″':
		return `"`
	case '…':
		return "..."
	case '½':
		return "1/2"
	case '¼':
		return "1/4"
	case '¾':
		return "3/4"
	case 'ä':
		return "ae"
	case 'ö':
		return "oe"
	case 'ü':
		return "ue"
	case 'ß':
		return "ss"
	case 'é', 'è', 'ê':
		return "e"
	case 'µ', 'μ':
		return "u"
	default:
		return "?"
	}
}

// label returns s as the words of a TEXT. Two per cent signs and a caret
// would be read as the start of a control code.
func label(s string) string {
	s = plain(s)
	for strings.Contains(s, "%%") {
		s = strings.ReplaceAll(s, "%%", "% %")
	}
	return strings.ReplaceAll(s, "^", "^ ")
}

// wrap breaks s at spaces into lines of at most width letters; a longer word
// is cut.
func wrap(s string, width int) []string {
	var lines []string
	line := ""
	for _, w := range strings.Fields(s) {
		if line != "" && len(line)+1+len(w) > width {
			lines = append(lines, line)
			line = ""
		}
		for len(w) > width {
			lines = append(lines, w[:width])
			w = w[width:]
		}
		if line != "" {
			line += " "
		}
		line += w
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
