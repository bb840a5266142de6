package job

import (
	"math"

	"starwright/geom"
	"starwright/geom/problem"
)

// reader reads the tables of one file. Asking for a key makes it known; what
// nobody asked for is reported at the end.
type reader struct {
	file     string
	root     *node
	u        geom.Unit
	errs     []Error
	defaults []problem.Note
	warnings []problem.Note
	taken    []Taken
	sizeless bool                // the star has no size that can be read
	item     *node               // of a star of an order: its table; nil for the only star
	anyWoods bool                // a star of the order, this one or another, is of two woods
	tables   []string            // known tables, in order
	known    map[string][]string // known keys of each table, in order
}

// add keeps an error.
func (r *reader) add(e Error) {
	if e.File == "" {
		e.File = r.file
	}
	r.errs = append(r.errs, e)
}

// pick returns the metric or the inch form of a value as the job's unit asks.
func (r *reader) pick(metric, inch string) string {
	if r.u == geom.Inch {
		return inch
	}
	return metric
}

// mm reads a length of this package's own.
func (r *reader) mm(s string) float64 {
	v, err := geom.ParseLength(s, r.u)
	if err != nil {
		return math.NaN() // a slip in this package, which any test of the key shows
	}
	return v
}

// section is one table of the file; its node is nil where the file lacks it.
type section struct {
	r    *reader
	name string
	node *node
}

// section makes a table known and returns it.
func (r *reader) section(name string) section {
	if name != "" {
		r.tables = append(r.tables, name)
	}
	s := section{r: r, name: name}
	if name == "" {
		s.node = r.root
		return s
	}
	n := r.root.kids[name]
	if n == nil {
		return s
	}
	if n.kind != table {
		got := n.raw
		if n.kind == list {
			got = "a list"
		}
		r.add(Error{File: n.file(), Line: n.line, Table: name, Why: "this is a table, written once and in single brackets", Got: got, Would: "[" + name + "] on a line of its own"})
		return s
	}
	s.node = n
	return s
}

// get makes a key known and returns its value, nil where the file lacks it.
func (s section) get(key string) *node {
	s.r.known[s.name] = append(s.r.known[s.name], key)
	if s.node == nil {
		return nil
	}
	return s.node.kids[key]
}

// has reports whether the file gives the key.
func (s section) has(key string) bool { return s.node != nil && s.node.kids[key] != nil }

// line returns the table's line, 0 without one.
func (s section) line() int {
	if s.node == nil {
		return 0
	}
	return s.node.line
}

// fail reports a value; value is one that goes through, as TOML.
func (s section) fail(key string, n *node, why, value string) {
	s.failTry(key, n, why, key+" = "+value)
}

// failTry reports a value with what to try instead in words.
func (s section) failTry(key string, n *node, why, would string) {
	s.r.add(Error{File: n.file(), Line: n.line, Table: s.name, Key: key, Why: why, Got: got(n), Would: would})
}

// got returns a value as written.
func got(n *node) string {
	switch n.kind {
	case table:
		return "a table"
	case list:
		return "a list"
	}
	return n.raw
}

// note records a default that was taken.
func (s section) note(key, value, why string) {
	if s.name != "" {
		key = s.name + "." + key
	}
	s.r.defaults = append(s.r.defaults, problem.Note{Key: key, Value: value, Why: why})
}
