package packet

import (
	"bytes"

	"starwright/post/rs274/ncread"
)

// blocks finds lines of a long program without going through it each time.
type blocks struct {
	text  []byte
	marks []int // where every markStep-th line begins, once it has been asked
	plain bool  // lines end with LF, or CR LF
}

const markStep = 256

// at returns a line, counted from 1, as [ncread.Block] does.
func (b *blocks) at(line int) string {
	if b.marks == nil {
		b.index()
	}
	if !b.plain {
		return ncread.Block(b.text, line)
	}
	k := (line - 1) / markStep
	if line < 1 || k >= len(b.marks) {
		return ""
	}
	end := len(b.text)
	if k+1 < len(b.marks) {
		end = b.marks[k+1]
	}
	return ncread.Block(b.text[b.marks[k]:end], (line-1)%markStep+1)
}

func (b *blocks) index() {
	b.plain = bytes.Count(b.text, []byte{'\r'}) == bytes.Count(b.text, []byte("\r\n"))
	b.marks = []int{0}
	for pos, n := 0, 0; b.plain; {
		i := bytes.IndexByte(b.text[pos:], '\n')
		if i < 0 {
			return
		}
		pos += i + 1
		if n++; n%markStep == 0 {
			b.marks = append(b.marks, pos)
		}
	}
}
