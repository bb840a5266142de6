package ncread

import (
	"bytes"
	"strconv"
	"strings"
)

// Lengths of a line, in characters without its end.
const (
	lineStd  = 256  // NISTIR 6556 §3.3
	lineSub  = 70   // older small controllers (from memory)
	lineRead = 4096 // beyond this a line is not read at all
)

// reset empties the block for another line.
func (b *block) reset() {
	b.seen, b.point, b.lost = 0, 0, 0
	b.gSeen, b.mSeen, b.mCount, b.words = 0, 0, 0, 0
	b.head, b.deleted, b.percent, b.strange, b.hasComment = true, false, false, false, false
	b.faults = b.faults[:0]
}

// parse takes a line apart. The faults it finds are left in the block, which
// holds whatever could be read.
func (b *block) parse(s []byte) {
	b.reset()
	for i := 0; i < len(s); {
		letter := s[i] &^ 0x20
		if letter-'A' >= 26 {
			i = b.sign(s, i)
			continue
		}
		if letter == 'N' {
			i = b.lineNumber(s, i+1)
			continue
		}
		v, next, point, ok := number(s, i+1)
		if !ok {
			i = b.noNumber(s, i, next)
			continue
		}
		i = next
		b.word(letter, v, point)
	}
}

// sign takes in what does not begin with a letter and returns where to go on.
func (b *block) sign(s []byte, i int) int {
	switch c := s[i]; {
	case c == ' ' || c == '\t':
	case c == '(':
		return b.takeComment(s, i)
	case c == ';':
		b.fault(subSemicolon, "semicolon")
		if !b.hasComment {
			b.comment, b.hasComment = bytes.Trim(s[i+1:], " \t"), true
		}
		return len(s)
	case c == '/' && b.head && !b.deleted:
		b.deleted = true
	case c == '%':
		if !b.head || b.deleted || len(bytes.Trim(s, " \t")) > 1 {
			b.fault(stdPercent, "%% does not stand alone on its line")
			return len(s)
		}
		b.percent = true
	case c == '#':
		b.head = false
		b.fault(subParameter, "parameter setting %s", printable(s[i:]))
		return skipSetting(s, i)
	case c >= '0' && c <= '9' || c == '.' || c == '-' || c == '+':
		b.head = false
		_, next, _, _ := number(s, i)
		next = max(next, i+1)
		b.fault(stdNumber, "number %s without a letter before it", printable(s[i:next]))
		return next
	case c < ' ' || c > '~':
		b.head = false
		b.fault(stdCharacter, "byte %#02x is no character of a program", c)
	default:
		b.head = false
		b.fault(stdCharacter, "character %q has no meaning here", c)
	}
	return i + 1
}

// lineNumber takes in the digits after N (NISTIR 6556 §3.3.1).
func (b *block) lineNumber(s []byte, i int) int {
	if !b.head {
		b.fault(stdLineNumber, "line number that is not first on its line")
	}
	b.head = false
	digits := 0
	for ; i < len(s); i++ {
		c := s[i]
		if c >= '0' && c <= '9' {
			digits++
		} else if c != ' ' && c != '\t' {
			break
		}
	}
	if digits > 5 {
		b.fault(subLineNumber, "line number of %d digits", digits)
	}
	if digits == 0 || (i < len(s) && (s[i] == '.' || s[i] == '-' || s[i] == '+')) {
		b.fault(stdLineNumber, "line number with a sign or point, or without digits")
		if i < len(s) && !isLetter(s[i]) {
			_, next, _, ok := number(s, i)
			if ok {
				return next
			}
		}
	}
	return i
}

// takeComment takes in a comment that begins at s[i].
func (b *block) takeComment(s []byte, i int) int {
	text := s[i+1:]
	end := bytes.IndexByte(text, ')')
	if end < 0 {
		b.fault(stdCommentOpen, "comment without its closing parenthesis")
		return len(s)
	}
	text = text[:end]
	if bytes.IndexByte(text, '(') >= 0 {
		b.fault(stdCommentNested, "parenthesis within a comment")
	}
	live := false
	for _, c := range text {
		if (c < ' ' && c != '\t') || c > '~' {
			b.fault(subCommentASCII, "comment with byte %#02x", c)
			break
		}
		live = live || c == '!' || c == '?' || c == '~'
	}
	if live {
		b.fault(subLiveCharacter, "comment with one of ! ? ~")
	}
	b.comment, b.hasComment = text, true
	return i + end + 2
}

// noNumber takes in a letter at s[i] that no readable number follows; next is
// where reading the number gave up.
func (b *block) noNumber(s []byte, i, next int) int {
	letter := s[i] &^ 0x20
	b.words++
	b.head = false
	j := i + 1
	for j < len(s) && (s[j] == ' ' || s[j] == '\t' || s[j] == '-' || s[j] == '+') {
		j++
	}
	switch {
	case bit(letter)&unknown != 0:
		b.noSuchLetter(letter)
	case j < len(s) && s[j] == '#':
		b.fault(subParameter, "parameter after %c", letter)
		next = skipValue(s, i+1)
	case j < len(s) && (s[j] == '[' || isFunction(s[j:])):
		b.fault(subExpression, "expression after %c", letter)
		next = skipValue(s, i+1)
	case next > j:
		b.fault(stdNumber, "%c with the number %s; nothing beyond %g can be read", letter, printable(s[i+1:next]), float64(numberMax))
	default:
		b.fault(stdNumber, "%c without a number", letter)
	}
	b.strange = b.strange || letter == 'G'
	b.lost |= bit(letter)
	b.seen &^= bit(letter)
	return max(next, i+1)
}

// isFunction reports whether s begins with the name of a function and its
// bracket: SIN[ and the like.
func isFunction(s []byte) bool {
	n := 0
	for n < len(s) && isLetter(s[n]) {
		n++
	}
	if n < 2 || n == len(s) || s[n] != '[' {
		return false
	}
	switch strings.ToUpper(string(s[:min(n, 6)])) {
	case "ABS", "ACOS", "ASIN", "ATAN", "COS", "EXP", "FIX", "FUP", "LN", "ROUND", "SIN", "SQRT", "TAN":
		return true
	}
	return false
}

func isLetter(c byte) bool { c |= 0x20; return c >= 'a' && c <= 'z' }

// skipSetting returns the place after a parameter setting, #3=15, at s[i].
func skipSetting(s []byte, i int) int {
	i = skipValue(s, i)
	for i < len(s) && (s[i] == ' ' || s[i] == '\t') {
		i++
	}
	if i < len(s) && s[i] == '=' {
		i = skipValue(s, i+1)
	}
	return i
}

// skipValue returns the place after a value that is not worked out: a
// number, #5, [1+2], SIN[30] or ATAN[1]/[2], with its sign.
func skipValue(s []byte, i int) int {
	for i < len(s) && (bytes.IndexByte([]byte(" \t-+#"), s[i]) >= 0) {
		i++
	}
	for i < len(s) && isLetter(s[i]) {
		i++
	}
	if i < len(s) && s[i] == '[' {
		i = skipBrackets(s, i)
		if i+1 < len(s) && s[i] == '/' && s[i+1] == '[' {
			i = skipBrackets(s, i+1)
		}
		return i
	}
	_, next, _, _ := number(s, i)
	return next
}

// skipBrackets returns the place after the bracket that closes the one at s[i].
func skipBrackets(s []byte, i int) int {
	for depth := 0; i < len(s); i++ {
		switch s[i] {
		case '[':
			depth++
		case ']':
			if depth--; depth == 0 {
				return i + 1
			}
		}
	}
	return i
}

// plain returns a number without an exponent.
func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
