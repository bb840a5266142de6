package jobedit

import "bytes"

// removeLine takes out the lines on which a key and its value stand.
func (e editor) removeLine(at *node) []byte {
	from := bytes.LastIndexByte(e.data[:at.from], '\n') + 1
	if from == 0 && bytes.HasPrefix(e.data, mark) {
		from = len(mark)
	}
	c := &cursor{data: e.data, at: at.end}
	c.line()
	if c.more() {
		c.at++
	}
	return e.splice(from, c.at, "")
}

// removeItem takes an item out of a list or a table in braces, with one comma;
// where the item has its lines to itself, those lines.
func (e editor) removeItem(at, around *node) []byte {
	from := at.from
	if from == 0 {
		from = at.start
	}
	c := &cursor{data: e.data, at: at.end}
	c.gaps()
	if e.data[c.at] == ',' {
		c.at++
		return e.removeBefore(from, c.at)
	}
	// The last one: the comma before it goes, if there is one.
	comma := e.commaBefore(from, around)
	if comma < 0 {
		return e.splice(from, at.end, "")
	}
	if len(bytes.Trim(e.data[comma+1:from], " \t")) == 0 {
		return e.splice(comma, at.end, "")
	}
	out := e.splice(from, at.end, "")
	return append(out[:comma:comma], out[comma+1:]...)
}

// removeBefore takes out an item with the comma behind it.
func (e editor) removeBefore(from, to int) []byte {
	rest := &cursor{data: e.data, at: to}
	rest.blanks()
	if e.lead(from) != "" && rest.more() {
		end := rest.at
		if e.data[end] == '#' {
			rest.line()
			end = rest.at
		}
		if bytes.HasPrefix(e.data[end:], []byte("\r")) {
			end++
		}
		if bytes.HasPrefix(e.data[end:], []byte("\n")) {
			return e.splice(bytes.LastIndexByte(e.data[:from], '\n')+1, end+1, "")
		}
	}
	return e.splice(from, rest.at, "")
}

// commaBefore returns where the comma before an item of a list or a table in
// braces stands, -1 where it is the first. Comments may stand between.
func (e editor) commaBefore(at int, around *node) int {
	last := -1 // where the item before it ends
	around.each(func(n *node) {
		if n.end <= at {
			last = max(last, n.end)
		}
	})
	if last < 0 {
		return -1
	}
	c := &cursor{data: e.data, at: last}
	c.gaps()
	return c.at
}

// each calls f for the items of a list, or the values of a table in braces
// whatever dots their keys have.
func (n *node) each(f func(*node)) {
	for _, k := range n.items {
		f(k)
	}
	for _, k := range n.kids {
		if k.prefix == "" {
			f(k)
		} else {
			k.each(f)
		}
	}
}
