package dxfread

import (
	"bytes"
	"fmt"
	"math"
	"strconv"

	"starwright/post/cut"
	"starwright/toolpath/finding"
)

// pairs walks through the pairs of a file: a group code on one line, its value
// on the next.
type pairs struct {
	src  []byte
	pos  int
	line int // line of the code of the current pair, 1-based

	code  int
	value []byte // as it stands, without the line's end
	done  bool   // no current pair: the end, or a fault beyond which nothing is safe

	gaveUp bool // the latter
	file   *cut.File
	order  order
}

// next moves to the next pair and returns whether there is one.
func (p *pairs) next() bool {
	if p.done {
		return false
	}
	p.line += 2
	if p.pos >= len(p.src) {
		p.done = true
		return false
	}
	n, ok := p.usualCode()
	if !ok {
		code, ok := p.rawLine()
		if !ok {
			return p.stop(p.line, "line longer than %d letters", maxLine)
		}
		if n, ok = groupCode(code); !ok {
			if p.pos >= len(p.src) && len(bytes.TrimSpace(code)) == 0 {
				p.done = true // blank line at the end
				return false
			}
			return p.stop(p.line, "no group code: every first line of a pair is a whole number from 0 to 1071; a line may be missing before here")
		}
	}
	if p.pos >= len(p.src) {
		return p.stop(p.line, "group code %d without a value: the file ends in the middle of a pair", n)
	}
	if p.value, ok = p.rawLine(); !ok {
		return p.stop(p.line+1, "line longer than %d letters", maxLine)
	}
	p.code = n
	if n != 999 {
		p.point()
	}
	return true
}

// usualCode reads a code that stands as most programs write it, right-aligned
// in three columns, and false with nothing read where it does not.
func (p *pairs) usualCode() (int, bool) {
	s := p.src[p.pos:]
	if len(s) < 4 || s[3] != '\n' || s[2]-'0' > 9 {
		return 0, false
	}
	n := int(s[2] - '0')
	switch {
	case s[1]-'0' <= 9 && s[0] == ' ':
		n += 10 * int(s[1]-'0')
	case s[1] != ' ' || s[0] != ' ':
		return 0, false
	}
	p.pos += 4
	return n, true
}

// rawLine returns the next line without its end, and false where it is longer
// than any line of a DXF file.
func (p *pairs) rawLine() ([]byte, bool) {
	rest := p.src[p.pos:]
	const usual = 12 // letters; below, looking at each is quicker than a search
	n := 0
	for n < usual && n < len(rest) && rest[n] != '\n' {
		n++
	}
	if n == usual || n == len(rest) {
		n = bytes.IndexByte(rest[:min(len(rest), maxLine+2)], '\n')
	}
	if n < 0 {
		if len(rest) > maxLine {
			return nil, false
		}
		p.pos = len(p.src)
		return bytes.TrimSuffix(rest, []byte{'\r'}), true
	}
	p.pos += n + 1
	if n > 0 && rest[n-1] == '\r' {
		n--
	}
	return rest[:n], true
}

// groupCode reads a group code: digits with white space round them.
func groupCode(b []byte) (int, bool) {
	i, n := 0, 0
	for i < len(b) && (b[i] == ' ' || b[i] == '\t') {
		i++
	}
	start := i
	for ; i < len(b) && b[i]-'0' <= 9 && i < start+4; i++ {
		n = n*10 + int(b[i]-'0')
	}
	if i == start || n > 1071 {
		return 0, false
	}
	for ; i < len(b); i++ {
		if b[i] != ' ' && b[i] != '\t' {
			return 0, false
		}
	}
	return n, true
}

// is reports whether the current pair has this code and word.
func (p *pairs) is(code int, word string) bool {
	return p.code == code && (string(p.value) == word || string(bytes.TrimSpace(p.value)) == word)
}

// word returns the current value without white space at its ends.
func (p *pairs) word() string { return string(bytes.TrimSpace(p.value)) }

