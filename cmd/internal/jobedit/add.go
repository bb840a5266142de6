package jobedit

import (
	"bytes"
	"strconv"
	"strings"
	"unicode/utf8"
)

// editor changes one text.
type editor struct {
	data []byte
	nl   string
}

// splice puts a text in the place of some bytes.
func (e editor) splice(from, to int, with string) []byte {
	out := make([]byte, 0, len(e.data)+len(with))
	out = append(out, e.data[:from]...)
	out = append(out, with...)
	return append(out, e.data[to:]...)
}

// place is where a value goes in: done are the steps from the root that
// led to at, left those to go.
type place struct {
	root, at   *node
	done, left []string
}

// header returns the path as headers have it, without the numbers of tables in
// a list, and whether a header of that path would lead to this place: it does
// to the last table of a list, not to those before.
func (p place) header() (path []string, reaches bool) {
	reaches = true
	n := p.root
	for _, s := range p.done {
		if n.kind == tables {
			reaches = reaches && s == strconv.Itoa(len(n.items)-1)
		} else {
			path = append(path, s)
		}
		n = n.step(s)
	}
	return path, reaches
}

// add adds a value, or says why that cannot be.
func (e editor) add(p place, value string) (out []byte, why string) {
	at, left := p.at, p.left
	path, reaches := p.header()
	switch at.kind {
	case plain:
		return nil, "what stands before it is a value, not a table"
	case list:
		if left[0] != strconv.Itoa(len(at.items)) || len(left) > 2 {
			return nil, "the list has no such item"
		}
		if len(left) == 2 {
			value = "{ " + written(left[1]) + " = " + value + " }"
		}
		return e.addItem(at, value), ""
	case inline:
		return e.addInline(at, dotted(left)+" = "+value), ""
	case tables:
		if left[0] != strconv.Itoa(len(at.items)) || len(left) != 2 || !reaches {
			return nil, "the list has no such table"
		}
		return e.addTable("[["+dotted(path)+"]]", left[1], value), ""
	}
	switch {
	case at.prefix != "":
		return e.addLine(at, at.prefix+dotted(left), value), ""
	case at.header && (len(left) == 1 || !reaches):
		return e.addLine(at, dotted(left), value), ""
	case !reaches:
		return nil, "the table is not the last of its list; write the value in by hand"
	}
	path = append(path, left[:len(left)-1]...)
	return e.addTable("["+dotted(path)+"]", left[len(left)-1], value), ""
}

// addLine adds a key on a line of its own behind the last one of its table,
// its equals sign below the one above where there is room.
func (e editor) addLine(at *node, key, value string) []byte {
	before := ""
	if at.tail > 0 && e.data[at.tail-1] != '\n' && !bytes.HasSuffix(e.data[:at.tail], mark) {
		before = e.nl
	}
	indent, column := e.above(at.tail)
	if pad := column - utf8.RuneCountInString(indent+key); pad > 0 {
		key += strings.Repeat(" ", pad)
	}
	return e.splice(at.tail, at.tail, before+indent+key+" = "+value+e.nl)
}

// above returns how the line before a place is indented, and in which column
// (of signs, from 0) the blank before its equals sign stands; 0 where it has
// none.
func (e editor) above(at int) (indent string, column int) {
	line := bytes.TrimRight(e.data[:at], "\r\n")
	line = line[bytes.LastIndexByte(line, '\n')+1:]
	line = bytes.TrimPrefix(line, mark)
	rest := bytes.TrimLeft(line, " \t")
	indent = string(line[:len(line)-len(rest)])
	if len(rest) == 0 || !bare(rest[0]) {
		return indent, 0
	}
	i := bytes.IndexByte(line, '=')
	if i < 1 || line[i-1] != ' ' {
		return indent, 0
	}
	return indent, utf8.RuneCount(line[:i-1])
}

// addTable adds a table with one key at the end.
func (e editor) addTable(header, key, value string) []byte {
	var b strings.Builder
	if n := len(bytes.TrimPrefix(e.data, mark)); n > 0 {
		if e.data[len(e.data)-1] != '\n' {
			b.WriteString(e.nl)
		}
		b.WriteString(e.nl)
	}
	b.WriteString(header + e.nl + written(key) + " = " + value + e.nl)
	return e.splice(len(e.data), len(e.data), b.String())
}

// addInline adds a key to a table in braces.
func (e editor) addInline(at *node, entry string) []byte {
	if at.prefix != "" { // a dotted key within the braces has made this table
		return e.splice(at.end, at.end, ", "+at.prefix+entry)
	}
	last := 0
	at.each(func(n *node) { last = max(last, n.end) })
	if last == 0 {
		return e.splice(at.start+1, at.end-1, " "+entry+" ")
	}
	return e.splice(last, last, ", "+entry)
}

// addItem adds an item to a list, on a line of its own where the last one
// begins a line.
func (e editor) addItem(at *node, value string) []byte {
	if len(at.items) == 0 {
		return e.splice(at.start+1, at.start+1, value)
	}
	last := at.items[len(at.items)-1]
	lead, between := e.lead(last.start), ", "
	if lead != "" {
		between = "," + lead
	}
	c := &cursor{data: e.data, at: last.end}
	c.gaps()
	if e.data[c.at] != ',' {
		return e.splice(last.end, last.end, between+value)
	}
	// The list ends with a comma, and so it does afterwards. What stands behind
	// it on its line is a comment on the item before.
	to := c.at + 1
	if lead == "" {
		return e.splice(to, to, " "+value+",")
	}
	c.at = to
	c.blanks()
	if e.data[c.at] == '#' {
		c.line()
		to = c.at
		if e.data[to-1] == '\r' {
			to--
		}
	}
	return e.splice(to, to, lead+value+",")
}

// lead returns the line end and the indent before a place where only they
// stand before it on its line, else "".
func (e editor) lead(at int) string {
	i := at
	for i > 0 && (e.data[i-1] == ' ' || e.data[i-1] == '\t') {
		i--
	}
	if i == 0 || e.data[i-1] != '\n' {
		return ""
	}
	return e.nl + string(e.data[i:at])
}
