package jobedit

import (
	"bytes"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"
)

// Set writes one value, given as TOML: a number, a text in quotes (see [Text]),
// a list. path is the tables and the key that lead to it; within a list a step
// is the number of an item from 0, and the number of items adds one. Only the
// bytes of the old value change. Where there is none, one line is added behind
// the last of its table, or a table at the end.
func Set(data []byte, value string, path ...string) ([]byte, error) {
	if err := oneValue(value); err != nil {
		return nil, err
	}
	root, err := read(data)
	if err != nil {
		return nil, err
	}
	e := editor{data, newline(data)}
	at, steps := root.find(path)
	if steps == len(path) {
		if at.kind == table || at.kind == tables || steps == 0 || at.prefix != "" {
			return nil, &PathError{path, "this is a table; only a value can be set"}
		}
		return e.splice(at.start, at.end, value), nil
	}
	out, why := e.add(place{root, at, path[:steps], path[steps:]}, value)
	if why != "" {
		return nil, &PathError{path, why}
	}
	return out, sound(out)
}

// Remove takes a value out with its key, and with the comment that stands on
// its line; or a table of a list of tables, with its headers and the comments
// in it. It is no error if there is none.
func Remove(data []byte, path ...string) ([]byte, error) {
	root, err := read(data)
	if err != nil {
		return nil, err
	}
	at, steps := root.find(path)
	if steps < len(path) {
		return data, nil
	}
	e := editor{data, newline(data)}
	if root.isItem(path) {
		out := e.removeTable(at)
		return out, sound(out)
	}
	if at.kind == table || at.kind == tables || steps == 0 || at.prefix != "" {
		return nil, &PathError{path, "this is a table; only a value can be removed"}
	}
	var around *node // the brackets or braces that it stands in
	for i := range path {
		if up, _ := root.find(path[:i]); (up.kind == list || up.kind == inline) && up.prefix == "" {
			around = up
		}
	}
	out := e.removeLine(at)
	if around != nil {
		out = e.removeItem(at, around)
	}
	return out, sound(out)
}

// Text writes a text as a TOML value.
func Text(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r < ' ' || r == 0x7f:
			b.WriteString(`\u` + strings.Repeat("0", 4-len(strconv.FormatInt(int64(r), 16))) + strconv.FormatInt(int64(r), 16))
		default:
			b.WriteRune(r)
		}
	}
	return b.String() + `"`
}

// oneValue reports what is wrong with a value before it is written.
func oneValue(value string) error {
	if !utf8.ValidString(value) {
		return &SyntaxError{"the value is not UTF-8"}
	}
	head := "value = "
	root, err := read([]byte(head + value))
	if err != nil {
		return err
	}
	if n := root.kids["value"]; len(root.keys) != 1 || n == nil || n.start != len(head) || n.end != len(head)+len(value) {
		return &SyntaxError{"this is more than one value: " + value}
	}
	return nil
}

// sound makes sure that a text that was changed can still be read.
func sound(data []byte) error {
	var all map[string]any
	if err := toml.Unmarshal(bytes.TrimPrefix(data, mark), &all); err != nil {
		return &SyntaxError{err.Error()}
	}
	return nil
}

// newline returns the line end that a text uses.
func newline(data []byte) string {
	if i := bytes.IndexByte(data, '\n'); i > 0 && data[i-1] == '\r' {
		return "\r\n"
	}
	return "\n"
}

// dotted writes a path as a dotted key.
func dotted(path []string) string {
	parts := make([]string, len(path))
	for i, p := range path {
		parts[i] = written(p)
	}
	return strings.Join(parts, ".")
}

// written writes a key, in quotes where it needs them.
func written(key string) string {
	for i := range len(key) {
		if !bare(key[i]) {
			return Text(key)
		}
	}
	if key == "" {
		return Text(key)
	}
	return key
}

// Rename gives a key another name and leaves its value and place. path leads to
// the key as it is now.
func Rename(data []byte, key string, path ...string) ([]byte, error) {
	root, err := read(data)
	if err != nil {
		return nil, err
	}
	at, steps := root.find(path)
	if steps < len(path) || steps == 0 || at.kind == table || at.kind == tables || at.prefix != "" {
		return nil, &PathError{path, "there is no such key to rename"}
	}
	c := &cursor{data: data, at: at.from}
	parts := c.key()
	if len(parts) == 0 || name(parts[len(parts)-1]) != path[len(path)-1] {
		return nil, &PathError{path, "this is an item of a list, which has no name"}
	}
	end := c.at
	out := editor{data, newline(data)}.splice(end-len(parts[len(parts)-1]), end, written(key))
	return out, sound(out)
}

// First returns the TOML value that a text begins with, "" where it begins
// with none.
func First(s string) string {
	s = strings.TrimLeft(s, " ")
	for end := len(s); end > 0; end-- {
		if oneValue(s[:end]) == nil {
			return s[:end]
		}
	}
	return ""
}
