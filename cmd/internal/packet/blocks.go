package packet

import (
	"bytes"

	"starwright/post/rs274/ncread"
)

// blocks finds lines of a long program without going through it each time, and of
// one that is still being read those that were.
type blocks struct {
	text  func() []byte // all there is of the program by now
	marks []int         // where every markStep-th line begins
	lines int           // so many lines were gone through
	pos   int           // and end here
	odd   bool          // a line ended with something else than LF or CR LF
}

const markStep = 256

// at returns a line, counted from 1, as [ncread.Block] does.
func (b *blocks) at(line int) string {
	text := b.text()
	for b.lines < line && !b.odd && b.pass(text) {
	}
	if b.odd {
		return ncread.Block(text, line)
	}
	switch {
	case line < 1 || line > b.lines+1:
		return ""
	case line == b.lines+1: // without an end
		return ncread.Block(text[b.pos:], 1)
	}
	k := (line - 1) / markStep
	rest := text[b.marks[k]:b.pos]
	for range (line - 1) % markStep {
		rest = rest[bytes.IndexByte(rest, '\n')+1:]
	}
	return ncread.Block(rest[:bytes.IndexByte(rest, '\n')+1], 1)
}

// pass goes through one line more, and reports whether it is there with its end.
func (b *blocks) pass(text []byte) bool {
	rest := text[b.pos:]
	n := bytes.IndexByte(rest, '\n')
	if n < 0 {
		n = len(rest)
	}
	if cr := bytes.IndexByte(rest[:n], '\r'); cr >= 0 && cr != n-1 {
		b.odd = true
	}
	if n == len(rest) || b.odd {
		return false
	}
	if b.lines%markStep == 0 {
		b.marks = append(b.marks, b.pos)
	}
	b.lines++
	b.pos += n + 1
	return true
}
