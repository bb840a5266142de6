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
	is   int      // how many stand there now
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
		return change{[]string{string(r.first())}, n, from + 1, from + 1}, true
	}
	was, is := r.all(), t.all()
	a, atWas := blocksOf(was)
	b, at := blocksOf(is)
	n := 0
	for n < min(len(a), len(b)) && a[n] == b[n] {
		n++
	}
	m := 0
	for m < min(len(a), len(b))-n && a[len(a)-1-m] == b[len(b)-1-m] {
		m++
	}
	c.line = from + 1
	if n > 0 {
		c.line = from + at[n-1] + 2 // after the last block that is the same
	}
	if n < len(b)-m {
		c.line = from + at[n] + 1
	}
	for _, i := range atWas[n : len(a)-m] {
		c.was = append(c.was, string(bytes.TrimSpace(was[i])))
	}
	c.is, c.last = len(b)-m-n, c.line-1
	if c.is > 0 {
		c.last = from + at[len(b)-m-1] + 1
	}
	return c, len(c.was)+c.is > 0
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
)

// blocksOf returns what lines say, in one way of writing, and in which lines;
// lines that say nothing are left out.
func blocksOf(lines [][]byte) (blocks []string, at []int) {
	for i, l := range lines {
		s := strings.ToUpper(string(remarks().ReplaceAll(bytes.TrimRight(l, "\r"), nil)))
		s = lineLabel().ReplaceAllString(strings.NewReplacer(" ", "", "\t", "").Replace(s), "")
		rest := aWord().ReplaceAllString(s, "")
		var words []string
		for _, m := range aWord().FindAllStringSubmatch(s, -1) {
			if v, err := strconv.ParseFloat(m[2], 64); err == nil {
				m[2] = strconv.FormatFloat(v+0, 'f', -1, 64)
			}
			words = append(words, m[1]+m[2])
		}
		slices.Sort(words)
		if s = strings.Join(append(words, rest), " "); strings.TrimSpace(s) != "" {
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
	case c.is == 0:
		f.What = fmt.Sprintf("the program that was released has %s before this line", was)
	default:
		f.What = fmt.Sprintf("the program that was released has %s instead", was)
	}
	return f
}
