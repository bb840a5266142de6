package job

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

// Bounds of a job file, far above any real one, so that a hostile file costs
// neither time nor memory.
const (
	maxBytes = 1 << 20
	maxNodes = 5000 // values, tables and list items
	maxDepth = 6    // of dotted keys, and of lists and tables in each other
)

// kind is what a value is in TOML.
type kind int

const (
	table kind = iota
	list
	text
	whole
	decimal
	truth
	date // and times
)

// node is a value with its place in the file.
type node struct {
	kind  kind
	line  int
	text  string // what a text says; any other plain value as written
	raw   string // as written, "" for tables and lists
	keys  []string
	kids  map[string]*node // of a table
	items []*node          // of a list
	fixed bool             // a table that has had its header or its braces
	from  *origin          // nil for what stands in the job file
}

// find returns the node at a dotted path of plain keys, nil where there is none.
func (n *node) find(path string) *node {
	for _, k := range strings.Split(path, ".") {
		if n == nil {
			return nil
		}
		n = n.kids[k]
	}
	return n
}

// put adds a kid to a table.
func (n *node) put(key string, kid *node) {
	if n.kids == nil {
		n.kids = map[string]*node{}
	}
	n.keys = append(n.keys, key)
	n.kids[key] = kid
}

// tree builds the nodes of one file.
type tree struct {
	file  string
	data  []byte
	lines []int // where each line begins
	parse unstable.Parser
	nodes int
	root  *node
	at    []string // the table that the walk is in
	errs  []Error
}

// readTree reads TOML to a tree. A non-nil tree comes with no errors or with
// errors of keys given twice; a nil one with what makes the file unreadable.
func readTree(file string, data []byte) (*node, []Error) {
	if e, bad := unreadable(file, data); bad {
		return nil, []Error{e}
	}
	// A byte order mark, which some editors put, is no part of TOML.
	data = slices.Clip(bytes.TrimPrefix(data, []byte("\ufeff")))
	t := &tree{file: file, data: data, lines: lineStarts(data), root: &node{fixed: true}}
	if e, bad := t.build(); bad {
		if plain, ok := slip(file, data, e.Line); ok && strings.HasPrefix(e.Why, notTOML) {
			e = plain
		}
		return nil, []Error{e}
	}
	if len(t.errs) > 0 {
		return t.root, t.errs
	}
	// The library's own reading finds what the walk does not look at: dates
	// that no calendar has, numbers with doubled underscores and the like.
	var all map[string]any
	if err := toml.Unmarshal(data, &all); err != nil {
		e := Error{File: file, Why: notTOML + strings.TrimPrefix(printable(err.Error(), 3*maxShown), "toml: ")}
		var d *toml.DecodeError
		if errors.As(err, &d) {
			e.Line, e.Col = d.Position()
		}
		if plain, ok := slip(file, data, e.Line); ok {
			e = plain
		}
		return nil, []Error{e}
	}
	return t.root, nil
}

const notTOML = "this cannot be read as TOML: "

// unreadable says what is wrong with a file that is no text of a sane size.
func unreadable(file string, data []byte) (Error, bool) {
	e := Error{File: file}
	switch {
	case len(bytes.TrimSpace(bytes.TrimPrefix(data, []byte("\ufeff")))) == 0:
		e.Why, e.Would = "the job file is empty", "starwright init for one to start from"
	case len(data) > maxBytes:
		e.Why = fmt.Sprintf("the job file has %d bytes; a job has %d at most", len(data), maxBytes)
		e.Would = "starwright init for one to start from"
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}) || bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		e.Why, e.Would = "the job file is saved as UTF-16", "saving it as UTF-8 text"
	case bytes.IndexByte(data, 0) >= 0:
		e.Line = bytes.Count(data[:bytes.IndexByte(data, 0)], []byte{'\n'}) + 1
		e.Why, e.Would = "the job file is not text but binary", "starwright init for one to start from"
	case !utf8.Valid(data):
		at := 0
		for at < len(data) {
			r, n := utf8.DecodeRune(data[at:])
			if r == utf8.RuneError && n == 1 {
				break
			}
			at += n
		}
		e.Line = bytes.Count(data[:at], []byte{'\n'}) + 1
		e.Why, e.Would = "the job file is not UTF-8 text", "saving it as UTF-8 text"
	default:
		return e, false
	}
	return e, true
}

// lineStarts returns where each line begins.
func lineStarts(data []byte) []int {
	starts := []int{0}
	for i, c := range data {
		if c == '\n' {
			starts = append(starts, i+1)
		}
	}
	return starts
}

// place returns line and column, from 1, of an offset.
func (t *tree) place(offset int) (line, col int) {
	i, found := slices.BinarySearch(t.lines, offset)
	if !found {
		i--
	}
	return i + 1, offset - t.lines[i] + 1
}

// line returns the line on which a node of the parser begins.
func (t *tree) line(n *unstable.Node) int {
	l, _ := t.place(int(n.Raw.Offset))
	return l
}

