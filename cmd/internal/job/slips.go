package job

import (
	"bytes"
	"regexp"
	"strings"

	"starwright/geom"
	"starwright/geom/words"
)

// setting is a line of a job file as people write it: a key, an equals sign or
// a colon, a value.
var setting = words.Pattern(`^\s*([A-Za-z_][A-Za-z0-9_.-]*)\s*([=:])\s*(.*?)\s*$`)

// tableLine is a table's line, perhaps without one of its brackets.
var tableLine = words.Pattern(`^\s*\[*\s*([A-Za-z_][A-Za-z0-9_]*)\s*\]*\s*(?:#.*)?$`)

// header is a table's line as it should be.
var header = words.Pattern(`^\s*\[+\s*([A-Za-z0-9_.-]+)\s*\]+\s*(?:#.*)?$`)

// slip finds out what people do at the line on which TOML cannot be read, and
// says it in their words: curly quotes, a length without quotes, a quote that
// is not closed. It is false where none of it is seen there.
func slip(file string, data []byte, line int) (Error, bool) {
	lines := strings.Split(string(data), "\n")
	// A quote that is not closed may be found out lines later.
	for _, at := range []int{line, line - 1} {
		if at < 1 || at > len(lines) {
			continue
		}
		e := Error{File: file, Line: at}
		for i := at - 1; i >= 0; i-- {
			if m := header().FindStringSubmatch(strings.TrimRight(lines[i], "\r")); m != nil {
				e.Table = m[1]
				break
			}
		}
		if slipAt(&e, strings.TrimRight(lines[at-1], "\r"), unitOf(data)) {
			return e, true
		}
	}
	return Error{}, false
}

// unitOf returns the unit that a file that cannot be read seems to have.
func unitOf(data []byte) geom.Unit {
	if regexp.MustCompile(`(?m)^\s*units\s*=\s*\W*in`).Match(data) && !bytes.Contains(data, []byte("[units]")) {
		return geom.Inch
	}
	return geom.Millimetre
}

// slipAt fills in what is wrong with one line; false where nothing is seen.
func slipAt(e *Error, line string, u geom.Unit) bool {
	const longest = 300 // bytes of a line that is taken for a slip of the pen
	if len(line) > longest {
		return false
	}
	m := setting().FindStringSubmatch(line)
	if m == nil {
		t := tableLine().FindStringSubmatch(line)
		if t == nil || header().MatchString(line) || !strings.ContainsAny(line, "[]") {
			return false
		}
		e.Table, e.Why, e.Got, e.Would = "", "a table's name stands in square brackets", strings.TrimSpace(line), "["+t[1]+"]"
		return true
	}
	key, sign, value := m[1], m[2], m[3]
	e.Key = key
	bare := withoutNote(value)
	switch {
	case sign == ":":
		e.Why, e.Got = "a key and its value have an equals sign between them", bare
	case bare == "":
		e.Why = "there is no value behind the equals sign"
		return true
	case strings.ContainsAny(bare, "“”„‟«»‘’‚‛″"):
		e.Why = "these are curly quotes"
	case bare[0] == '[' || bare[0] == '{':
		fixed := listMeant(bare, u)
		if fixed == "" {
			return false
		}
		e.Why, e.Got, e.Would = "put each length in the brackets in quotes", bare, key+" = "+fixed
		return true
	case bare[0] == '"' || bare[0] == '\'':
		e.Why, e.Got = "the quotes do not go round the value, from its first sign to its last", bare
	case strings.Trim(bare, "0123456789_.+-xXoObBeEaAfF") == "":
		e.Why, e.Got = "this number cannot be read", bare
		if plain := plainNumber(bare); plain != "" {
			e.Would = key + " = " + plain
		}
		return true
	default:
		e.Why, e.Got = "put words and lengths in quotes", bare
		if v, _ := valueMeant(bare, u); v != "" && !strings.HasPrefix(v, `"`) {
			e.Why = "this value is written otherwise"
		} else if meantLength(unquoted(bare), u) != "" {
			e.Why = "put the length in quotes"
		}
	}
	if v, ok := valueMeant(bare, u); ok {
		e.Would = key + " = " + v
	}
	return e.Would != "" || sign == ":"
}

// plainNumber returns a number as TOML reads it, of one written with signs that it
// does not read; "" where nobody can tell what was meant.
func plainNumber(bare string) string {
	n := strings.Trim(strings.ReplaceAll(bare, "_", ""), ".+")
	if len(n) >= 10 || strings.Trim(n, "0123456789.") != "" || strings.Count(n, ".") > 1 {
		return ""
	}
	n = strings.TrimLeft(n, "0")
	if n == "" || n[0] == '.' {
		n = "0" + n
	}
	return n
}

// withoutNote cuts the note behind a # off a value, outside of quotes.
func withoutNote(v string) string {
	in := false
	for i, r := range v {
		switch {
		case r == '"':
			in = !in
		case r == '#' && !in:
			return strings.TrimSpace(v[:i])
		}
	}
	if in { // a quote is not closed, so that the # may be a note's
		if at := strings.Index(v, " #"); at > 0 {
			return strings.TrimSpace(v[:at])
		}
	}
	return v
}

// valueMeant returns a value as TOML that was written otherwise.
func valueMeant(bare string, u geom.Unit) (string, bool) {
	inner := unquoted(bare)
	if yes, ok := meantTruth(inner); ok && inner != "1" && inner != "0" {
		if yes {
			return "true", true
		}
		return "false", true
	}
	if regexp.MustCompile(`^[0-9]+(\.[0-9]+)?$`).MatchString(inner) && !strings.ContainsAny(bare, quoteMarks+`"'`) {
		return inner, true
	}
	// An inch mark is part of the length, not of the quotes.
	marked := strings.Trim(strings.TrimSpace(bare), "“„'‘")
	marked = strings.TrimPrefix(marked, `"`)
	if strings.HasSuffix(marked, `""`) || strings.HasSuffix(marked, `"”`) || strings.HasSuffix(marked, `””`) || strings.HasSuffix(marked, `″"`) {
		if l := meantLength(inner+" in", u); l != "" {
			return quote(l), true
		}
	}
	if l := meantLength(inner, u); l != "" {
		if !strings.ContainsAny(l, "abcdefghijklmnopqrstuvwxyz'\"") {
			l += " " + u.String()
		}
		return quote(l), true
	}
	if inner == "" {
		return "", false
	}
	return quote(inner), true
}

// listMeant returns a list with each length in straight quotes, "" where it
// holds anything else.
func listMeant(bare string, u geom.Unit) string {
	inner, ok := strings.CutPrefix(bare, "[")
	if !ok || strings.ContainsAny(inner, "[{") {
		return ""
	}
	inner = strings.TrimSuffix(inner, "]")
	var out []string
	for _, part := range strings.Split(inner, ",") {
		if strings.TrimSpace(part) == "" {
			continue
		}
		v, ok := valueMeant(strings.TrimSpace(part), u)
		if !ok {
			return ""
		}
		out = append(out, v)
	}
	return "[" + strings.Join(out, ", ") + "]"
}
