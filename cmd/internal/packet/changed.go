package packet

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"starwright/geom/words"
	"starwright/post/rs274/ncread"
	"starwright/toolpath/finding"
)

// change is where the blocks of a file leave those of the released program, from
// the first that differs to the last; comments and the way they are written do
// not count.
type change struct {
	was  []string // blocks as released
	is   bool     // whether some stand there now
	line int      // of the file, at which the first stands or stood
	last int      // of the last that is there now; line-1 where none is
}

// maxDiffers is how many lines of a file are compared by what they say; of a
// longer difference the first line is named as it stands.
const maxDiffers = 20_000

// changedBlocks finds where a file leaves the released program; false where its
// blocks are the same.
func changedBlocks(released, text []byte) (c change, ok bool) {
	r, t := linesOf(released), linesOf(text)
	from := dropAlike(&r, &t)
	if n := t.count(maxDiffers + 1); max(r.count(maxDiffers+1), n) > maxDiffers {
		return change{[]string{string(r.first())}, n > 0, from + 1, from + 1}, true
	}
	was, is := r.all(), t.all()
	a, atWas := blocksOf(was)
	n, same, first := alikeFirst(a, is)
	m, last := alikeLast(a[n:], is, first)
	c.line = from + 1
	if n > 0 {
		c.line = from + same + 2 // after the last block that is the same
	}
	c.is, c.last = last >= first, c.line-1
	if c.is {
		c.line, c.last = from+first+1, from+last+1
	}
	for _, i := range atWas[n : len(a)-m] {
		c.was = append(c.was, string(bytes.TrimSpace(was[i])))
	}
	return c, len(c.was) > 0 || c.is
}

// alikeFirst returns how many blocks lines begin with, the line of the last of them,
// and the next line that says something; len(lines) where there is none.
func alikeFirst(blocks []string, lines [][]byte) (n, same, next int) {
	for i, l := range lines {
		switch s := blockOf(l); {
		case s == "":
			continue
		case n == len(blocks) || blocks[n] != s:
			return n, same, i
		}
		n, same = n+1, i
	}
	return n, same, len(lines)
}

// alikeLast returns how many blocks lines end with, none of them before line first,
// and the line of the block before those; first-1 where there is none.
func alikeLast(blocks []string, lines [][]byte, first int) (m, last int) {
	for i := len(lines) - 1; i >= first; i-- {
		switch s := blockOf(lines[i]); {
		case s == "":
			continue
		case m == len(blocks) || blocks[len(blocks)-1-m] != s:
			return m, i
		}
		m++
	}
	return m, first - 1
}

// someLines are the lines of a text that are left of it, from either end. Those of
// a million are not kept one by one: a few at its ends are all that is asked for.
type someLines struct {
	text []byte
	some bool // one at least, which may be empty
}

func linesOf(text []byte) someLines { return someLines{bytes.TrimSuffix(text, []byte("\n")), true} }

// dropAlike drops the lines at both ends that two texts share, and returns how
// many were dropped at their beginnings.
func dropAlike(a, b *someLines) (from int) {
	for ; a.some && b.some && bytes.Equal(a.first(), b.first()); from++ {
		a.dropFirst()
		b.dropFirst()
	}
	for a.some && b.some && bytes.Equal(a.last(), b.last()) {
		a.dropLast()
		b.dropLast()
	}
	return from
}

func (l *someLines) first() []byte {
	line, _, _ := bytes.Cut(l.text, []byte("\n"))
	return line
}

func (l *someLines) last() []byte { return l.text[bytes.LastIndexByte(l.text, '\n')+1:] }

func (l *someLines) dropFirst() { _, l.text, l.some = bytes.Cut(l.text, []byte("\n")) }

func (l *someLines) dropLast() {
	end := bytes.LastIndexByte(l.text, '\n')
	l.text, l.some = l.text[:max(end, 0)], end >= 0
}

// count returns how many lines there are, or most where there are more.
func (l *someLines) count(most int) (n int) {
	if !l.some {
		return 0
	}
	rest := l.text
	for more := true; more && n < most; n++ {
		_, rest, more = bytes.Cut(rest, []byte("\n"))
	}
	return n
}

func (l *someLines) all() [][]byte {
	if !l.some {
		return nil
	}
	return bytes.Split(l.text, []byte("\n"))
}

var (
	remarks   = words.Pattern(`\([^()]*\)|;.*$`)
	aWord     = words.Pattern(`([A-Z])([-+]?[0-9.]+)`)
	lineLabel = words.Pattern(`^/?N[0-9]+`)
	blanks    = strings.NewReplacer(" ", "", "\t", "")
)

// blockOf returns what a line says, in one way of writing; "" where that is nothing.
func blockOf(line []byte) string {
	s := strings.ToUpper(string(remarks().ReplaceAll(bytes.TrimRight(line, "\r"), nil)))
	s = lineLabel().ReplaceAllString(blanks.Replace(s), "")
	rest := aWord().ReplaceAllString(s, "")
	var said []string
	for _, m := range aWord().FindAllStringSubmatch(s, -1) {
		if v, err := strconv.ParseFloat(m[2], 64); err == nil {
			m[2] = strconv.FormatFloat(v+0, 'f', -1, 64)
		}
		said = append(said, m[1]+m[2])
	}
	slices.Sort(said)
	s = strings.Join(append(said, rest), " ")
	if strings.TrimSpace(s) == "" {
		return ""
	}
	return s
}

// blocksOf returns what lines say, and in which lines; those that say nothing are
// left out.
func blocksOf(lines [][]byte) (blocks []string, at []int) {
	for i, l := range lines {
		if s := blockOf(l); s != "" {
			blocks, at = append(blocks, s), append(at, i)
		}
	}
	return blocks, at
}

// holds reports whether a line lies within the change.
func (c change) holds(line int) bool { return line >= c.line && line <= max(c.last, c.line) }

// cause is the change as a finding.
func (c change) cause(p *Proof) finding.Finding {
	f := finding.Finding{File: p.Path, Line: c.line, Block: ncread.Block(p.Text, c.line), Rule: "edited"}
	was := ""
	if len(c.was) > 0 {
		was = strconv.Quote(c.was[0])
	}
	if n := len(c.was) - 1; n > 0 {
		was += fmt.Sprintf(" and %d more", n)
	}
	switch {
	case len(c.was) == 0:
		f.What = "the program that was released has no such block"
	case !c.is:
		f.What = fmt.Sprintf("the program that was released has %s before this line", was)
	default:
		f.What = fmt.Sprintf("the program that was released has %s instead", was)
	}
	return f
}
