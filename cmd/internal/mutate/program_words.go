package mutate

import (
	"fmt"
	"slices"
	"strings"
)

// added are words that are put behind those of a line that cuts, or of a rapid.
var added = []struct{ class, word string }{
	{"F added", "F{F}"}, {"F of sinking added", "F{P}"}, {"F doubled added", "F{F*2}"}, {"F of a creep added", "F{F*0.05}"},
	{"S added", "S{S}"}, {"half S added", "S{S*0.5}"}, {"double S added", "S{S*2}"},
	{"M3 added", "M3"}, {"M4 added", "M4"}, {"M5 added", "M5"}, {"M0 added", "M0"}, {"M1 added", "M1"}, {"M2 added", "M2"}, {"M30 added", "M30"},
	{"M6 added", "M6"}, {"M8 added", "M8"}, {"M9 added", "M9"}, {"M48 added", "M48"}, {"M98 added", "M98 P1"},
	{"G17 added", "G17"}, {"G18 added", "G18"}, {"unit added", "{U}"}, {"other unit added", "{V}"}, {"G40 added", "G40"}, {"G41 added", "G41"},
	{"G43 added", "G43 H1"}, {"G49 added", "G49"}, {"G53 added", "G53"}, {"G54 added", "G54"}, {"G55 added", "G55"}, {"G61 added", "G61"}, {"G64 added", "G64"},
	{"G80 added", "G80"}, {"G90 added", "G90"}, {"G91 added", "G91"}, {"G91.1 added", "G91.1"}, {"G90.1 added", "G90.1"}, {"G92 added", "G92"}, {"G92.1 added", "G92.1"},
	{"G93 added", "G93"}, {"G94 added", "G94"}, {"G94 and F added", "G94 F{F}"}, {"G95 added", "G95"}, {"G98 added", "G98"}, {"G4 added", "G4 P1.0"}, {"G28 added", "G28"},
	{"A added", "A0.0"}, {"B added", "B0.0"}, {"C added", "C90.0"}, {"D added", "D1"}, {"E added", "E1.0"}, {"H added", "H1"}, {"I added", "I1.0"}, {"K added", "K1.0"},
	{"L added", "L2"}, {"N added behind", "N5"}, {"O added", "O1"}, {"P added", "P1.0"}, {"Q added", "Q1.0"}, {"R added", "R1.0"}, {"T added", "T1"}, {"U added", "U1.0"},
	{"V added", "V1.0"}, {"W added", "W1.0"}, {"parameter added", "#1=2"}, {"slash added behind", "/"}, {"five M added", "M3 M9 M48 M0 M6"},
	{"comment added behind", "(cuts)"}, {"semicolon's comment added behind", "; cuts"}, {"open comment added behind", "(cuts"}, {"words added behind", "cuts"},
	{"comment of 300 added behind", "(" + strings.Repeat("x", 300) + ")"}, {"300 blanks added behind", strings.Repeat(" ", 300)},
}

// some returns at most n of the lines for which want says so, spread.
func (p *program) some(n int, want func(ts []token) bool) (out []int) {
	for i, l := range p.lines {
		if ts := tokens(l); len(ts) > 0 && want(ts) {
			out = append(out, i)
		}
	}
	for len(out) > n {
		out = slices.Delete(out, len(out)/2, len(out)/2+1)
	}
	return out
}

func hasWord(words ...string) func([]token) bool {
	return func(ts []token) bool {
		return slices.ContainsFunc(ts, func(t token) bool { return slices.Contains(words, same(t)) })
	}
}

// wordKinds add words to lines, double them, and move them to other lines.
func (p *program) wordKinds() []Change {
	var out []Change
	cuts, rapids := p.some(3, hasWord("G1")), p.some(2, hasWord("G0"))
	arcs, others := p.some(2, hasWord("G2", "G3")), p.some(3, hasWord("M3", "M5", "G4"))
	for _, a := range added {
		for k, lines := range [][]int{cuts, arcs, rapids} {
			for _, i := range lines {
				out = append(out, p.replaced(a.class+[]string{" to a cut", " to an arc", " to a rapid"}[k], i, p.lines[i]+" "+p.fill(a.word, [3]float64{})))
			}
		}
	}
	for _, i := range slices.Concat(cuts, arcs, rapids, others) {
		l := p.lines[i]
		ts := tokens(l)
		for k, t := range ts {
			out = append(out, p.replaced("word doubled", i, l+" "+same(t)))
			if t.letter != 'G' && t.letter != 'M' {
				out = append(out, p.replaced("word doubled with another number", i, l+" "+string(t.letter)+number(t.value()+1, 1)))
			}
			if k > 0 {
				out = append(out, p.replaced("comment between words", i, l[:t.from]+"(a word) "+l[t.from:]))
				first := l[:t.from]
				out = append(out, Change{"line divided", l, 0, p.with(i, i+1, strings.TrimSpace(first), l[t.from:])})
			}
		}
		if next := i + 1; next < len(p.lines) && len(tokens(p.lines[next])) > 0 {
			out = append(out, Change{"lines joined", l, 0, p.with(i, i+2, l+" "+p.lines[next])})
		}
	}
	return append(out, p.otherLetters(slices.Concat(cuts, arcs, rapids))...)
}