// build walks the file. It says what makes it unreadable.
func (t *tree) build() (Error, bool) {
	t.parse.Reset(t.data)
	here := t.root
	for t.parse.NextExpression() {
		x := t.parse.Expression()
		path, line := t.path(x.Key())
		if len(path) > maxDepth {
			return Error{File: t.file, Line: line, Why: "keys are nested deeper than any job needs"}, true
		}
		if x.Kind != unstable.KeyValue {
			t.at = nil
		}
		switch x.Kind {
		case unstable.Table:
			here, t.at = t.header(path, line), path
		case unstable.ArrayTable:
			here, t.at = t.listHeader(path, line), path
		case unstable.KeyValue:
			if !t.assign(here, t.at, path, line, x.Value(), 0) {
				return Error{File: t.file, Line: line, Why: "lists are nested deeper than any job needs"}, true
			}
		}
		if t.nodes > maxNodes {
			return Error{File: t.file, Line: line, Why: fmt.Sprintf("there are more than %d keys and values up to here; no job needs so many", maxNodes)}, true
		}
	}
	if err := t.parse.Error(); err != nil {
		e := Error{File: t.file, Why: notTOML + printable(err.Error(), 3*maxShown)}
		var p *unstable.ParserError
		if errors.As(err, &p) {
			e.Line, e.Col = t.place(int(t.parse.Range(p.Highlight).Offset))
		}
		if m := err.Error(); strings.HasPrefix(m, "expected newline") || strings.HasPrefix(m, "unexpected character") {
			e.Would = `quotes round a value that has letters or signs, as in "100 mm"; an inch mark within them is written \"`
		}
		return e, true
	}
	return Error{}, false
}

// path returns the parts of a key and its line.
func (t *tree) path(it unstable.Iterator) (parts []string, line int) {
	for it.Next() {
		if line == 0 {
			line = t.line(it.Node())
		}
		if len(parts) <= maxDepth {
			parts = append(parts, string(it.Node().Data))
		}
	}
	return parts, line
}

// twice notes a key that is given a second time in the table above it.
func (t *tree) twice(above []string, key string, line, first int) {
	t.errs = append(t.errs, Error{File: t.file, Line: line, Table: strings.Join(above, "."), Key: key,
		Why:   fmt.Sprintf("this is given twice, first on line %d", first),
		Would: "leaving one of them out"})
}

// descend returns the table at path below n, making what is missing; nil where
// something else is in the way.
func (t *tree) descend(n *node, path []string, line int) *node {
	for _, k := range path {
		kid := n.kids[k]
		if kid == nil {
			kid = &node{line: line}
			t.nodes++
			n.put(k, kid)
		}
		if kid.kind == list && len(kid.items) > 0 {
			kid = kid.items[len(kid.items)-1]
		}
		if kid.kind != table {
			t.errs = append(t.errs, Error{File: t.file, Line: line, Table: strings.Join(t.at, "."), Key: strings.Join(path, "."),
				Why:   fmt.Sprintf("%s is a table here and a value on line %d", k, kid.line),
				Would: "leaving one of them out"})
			return &node{} // so that what follows is read and forgotten
		}
		n = kid
	}
	return n
}

// header enters `[path]`.
func (t *tree) header(path []string, line int) *node {
	up := t.descend(t.root, path[:len(path)-1], line)
	last := path[len(path)-1]
	if old := up.kids[last]; old != nil && old.fixed {
		e := Error{File: t.file, Line: line, Table: strings.Join(path, "."),
			Why:   fmt.Sprintf("this table is given twice, first on line %d", old.line),
			Would: "one table that holds the keys of both"}
		t.errs = append(t.errs, e)
		return old
	}
	n := t.descend(up, path[len(path)-1:], line)
	n.fixed = true
	return n
}

// listHeader enters `[[path]]`, a new item of a list of tables.
func (t *tree) listHeader(path []string, line int) *node {
	up := t.descend(t.root, path[:len(path)-1], line)
	last := path[len(path)-1]
	l := up.kids[last]
	if l == nil {
		l = &node{kind: list, line: line}
		t.nodes++
		up.put(last, l)
	} else if l.kind != list || l.fixed {
		t.twice(path[:len(path)-1], last, line, l.line)
		return &node{}
	}
	item := &node{line: line, fixed: true}
	t.nodes++
	l.items = append(l.items, item)
	return item
}

// assign puts a value at path below n, which is the table above; false where it is nested too deep.
func (t *tree) assign(n *node, above, path []string, line int, v *unstable.Node, depth int) bool {
	up := t.descend(n, path[:len(path)-1], line)
	last := path[len(path)-1]
	above = slices.Concat(above, path[:len(path)-1])
	val, ok := t.value(v, append(above, last), line, depth)
	if !ok {
		return false
	}
	if old := up.kids[last]; old != nil {
		t.twice(above, last, line, old.line)
		return true
	}
	val.line = line
	up.put(last, val)
	return true
}

// value converts the value of the key at path; false where it is nested too
// deep.
func (t *tree) value(v *unstable.Node, path []string, line, depth int) (*node, bool) {
	t.nodes++
	n := &node{line: line, fixed: true}
	if depth > maxDepth {
		return nil, false
	}
	it := v.Children()
	switch v.Kind {
	case unstable.Array:
		n.kind = list
		for it.Next() && t.nodes <= maxNodes {
			kid, ok := t.value(it.Node(), path, line, depth+1)
			if !ok {
				return nil, false
			}
			n.items = append(n.items, kid)
		}
		if depth > 0 && len(n.items) > 0 { // the parser keeps no place of a list in a list
			n.line = n.items[0].line
		}
		return n, true
	case unstable.InlineTable:
		n.line = t.line(v)
		for it.Next() && t.nodes <= maxNodes {
			key, at := t.path(it.Node().Key())
			if len(key) > maxDepth || !t.assign(n, path, key, at, it.Node().Value(), depth+1) {
				return nil, false
			}
		}
		return n, true
	}
	n.kind = map[unstable.Kind]kind{unstable.String: text, unstable.Bool: truth, unstable.Float: decimal, unstable.Integer: whole}[v.Kind]
	if n.kind == table {
		n.kind = date
	}
	n.line = t.line(v)
	n.raw = string(t.parse.Raw(v.Raw))
	n.text = n.raw
	if n.kind == text {
		n.text = string(v.Data)
	}
	return n, true
}
