package packet

import (
	"bytes"
	"slices"

	"starwright/post/rs274/ncread"
)

// blocks finds lines of a long program without going through it line by line each
// time, and of one that is still being read those that were.
type blocks struct {
	text  func() []byte // all there is of the program by now
	marks []int         // how many lines end before each markBytes of it
	odd   bool          // before the last mark a line ends with CR alone
}

// markBytes is how far marks lie apart: the lines in between are gone through one by
// one, those before are counted at once.
const markBytes = 4 << 10

// at returns a line, counted from 1, as [ncread.Block] does.
func (b *blocks) at(line int) string {
	if line < 1 {
		return ""
	}
	text := b.text()
	b.mark(text, line)
	if b.odd {
		return ncread.Block(text, line)
	}
	from, to, ok := b.find(text, line)
	if marked := (len(b.marks) - 1) * markBytes; to > marked && endsOddly(text[marked:to]) {
		return ncread.Block(text, line)
	}
	if !ok {
		return ""
	}
	return ncread.Block(text[from:to], 1)
}

// mark sets marks up to behind the end of a line, as far as the text goes.
func (b *blocks) mark(text []byte, line int) {
	if b.marks == nil {
		b.marks = []int{0}
	}
	for !b.odd {
		n := len(b.marks)
		if b.marks[n-1] >= line || len(text) <= n*markBytes {
			return
		}
		piece := text[(n-1)*markBytes : n*markBytes+1] // and what follows a CR at its end
		b.odd = endsOddly(piece)
		b.marks = append(b.marks, b.marks[n-1]+bytes.Count(piece[:markBytes], []byte("\n")))
	}
}

// find returns where a line begins and ends, with its LF where it has one; false
// where there are not so many lines.
func (b *blocks) find(text []byte, line int) (from, to int, ok bool) {
	k, _ := slices.BinarySearch(b.marks, line-1)
	k = max(k-1, 0)
	from = k * markBytes
	for range line - 1 - b.marks[k] {
		i := bytes.IndexByte(text[from:], '\n')
		if i < 0 {
			return from, len(text), false
		}
		from += i + 1
	}
	if i := bytes.IndexByte(text[from:], '\n'); i >= 0 {
		return from, from + i + 1, true
	}
	return from, len(text), true
}

// endsOddly reports whether a line of a text ends with CR alone. What follows a CR at
// the text's end is not known.
func endsOddly(text []byte) bool {
	if bytes.IndexByte(text, '\r') < 0 {
		return false
	}
	returns, ends := bytes.Count(text, []byte("\r")), bytes.Count(text, []byte("\r\n"))
	if text[len(text)-1] == '\r' {
		returns--
	}
	return returns != ends
}
