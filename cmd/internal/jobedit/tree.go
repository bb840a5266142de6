package jobedit

import (
	"bytes"
	"fmt"
	"strconv"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

// kind is what stands at a place.
type kind int

const (
	plain  kind = iota // a text, a number, true or false, a day
	list               // in brackets
	inline             // a table in braces
	table              // with a header, or made by dotted keys, or the whole text
	tables             // a list of tables with headers in double brackets
)

// node is a value or table with its place in the text.
type node struct {
	kind       kind
	start, end int // of a value
	from       int // where its key begins; of a list's item, where it begins

	keys  []string
	kids  map[string]*node
	items []*node

	header bool // has a header, or is the whole text: keys can be added below it
	head   int  // where the line of its header begins
	// tail is behind the last line of a table, where a key can be added: after
	// its header, its last value. prefix is what dotted keys of a table without
	// header have before them.
	tail   int
	prefix string
}

// name is a part of a key without its quotes.
func name(written string) string {
	if written == "" || written[0] != '"' && written[0] != '\'' {
		return written
	}
	var v map[string]int
	if toml.Unmarshal([]byte(written+" = 1"), &v) == nil {
		for k := range v {
			return k
		}
	}
	return written
}

// put adds a kid.
func (n *node) put(key string, kid *node) {
	if n.kids == nil {
		n.kids = map[string]*node{}
	}
	if n.kids[key] == nil {
		n.keys = append(n.keys, key)
	}
	n.kids[key] = kid
}

// file puts a kid at a dotted key below a table, making the tables between.
func (n *node) file(parts []string, kid *node) {
	at, prefix := n, n.prefix
	for _, p := range parts[:len(parts)-1] {
		prefix += p + "."
		next := at.kids[name(p)]
		if next == nil {
			next = &node{kind: at.kind, prefix: prefix, start: kid.from}
			at.put(name(p), next)
		}
		next.end = kid.end
		at = next
	}
	at.put(name(parts[len(parts)-1]), kid)
}

// enter returns the table at a header's key, making what is missing.
func (n *node) enter(parts []string) *node {
	at := n
	for _, p := range parts {
		next := at.kids[name(p)]
		if next == nil {
			next = &node{kind: table}
			at.put(name(p), next)
		}
		if next.kind == tables {
			next = next.items[len(next.items)-1]
		}
		at = next
	}
	return at
}

// SyntaxError says that a text is no TOML.
type SyntaxError struct{ Why string }

func (e *SyntaxError) Error() string { return "this cannot be read as TOML: " + e.Why }

// mark is what some editors put at the head of a text; it is no part of TOML.
var mark = []byte("\ufeff")

// read finds where everything stands in a text.
func read(data []byte) (*node, error) {
	skip := 0
	if bytes.HasPrefix(data, mark) {
		skip = len(mark)
	}
	var all map[string]any
	if err := toml.Unmarshal(data[skip:], &all); err != nil {
		return nil, &SyntaxError{err.Error()}
	}
	root := &node{kind: table, header: true, tail: skip}
	here := root
	var p unstable.Parser
	p.Reset(data[skip:])
	for p.NextExpression() {
		x := p.Expression()
		keys := x.Key()
		if !keys.Next() {
			return nil, &SyntaxError{"a line without a key"}
		}
		c := &cursor{data: data, at: skip + int(keys.Node().Raw.Offset)}
		from := c.at
		parts := c.key()
		switch x.Kind {
		case unstable.Table:
			here = root.enter(parts)
			here.header, here.head = true, lineOf(data, from, skip)
		case unstable.ArrayTable:
			here = root.enter(parts[:len(parts)-1]).another(name(parts[len(parts)-1]))
			here.head = lineOf(data, from, skip)
		default:
			kid := c.afterKey()
			kid.from = from
			here.file(parts, kid)
		}
		c.line()
		if c.more() {
			c.at++
		}
		here.tail = c.at
		here.trail(parts, x.Kind, c.at)
	}
	if err := p.Error(); err != nil {
		return nil, &SyntaxError{err.Error()}
	}
	return root, nil
}

// lineOf is where the line of a place begins; least is where the first one does.
func lineOf(data []byte, at, least int) int {
	return max(least, bytes.LastIndexByte(data[:at], '\n')+1)
}

// trail notes behind which line a key can be added to the tables that a dotted
// key goes through.
func (n *node) trail(parts []string, k unstable.Kind, at int) {
	if k != unstable.KeyValue {
		return
	}
	for _, p := range parts[:len(parts)-1] {
		n = n.kids[name(p)]
		n.tail = at
	}
}

// another adds a table to a list of tables.
func (n *node) another(key string) *node {
	l := n.kids[key]
	if l == nil {
		l = &node{kind: tables}
		n.put(key, l)
	}
	item := &node{kind: table, header: true}
	l.items = append(l.items, item)
	return item
}

// step returns what is one step below a node: a key, or in a list the number
// of an item, from 0.
func (n *node) step(s string) *node {
	if n.kind == list || n.kind == tables {
		i, err := strconv.Atoi(s)
		if err != nil || i < 0 || i >= len(n.items) {
			return nil
		}
		return n.items[i]
	}
	return n.kids[s]
}

// find goes down a path as far as it goes, and returns the last node and how
// many steps were taken.
func (n *node) find(path []string) (*node, int) {
	for i, s := range path {
		next := n.step(s)
		if next == nil {
			return n, i
		}
		n = next
	}
	return n, len(path)
}

// PathError says why a value cannot be set or removed.
type PathError struct {
	Path []string
	Why  string
}

func (e *PathError) Error() string { return fmt.Sprintf("%s: %s", dotted(e.Path), e.Why) }
