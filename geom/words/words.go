// Package words holds what every page, drawing, program and message does with
// text: counting things, breaking lines, spelling with the letters that any
// machine has, and finding the name that was meant.
//
// It knows nothing of what the text says, and nothing of fonts: what is measured
// in letters is here, what is measured in millimetres where it is drawn.
package words

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Count says how many things there are: "1 board", "3 boards".
func Count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// List names several things: "pine", "pine and oak", "pine, oak and ash".
func List(things ...string) string {
	n := len(things)
	if n < 2 {
		return strings.Join(things, "")
	}
	return strings.Join(things[:n-1], ", ") + " and " + things[n-1]
}

// Capital returns a text with a capital as its first letter.
func Capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// OneLine returns the printing signs of a text on one line: signs that do not
// print are left out, those among them that turn the direction of writing.
func OneLine(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case r == utf8.RuneError || !unicode.IsPrint(r):
			return -1
		}
		return r
	}, s)
}

// Wrap breaks a text at its spaces into lines of at most room letters. A word
// that is longer is cut. A text without words has no lines.
func Wrap(text string, room int) []string { return Hang(text, room, "", "") }

// Hang is [Wrap] with something in front of the first line and of the others,
// which counts as letters.
func Hang(text string, room int, first, rest string) []string {
	var out []string
	line, front := "", first
	letters := utf8.RuneCountInString
	flush := func() {
		out = append(out, front+line)
		line, front = "", rest
	}
	for _, w := range strings.Fields(text) {
		if line != "" && letters(front)+letters(line)+1+letters(w) > room {
			flush()
		}
		for line == "" && letters(front)+letters(w) > room {
			cut := len(string([]rune(w)[:max(1, room-letters(front))]))
			if cut == len(w) {
				break
			}
			line, w = w[:cut], w[cut:]
			flush()
		}
		if line != "" {
			line += " "
		}
		line += w
	}
	if line != "" {
		flush()
	}
	return out
}

// Fill breaks each line of a text at its spaces into lines that fit. A word that
// fits no line stays whole; an empty line stays.
func Fill(text string, fits func(line string) bool) []string {
	var out []string
	for _, para := range strings.Split(text, "\n") {
		line := ""
		for _, w := range strings.Fields(para) {
			switch {
			case line == "":
				line = w
			case fits(line + " " + w):
				line += " " + w
			default:
				out, line = append(out, line), w
			}
		}
		out = append(out, line)
	}
	return out
}
