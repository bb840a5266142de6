package mutate

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"unicode/utf16"
)

// byteKinds write the file otherwise: line ends, marks at its beginning and end,
// lines of %, the order of its head.
func (p *program) byteKinds() []Change {
	text := func() []byte { return []byte(strings.Join(p.lines, "\n") + "\n") }
	of := func(class string, change func(s []byte) []byte) Change {
		return Change{class, "the whole file", 0, func() []byte { return change(text()) }}
	}
	ends := func(class, end string) Change {
		return of(class, func(s []byte) []byte { return bytes.ReplaceAll(s, []byte("\n"), []byte(end)) })
	}
	wrap := func(class, before, after string) Change {
		return of(class, func(s []byte) []byte { return append(append([]byte(before), s...), after...) })
	}
	lines := func(class string, change func(ls []string) []string) Change {
		return all(class, "the whole file", func() []string { return change(slices.Clone(p.lines)) })
	}
	numbers := func(class string, n func(i int) string) Change {
		return Change{class, "the whole file", 0, p.each(func(i int, l string) string {
			if strings.HasPrefix(l, "(") {
				return l
			}
			return n(i) + " " + l
		})}
	}
	at := func(ls []string) (from, to int) { // the words at the head
		for from = range ls {
			if len(tokens(ls[from])) > 0 {
				break
			}
		}
		return from, max(from, p.head)
	}
	head := func(class string, change func(words []string) []string) Change {
		return lines(class, func(ls []string) []string {
			from, to := at(ls)
			return slices.Replace(ls, from, to, change(slices.Clone(ls[from:to]))...)
		})
	}
	out := []Change{
		ends("lines that end with CR", "\r"), ends("lines that end with LF and CR", "\n\r"), ends("lines that end with CR, CR and LF", "\r\r\n"),
		ends("lines that end with CR and LF", "\r\n"), ends("lines that end with a form feed", "\f"), ends("lines that end with nothing", ""), ends("lines that end with a blank", " "),
		of("one line that ends with CR and LF", func(s []byte) []byte { return bytes.Replace(s, []byte("\n"), []byte("\r\n"), 1) }),
		of("one line that ends with CR", func(s []byte) []byte {
			i := bytes.Index(s, []byte("\nG0"))
			return slices.Concat(s[:i], []byte("\r"), s[i+1:])
		}),
		of("no end of the last line", func(s []byte) []byte { return bytes.TrimSuffix(s, []byte("\n")) }),
		of("in words of two bytes", func(s []byte) (out []byte) {
			out = []byte{0xff, 0xfe}
			for _, u := range utf16.Encode([]rune(string(s))) {
				out = append(out, byte(u), byte(u>>8))
			}
			return out
		}),
		of("empty", func([]byte) []byte { return nil }),
		of("the file twice", func(s []byte) []byte { return append(slices.Clone(s), s...) }),
		of("the file twice without the first end", func(s []byte) []byte {
			return append(bytes.Replace(slices.Clone(s), []byte("M2\n"), nil, 1), s...)
		}),
		wrap("mark of a byte order", "\xef\xbb\xbf", ""), wrap("nought in front", "\x00", ""), wrap("noughts behind", "", "\x00\x00\x00"),
		wrap("end of file sign behind", "", "\x1a"), wrap("blank lines in front", "\n\n\n", ""), wrap("blank lines behind", "", "\n\n\n"),
		wrap("between lines of %", "%\n", "%\n"), wrap("a line of % in front", "%\n", ""), wrap("a line of % behind", "", "%\n"),
		wrap("between lines of % behind a blank line", "\n%\n", "%\n"), wrap("between lines of % with blanks", " % \n", "% \n"),
		wrap("between two lines of % each", "%\n%\n", "%\n%\n"), wrap("program number and lines of %", "%\nO0001\n", "%\n"),
		wrap("program number of a name", "%\n(O0001)\n", "%\n"), wrap("text in front", "slot program, see the sheet\n", ""), wrap("text behind", "", "see the sheet\n"),
		wrap("text behind in a comment", "", "(see the sheet)\n"), wrap("page of a browser", "<html><pre>\n", "</pre></html>\n"), wrap("quote of a letter", "> ", ""),
		lines("lines turned round", func(ls []string) []string { slices.Reverse(ls); return ls }),
		lines("lines sorted", func(ls []string) []string { slices.Sort(ls); return ls }),
		lines("halves exchanged", func(ls []string) []string { return slices.Concat(ls[len(ls)/2:], ls[:len(ls)/2]) }),
		lines("second half left out", func(ls []string) []string { return ls[:len(ls)/2] }),
		lines("first half left out", func(ls []string) []string { return ls[len(ls)/2:] }),
		lines("every second line left out", func(ls []string) (out []string) {
			for i := 0; i < len(ls); i += 2 {
				out = append(out, ls[i])
			}
			return out
		}),
		lines("without its head", func(ls []string) []string { return ls[p.head:] }),
		lines("without its comments", func(ls []string) []string {
			return slices.DeleteFunc(ls, func(l string) bool { return strings.HasPrefix(l, "(") })
		}),
		head("words at the head in one line", func(ws []string) []string { return []string{strings.Join(ws, " ")} }),
		head("words at the head turned round", func(ws []string) []string { slices.Reverse(ws); return ws }),
		head("words at the head sorted", func(ws []string) []string { slices.Sort(ws); return ws }),
		head("words at the head twice", func(ws []string) []string { return slices.Concat(ws, ws) }),
		head("words at the head two a line", func(ws []string) (out []string) {
			for i := 0; i < len(ws); i += 2 {
				out = append(out, strings.Join(ws[i:min(i+2, len(ws))], " "))
			}
			return out
		}),
		numbers("line numbers by one", func(i int) string { return fmt.Sprintf("N%d", i+1) }),
		numbers("line numbers of nine digits", func(i int) string { return fmt.Sprintf("N%d", 100000000+10*i) }),
		numbers("line numbers that fall", func(i int) string { return fmt.Sprintf("N%d", 90000-10*i) }),
		numbers("the same line number", func(int) string { return "N10" }),
		numbers("line numbers with noughts", func(i int) string { return fmt.Sprintf("N%04d", i) }),
		numbers("all lines optional", func(int) string { return "/" }),
		{"all comments after semicolons", "the whole file", 0, p.each(func(_ int, l string) string {
			if strings.HasPrefix(l, "(") {
				return "; " + strings.Trim(l, "()")
			}
			return l
		})},
		{"all comments in capitals", "the whole file", 0, p.each(func(_ int, l string) string {
			if strings.HasPrefix(l, "(") {
				return strings.ToUpper(l)
			}
			return l
		})},
		{"all rapids at a feed", "the whole file", 0, p.each(func(i int, l string) string {
			if n, ok := strings.CutPrefix(l, "G0 "); ok && i > p.start {
				return p.fill("G1 "+n+" F{F}", [3]float64{})
			}
			return l
		})},
		{"all cuts as rapids", "the whole file", 0, p.each(func(_ int, l string) string { return strings.Replace(l, "G1 ", "G0 ", 1) })},
		{"all arcs the other way", "the whole file", 0, p.each(func(_ int, l string) string {
			return strings.NewReplacer("G2 ", "G3 ", "G3 ", "G2 ").Replace(l)
		})},
		{"all arcs as lines", "the whole file", 0, p.each(func(_ int, l string) string {
			return rewrite(l, " ", func(t token) string {
				switch {
				case t.letter == 'I' || t.letter == 'J':
					return ""
				case t.letter == 'G' && (t.text == "2" || t.text == "3"):
					return "G1"
				}
				return same(t)
			})
		})},
		{"block numbers at the ends", "the whole file", 0, p.each(func(i int, l string) string { return l + fmt.Sprintf(" N%d", i) })},
		{"sums at the ends", "the whole file", 0, p.each(func(i int, l string) string { return l + fmt.Sprintf("*%d", i) })},
	}
	return out
}
