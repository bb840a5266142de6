package ncread

import (
	"bytes"
	"io"
)

// Sizes of the line reader, in bytes.
const (
	chunkSize = 64 << 10 // read at a time
	cutSize   = 2 * lineRead
)

// lines gives out the lines of a text in memory that does not grow with it.
// A line ends with LF, CR or both (NISTIR 6556 §3.3); which of them, [lines.bare]
// tells.
type lines struct {
	r        io.Reader
	buf      []byte
	pos, end int // what is in buf and not given out yet
	lf       int // first LF at or after pos, end where there is none, -1 not looked for
	eof      bool
	err      error  // of the reader, never io.EOF
	cut      []byte // beginning of a line that did not fit the buffer
	skipping bool   // within such a line
	bare     bool   // the line given out last ended with CR alone, and text follows
}

func newLines(r io.Reader, size int) *lines {
	return &lines{r: r, buf: make([]byte, size), lf: -1}
}

// next returns the next line without its end, good until the next call. Of a
// line longer than the buffer the beginning is returned, cutSize bytes.
func (l *lines) next() (line []byte, ok bool) {
	for {
		line, ok = l.scan()
		if ok {
			if l.skipping {
				l.skipping = false
				line = l.cut
			}
			return line, true
		}
		if l.eof {
			return nil, false
		}
		l.fill()
	}
}

// scan looks for a whole line in the buffer.
func (l *lines) scan() (line []byte, ok bool) {
	if l.lf < l.pos {
		l.lf = l.end
		if i := bytes.IndexByte(l.buf[l.pos:l.end], '\n'); i >= 0 {
			l.lf = l.pos + i
		}
	}
	line = l.buf[l.pos:l.lf]
	l.bare = false
	if i := bytes.IndexByte(line, '\r'); i >= 0 && (l.pos+i+1 < l.end || l.eof) {
		l.pos += i + 1
		l.bare = l.textFollows()
		if l.pos < l.end && l.buf[l.pos] == '\n' {
			l.pos++
		}
		return line[:i], true
	}
	if l.lf < l.end {
		l.pos = l.lf + 1
		return line, true
	}
	if l.eof && l.err == nil && (len(line) > 0 || l.skipping) {
		l.pos = l.end
		return line, true
	}
	return nil, false
}

// textFollows reports whether after a CR text follows before any LF: then the
// line ended with CR alone. CRs before a LF, however many, are its own.
func (l *lines) textFollows() bool {
	for _, c := range l.buf[l.pos:l.end] {
		if c != '\r' {
			return c != '\n'
		}
	}
	return !l.eof
}

// fill reads on until the buffer is full or the text has ended.
func (l *lines) fill() {
	if l.end-l.pos == len(l.buf) { // one line fills it all
		if !l.skipping {
			l.cut = append(l.cut[:0], l.buf[:min(cutSize, len(l.buf))]...)
			l.skipping = true
		}
		l.pos = l.end
		if l.buf[l.end-1] == '\r' {
			l.pos-- // it may be half of a line's end
		}
	}
	l.end = copy(l.buf, l.buf[l.pos:l.end])
	l.pos, l.lf = 0, -1
	n, err := io.ReadFull(l.r, l.buf[l.end:])
	l.end += n
	if err != nil {
		l.eof = true
		if err != io.EOF && err != io.ErrUnexpectedEOF {
			l.err = err
		}
	}
}

// Block returns line number line, counted from 1 as [Read] counts, of a
// program in memory; empty where there is no such line. It is fit for print:
// shortened where it is long, and signs other than printable ASCII as '?'.
// It looks through the text from its beginning each time.
func Block(text []byte, line int) string {
	l := newLines(bytes.NewReader(text), min(chunkSize, len(text)+1))
	for n := 1; ; n++ {
		s, ok := l.next()
		if !ok {
			return ""
		}
		if n == line {
			return printable(s)
		}
	}
}

// blockShown is how much of a block is repeated in a finding, characters.
const blockShown = 100

// printable returns a line as it can be shown on any screen.
func printable(s []byte) string {
	cut := len(s) > blockShown
	if cut {
		s = s[:blockShown]
	}
	out := make([]byte, 0, len(s)+3)
	for _, c := range s {
		if c == '\t' {
			c = ' '
		}
		if c < ' ' || c > '~' {
			c = '?'
		}
		out = append(out, c)
	}
	if cut {
		out = append(out, "..."...)
	}
	return string(out)
}
