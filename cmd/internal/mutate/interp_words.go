package mutate

import (
	"fmt"
	"strconv"
	"strings"
)

// word is a letter and its number.
type word struct {
	letter byte
	v      float64
	point  bool // written with a decimal point
}

// longestLine is the longest line of the standard (§3.3), comments left out:
// they do nothing.
const longestLine = 256

// plainLine is a line without its comments, in capitals, with a mark where a
// comment stood. NISTIR 6556 §3.3: spaces and tabs are allowed anywhere and do
// nothing but in comments; letters may be of either case. §3.3.4: comments stand
// in parentheses, close on their line and hold printable characters and blanks.
// A semicolon begins a comment for every interpreter that knows it; the standard
// does not. live says that a comment holds ! ? or ~, which some controllers take
// for commands wherever they stand (common practice, no source).
func plainLine(line string) (s string, live bool, err error) {
	var b strings.Builder
	length := 0
	for i := 0; i < len(line); i++ {
		length++
		switch c := line[i]; {
		case c == '(' || c == ';':
			k := len(line) - i - 1
			if c == '(' {
				if k = strings.IndexAny(line[i+1:], "()"); k < 0 || line[i+1+k] == '(' {
					return "", false, fmt.Errorf("comment not closed or nested (§3.3.4)")
				}
			}
			text := line[i+1 : i+1+k]
			if strings.ContainsFunc(text, func(r rune) bool { return r != '\t' && (r < ' ' || r > '~') }) {
				return "", false, fmt.Errorf("a comment with what is no printable character (§3.3.4)")
			}
			live = live || strings.ContainsAny(text, "!?~")
			b.WriteByte('(')
			i += k + 1
			length--
		case c == ' ' || c == '\t':
		case c >= 'a' && c <= 'z':
			b.WriteByte(c - 'a' + 'A')
		default:
			b.WriteByte(c)
		}
	}
	if length > longestLine {
		return "", live, fmt.Errorf("a line of %d characters (§3.3)", length)
	}
	return b.String(), live, nil
}

// words takes a line apart. §3.3.2: a word is a letter and a number, with
// nothing but blanks in between; §3.3.2.1: a number is an optional sign, digits,
// and at most one decimal point.
func words(line string) (out []word, live bool, err error) {
	s, live, err := plainLine(line)
	if err != nil {
		return nil, live, err
	}
	for len(s) > 0 {
		if s[0] == '(' {
			s = s[1:]
			continue
		}
		if s[0] < 'A' || s[0] > 'Z' {
			return nil, live, fmt.Errorf("%q is no word (§3.3.2)", s)
		}
		n := 1
		for n < len(s) && strings.IndexByte("+-.0123456789", s[n]) >= 0 {
			n++
		}
		v, err := strconv.ParseFloat(s[1:n], 64)
		if err != nil && !(s[0] == 'N' && n == 1) {
			return nil, live, fmt.Errorf("%q is no number (§3.3.2.1)", s[1:n])
		}
		if s[0] == 'N' && strings.Trim(s[1:n], "0123456789") != "" || n == 1 {
			return nil, live, fmt.Errorf("%q is no line number (§3.3.1)", s[:n])
		}
		out = append(out, word{s[0], v, strings.Contains(s[1:n], ".")})
		s = s[n:]
	}
	return out, live, nil
}
