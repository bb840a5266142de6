package jobedit

import (
	"bytes"
	"cmp"
	"slices"
	"strconv"
)

// Copy puts a copy of an item of a list before it, so that what stands beside the
// item stays there; of a table with headers of its own behind it, comments in it
// included. The copy of a table is the item after path's, and all later items
// move up by one.
func Copy(data []byte, path ...string) ([]byte, error) {
	root, err := read(data)
	if err != nil {
		return nil, err
	}
	at, steps := root.find(path)
	up, _ := root.find(path[:max(0, len(path)-1)])
	if steps < len(path) || up.kind != list && up.kind != tables {
		return nil, &PathError{path, "there is no such item to copy"}
	}
	e := editor{data, newline(data)}
	out := e.copyTable(at)
	if up.kind == list {
		between := cmp.Or(e.lead(at.start), " ")
		out = e.splice(at.start, at.start, string(data[at.start:at.end])+","+between)
	}
	return out, sound(out)
}

// List makes a table a list of this one table: `[star]` becomes `[[star]]`.
func List(data []byte, path ...string) ([]byte, error) {
	root, err := read(data)
	if err != nil {
		return nil, err
	}
	at, steps := root.find(path)
	e := editor{data, newline(data)}
	switch {
	case steps == len(path) && at.kind == table && at.header && steps > 0:
		open := at.head + bytes.IndexByte(data[at.head:], '[')
		c := &cursor{data: data, at: open + 1}
		c.key()
		c.blanks()
		out := e.splice(c.at, c.at+1, "]]")
		out = editor{out, e.nl}.splice(open, open, "[")
		return out, sound(out)
	case steps == len(path) && at.kind == inline && at.prefix == "":
		out := e.splice(at.start, at.end, "["+string(data[at.start:at.end])+"]")
		return out, sound(out)
	}
	return nil, &PathError{path, "this is not a table with a header of its own; write it in by hand, as [[" + dotted(path) + "]]"}
}

// span is a stretch of a text.
type span struct{ from, to int }

// sections returns where a table stands, in the order of the text: its header with
// what follows it, and those of the tables within, as one where no other table
// stands between them.
func (e editor) sections(n *node) []span {
	var out []span
	for _, s := range e.headed(n) {
		if last := len(out) - 1; last >= 0 && e.gapOnly(out[last].to, s.from) {
			out[last].to = s.to
			continue
		}
		out = append(out, s)
	}
	return out
}

// gapOnly reports whether nothing but blanks and comments stands between two places.
func (e editor) gapOnly(from, to int) bool {
	c := &cursor{data: e.data[:to], at: from}
	c.gaps()
	return c.at == to
}

// headed returns the stretches of a table and of the tables within, each with its
// header.
func (e editor) headed(n *node) []span {
	var out []span
	if n.header {
		out = append(out, span{n.head, e.behind(n.tail)})
	}
	for _, k := range n.kids {
		if k.kind == table || k.kind == tables {
			out = append(out, e.headed(k)...)
		}
	}
	for _, k := range n.items {
		if k.kind == table {
			out = append(out, e.headed(k)...)
		}
	}
	slices.SortStableFunc(out, func(a, b span) int { return a.from - b.from })
	return out
}

// behind passes the comments that stand right behind the last value of a table and
// belong to it: a blank line, not the next header, has to follow them.
func (e editor) behind(tail int) int {
	c := &cursor{data: e.data, at: tail}
	for c.more() {
		from := c.at
		c.blanks()
		if c.more() && c.data[c.at] == '[' {
			return tail
		}
		if !c.more() || c.data[c.at] != '#' {
			return from
		}
		c.line()
		if c.more() {
			c.at++
		}
	}
	return c.at
}

// copyTable puts a copy of a table behind it.
func (e editor) copyTable(n *node) []byte {
	var text []byte
	end := 0
	for i, s := range e.sections(n) {
		if i > 0 {
			text = append(text, e.nl...)
		}
		text = append(text, e.data[s.from:s.to]...)
		if !bytes.HasSuffix(text, []byte("\n")) {
			text = append(text, e.nl...)
		}
		end = s.to
	}
	before := e.nl
	if end > 0 && e.data[end-1] != '\n' {
		before += e.nl
	}
	return e.splice(end, end, before+string(text))
}

// removeTable takes out a table of a list, with the blank line behind each of its
// sections. What stands between them and is not its own stays.
func (e editor) removeTable(n *node) []byte {
	all := e.sections(n)
	slices.Reverse(all)
	for _, s := range all {
		c := &cursor{data: e.data, at: s.to}
		c.blanks()
		if bytes.HasPrefix(e.data[c.at:], []byte("\r")) {
			c.at++
		}
		if bytes.HasPrefix(e.data[c.at:], []byte("\n")) {
			s.to = c.at + 1
		}
		e.data = e.splice(s.from, s.to, "")
	}
	return e.data
}

// isItem reports whether a path leads to a table of a list of tables.
func (n *node) isItem(path []string) bool {
	if len(path) == 0 {
		return false
	}
	up, steps := n.find(path[:len(path)-1])
	_, err := strconv.Atoi(path[len(path)-1])
	return steps == len(path)-1 && up.kind == tables && err == nil
}