// real returns the current value as a number of the drawing, and 0 with a
// finding where it is none.
func (p *pairs) real() float64 {
	v, ok := parseReal(p.value)
	if !ok {
		p.fault(p.line+1, "number", string(p.value), "group %d: no number: write digits with a point, such as 12.5", p.code)
		return 0
	}
	if math.Abs(v) > maxValue {
		p.fault(p.line+1, "number", string(p.value), "group %d: too large for a coordinate: the limit is %.0f", p.code, maxValue)
		return 0
	}
	return v
}

// int returns the current value as a whole number, and 0 with a finding where
// it is none.
func (p *pairs) int() int {
	n, err := strconv.ParseInt(string(bytes.TrimSpace(p.value)), 10, 32)
	if err != nil {
		p.fault(p.line+1, "number", string(p.value), "group %d: no whole number", p.code)
		return 0
	}
	return int(n)
}

// pow10 holds the powers of ten that float64 holds exactly.
var pow10 = [...]float64{1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11,
	1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// parseReal reads a number in fixed point or with an exponent. Words such as
// inf, and hexadecimal, are no numbers here.
func parseReal(b []byte) (float64, bool) {
	b = bytes.TrimSpace(b)
	i, neg := 0, false
	if i < len(b) && (b[i] == '-' || b[i] == '+') {
		neg = b[i] == '-'
		i++
	}
	// Up to 15 digits and a power of ten below 10^22 divide with one
	// rounding, so this gives the same result as the slow way (Clinger,
	// "How to read floating point numbers accurately", PLDI 1990).
	var m uint64
	digits, frac, point := 0, 0, false
	for ; i < len(b); i++ {
		switch c := b[i]; {
		case c-'0' <= 9:
			m = m*10 + uint64(c-'0')
			digits++
			if point {
				frac++
			}
		case c == '.' && !point:
			point = true
		default:
			return parseSlowly(b)
		}
		if digits > 15 {
			return parseSlowly(b)
		}
	}
	if digits == 0 {
		return 0, false
	}
	v := float64(m) / pow10[frac]
	if neg {
		v = -v
	}
	return v, true
}

func parseSlowly(b []byte) (float64, bool) {
	for _, c := range b {
		if c-'0' > 9 && c != '.' && c != '-' && c != '+' && c != 'e' && c != 'E' {
			return 0, false
		}
	}
	v, err := strconv.ParseFloat(string(b), 64)
	return v, err == nil
}

// fault records what is wrong with the file's structure at a line.
func (p *pairs) fault(line int, rule, block, format string, args ...any) {
	if len(p.file.Faults) >= maxFaults {
		return
	}
	p.file.Faults = append(p.file.Faults, finding.Finding{
		File: p.file.Name, Line: line, Rule: rule, Block: clip(block), What: fmt.Sprintf(format, args...),
	})
}

// stop records a fault and ends the reading: beyond it codes and values can no
// longer be told apart.
func (p *pairs) stop(line int, format string, args ...any) bool {
	p.done, p.gaveUp = true, true
	raw := p.lineAt(line)
	p.fault(line, "structure", raw, format+"; nothing after it was read", args...)
	return false
}

// lineAt returns a line of the file for a message.
func (p *pairs) lineAt(line int) string {
	rest := p.src
	for n := 1; n < line; n++ {
		i := bytes.IndexByte(rest, '\n')
		if i < 0 {
			return ""
		}
		rest = rest[i+1:]
	}
	if i := bytes.IndexByte(rest, '\n'); i >= 0 {
		rest = rest[:i]
	}
	return string(rest[:min(len(rest), maxWords)])
}

// clip makes a value fit to print: no control letters, not too long.
func clip(s string) string {
	b := []byte(s[:min(len(s), maxWords)])
	for i, c := range b {
		if c < ' ' || c > '~' {
			b[i] = '?'
		}
	}
	return string(bytes.TrimSpace(b))
}