// otherLetters write words with another letter, and exchange the numbers of two.
func (p *program) otherLetters(lines []int) []Change {
	var out []Change
	for _, i := range lines {
		l := p.lines[i]
		ts := tokens(l)
		for k, t := range ts {
			if strings.IndexByte("XYZIJFSP", t.letter) < 0 {
				continue
			}
			for _, to := range "XYZIJFUAR" {
				if byte(to) == t.letter {
					continue
				}
				out = append(out, p.replaced(fmt.Sprintf("%c written %c", t.letter, to), i, l[:t.from]+string(to)+l[t.from+1:]))
			}
			if k+1 < len(ts) && strings.IndexByte("XYZIJ", ts[k+1].letter) >= 0 {
				u := ts[k+1]
				out = append(out, p.replaced(fmt.Sprintf("numbers of %c and %c exchanged", t.letter, u.letter), i,
					l[:t.from]+string(t.letter)+u.text+" "+string(u.letter)+t.text+l[u.to:]))
			}
		}
	}
	return out
}

// spellings are ways to write the number of a word, %s being the number.
var spellings = []struct {
	class string
	as    func(letter byte, text string) string
}{
	{"number with an exponent", func(l byte, n string) string { return string(l) + n + "E0" }},
	{"number with a small exponent", func(l byte, n string) string { return string(l) + n + "e-1" }},
	{"decimal comma", func(l byte, n string) string { return string(l) + strings.Replace(n, ".", ",", 1) }},
	{"two decimal points", func(l byte, n string) string { return string(l) + n + ".0" }},
	{"two signs", func(l byte, n string) string { return string(l) + "--" + strings.TrimPrefix(n, "-") }},
	{"plus and minus", func(l byte, n string) string { return string(l) + "+-" + strings.TrimPrefix(n, "-") }},
	{"sign behind", func(l byte, n string) string { return string(l) + n + "-" }},
	{"letter O for a nought", func(l byte, n string) string { return string(l) + strings.Replace(n, "0", "O", 1) }},
	{"letter l for a one", func(l byte, n string) string { return string(l) + strings.Replace(n, "1", "l", 1) }},
	{"blank in a number", func(l byte, n string) string { return string(l) + n[:1] + " " + n[1:] }},
	{"tab before a number", func(l byte, n string) string { return string(l) + "\t" + n }},
	{"comment in a word", func(l byte, n string) string { return string(l) + "(old)" + n }},
	{"comment in a number", func(l byte, n string) string { return string(l) + n[:1] + "(old)" + n[1:] }},
	{"unit behind a number", func(l byte, n string) string { return string(l) + n + "mm" }},
	{"inch sign behind a number", func(l byte, n string) string { return string(l) + n + "\"" }},
	{"fraction", func(l byte, n string) string { return string(l) + n + "/2" }},
	{"expression", func(l byte, n string) string { return string(l) + "[" + n + "]" }},
	{"expression that adds", func(l byte, n string) string { return string(l) + "[" + n + "+1]" }},
	{"parameter", func(l byte, n string) string { return string(l) + "#1" }},
	{"function", func(l byte, n string) string { return string(l) + "ABS[" + n + "]" }},
	{"equals sign", func(l byte, n string) string { return string(l) + "=" + n }},
	{"colon", func(l byte, n string) string { return string(l) + ":" + n }},
	{"asterisk behind", func(l byte, n string) string { return string(l) + n + "*" }},
	{"number left out", func(l byte, n string) string { return string(l) }},
	{"letter left out", func(l byte, n string) string { return n }},
	{"minus sign of print", func(l byte, n string) string { return string(l) + "\xe2\x88\x92" + strings.TrimPrefix(n, "-") }},
	{"blank that does not break", func(l byte, n string) string { return string(l) + "\xc2\xa0" + n }},
	{"wide digits", func(l byte, n string) string { return string(l) + "\xef\xbc\x91" + n }},
	{"thousands divided", func(l byte, n string) string { return string(l) + "1'" + n }},
	{"number of twenty digits", func(l byte, n string) string {
		if strings.Contains(n, ".") {
			return string(l) + n + strings.Repeat("0", 20)
		}
		return string(l) + n + "." + strings.Repeat("0", 20)
	}},
	{"digits beyond the last", func(l byte, n string) string {
		if strings.Contains(n, ".") {
			return string(l) + n + "0001"
		}
		return string(l) + n + ".00001"
	}},
	{"whole number with a point", func(l byte, n string) string { return string(l) + strings.TrimSuffix(n, ".0") + "." }},
	{"minus nought", func(l byte, n string) string {
		if strings.Trim(n, "0.") == "" {
			return string(l) + "-" + n
		}
		return string(l) + n
	}},
	{"infinity", func(l byte, n string) string { return string(l) + "INF" }},
	{"no number", func(l byte, n string) string { return string(l) + "NAN" }},
	{"small letter", func(l byte, n string) string { return strings.ToLower(string(l)) + n }},
	{"letter twice", func(l byte, n string) string { return string(l) + string(l) + n }},
	{"bar for a letter", func(l byte, n string) string { return "|" + n }},
}

// numberKinds write numbers and words otherwise.
func (p *program) numberKinds() []Change {
	var out []Change
	lines := slices.Concat(p.some(2, hasWord("G1")), p.some(1, hasWord("G2", "G3")), p.some(1, hasWord("G0")), p.some(2, hasWord("M3", "G4", "M2")))
	for _, i := range lines {
		l := p.lines[i]
		for _, t := range tokens(l) {
			for _, s := range spellings {
				if n := l[:t.from] + s.as(t.letter, t.text) + l[t.to:]; n != l {
					out = append(out, p.replaced(s.class, i, n))
				}
			}
		}
	}
	return out
}
