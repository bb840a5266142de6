package jobedit

import "bytes"

// cursor walks over a text that is known to be sound TOML, so it looks for no
// faults: it only finds where things begin and end.
type cursor struct {
	data []byte
	at   int
}

// more reports whether anything is left.
func (c *cursor) more() bool { return c.at < len(c.data) }

// blanks passes blanks and tabs.
func (c *cursor) blanks() {
	for c.more() && (c.data[c.at] == ' ' || c.data[c.at] == '\t') {
		c.at++
	}
}

// gaps passes blanks, line ends and comments.
func (c *cursor) gaps() {
	for c.more() {
		switch c.data[c.at] {
		case ' ', '\t', '\r', '\n':
			c.at++
		case '#':
			c.line()
		default:
			return
		}
	}
}

// line passes what is left of the line, without its end.
func (c *cursor) line() {
	n := bytes.IndexByte(c.data[c.at:], '\n')
	if n < 0 {
		n = len(c.data) - c.at
	}
	c.at += n
}

// text passes a text in quotes of any of the four kinds.
func (c *cursor) text() {
	q := c.data[c.at]
	long := bytes.HasPrefix(c.data[c.at:], []byte{q, q, q})
	c.at++
	if long {
		c.at += 2
	}
	for c.more() {
		switch b := c.data[c.at]; {
		case b == '\\' && q == '"':
			c.at += 2
			continue
		case b != q:
			c.at++
			continue
		case !long:
			c.at++
			return
		case bytes.HasPrefix(c.data[c.at:], []byte{q, q, q}):
			c.at += 3
			// Up to two quotes more belong to the text itself.
			for range 2 {
				if c.more() && c.data[c.at] == q {
					c.at++
				}
			}
			return
		default:
			c.at++
		}
	}
}

// key passes a key with its dots and returns its parts as they are written.
func (c *cursor) key() (parts []string) {
	for c.more() {
		c.blanks()
		from := c.at
		if b := c.data[c.at]; b == '"' || b == '\'' {
			c.text()
		} else {
			for c.more() && bare(c.data[c.at]) {
				c.at++
			}
		}
		parts = append(parts, string(c.data[from:c.at]))
		end := c.at
		c.blanks()
		if !c.more() || c.data[c.at] != '.' {
			c.at = end
			return parts
		}
		c.at++
	}
	return parts
}

// bare reports whether a sign may stand in a key without quotes.
func bare(b byte) bool {
	return b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z' || b >= '0' && b <= '9' || b == '_' || b == '-'
}

// value passes one value and returns it with the places of what is in it.
func (c *cursor) value() *node {
	n := &node{start: c.at, kind: plain}
	switch c.data[c.at] {
	case '"', '\'':
		c.text()
	case '[':
		c.list(n)
	case '{':
		c.braces(n)
	default:
		for c.more() && !bytes.ContainsRune([]byte(",]}#\r\n"), rune(c.data[c.at])) {
			c.at++
		}
		for c.data[c.at-1] == ' ' || c.data[c.at-1] == '\t' {
			c.at--
		}
	}
	n.end = c.at
	return n
}

// list passes a list.
func (c *cursor) list(n *node) {
	n.kind = list
	c.at++
	for {
		c.gaps()
		switch c.data[c.at] {
		case ']':
			c.at++
			return
		case ',':
			c.at++
		default:
			n.items = append(n.items, c.value())
		}
	}
}

// braces passes an inline table.
func (c *cursor) braces(n *node) {
	n.kind = inline
	c.at++
	for {
		c.gaps()
		switch c.data[c.at] {
		case '}':
			c.at++
			return
		case ',':
			c.at++
		default:
			from := c.at
			parts := c.key()
			kid := c.afterKey()
			kid.from = from
			n.file(parts, kid)
		}
	}
}

// afterKey passes the equals sign and the value.
func (c *cursor) afterKey() *node {
	c.blanks()
	c.at++ // =
	c.blanks()
	return c.value()
}
