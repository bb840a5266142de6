package mutate

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Slips returns the changes to a program that a slip of the hand, of an
// editor or of a disk makes. Most harm the work; which, [JudgeProgram] says.
// unitMM is the unit of the program's numbers.
func Slips(text []byte, unitMM float64) []Change {
	f := newFile(text)
	var out []Change
	for i := range f.lines {
		out = append(out, f.blockSlips(i)...)
		for _, t := range tokens(f.lines[i]) {
			out = append(out, f.wordSlips(i, t, unitMM)...)
		}
	}
	return out
}

// file is a program as lines.
type file struct{ lines []string }

func newFile(text []byte) *file {
	return &file{strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")}
}

// with returns what makes the text with lines i to k replaced.
func (f *file) with(i, k int, lines ...string) func() []byte {
	return func() []byte {
		out := append([]string(nil), f.lines[:i]...)
		out = append(append(out, lines...), f.lines[k:]...)
		return []byte(strings.Join(out, "\n") + "\n")
	}
}

// token is a word of a block and where it stands in its line.
type token struct {
	letter   byte
	text     string // of the number
	from, to int
}

// tokens finds the words of a line, comments left out.
func tokens(l string) []token {
	var out []token
	for i := 0; i < len(l); i++ {
		switch c := l[i]; {
		case c == '(':
			for i < len(l) && l[i] != ')' {
				i++
			}
		case c >= 'A' && c <= 'Z':
			k := i + 1
			for k < len(l) && strings.IndexByte("+-.0123456789", l[k]) >= 0 {
				k++
			}
			out = append(out, token{c, l[i+1 : k], i, k})
			i = k - 1
		}
	}
	return out
}

func (t token) value() float64 { v, _ := strconv.ParseFloat(t.text, 64); return v }

// number writes a number the way programs have them.
func number(v float64, unitMM float64) string {
	digits := 3
	if unitMM != 1 {
		digits = 5
	}
	s := strconv.FormatFloat(v, 'f', digits, 64)
	s = strings.TrimRight(s, "0")
	if strings.HasSuffix(s, ".") {
		s += "0"
	}
	if strings.Trim(s, "-0.") == "" {
		s = "0.0"
	}
	return s
}

// blockSlips are the changes to whole blocks.
func (f *file) blockSlips(i int) []Change {
	l := f.lines[i]
	if len(tokens(l)) == 0 {
		return nil
	}
	out := []Change{
		{"block dropped", fmt.Sprintf("dropped %q", l), i + 1, f.with(i, i+1)},
		{"block doubled", fmt.Sprintf("doubled %q", l), i + 2, f.with(i, i+1, l, l)},
		{"file cut short", fmt.Sprintf("ends after %q", l), i + 1, f.with(i+1, len(f.lines))},
	}
	for k := i + 1; k < len(f.lines); k++ { // the next block, comments in between left where they are
		if len(tokens(f.lines[k])) == 0 {
			continue
		}
		lines := append([]string(nil), f.lines[i:k+1]...)
		lines[0], lines[len(lines)-1] = lines[len(lines)-1], lines[0]
		out = append(out, Change{"blocks swapped", fmt.Sprintf("swapped %q and %q", l, f.lines[k]), i + 1, f.with(i, k+1, lines...)})
		break
	}
	return out
}

// codes that words are changed into: those of the subset, and neighbours of
// them that a slip reaches.
var (
	gCodes = []string{"0", "1", "2", "3", "4", "17", "18", "19", "20", "21", "28", "38.2", "40", "41", "43", "49", "53", "54", "55", "61", "64", "80", "81", "90", "91", "92", "93", "94", "95", "98"}
	mCodes = []string{"0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "30", "48", "60"}
)

// wordSlips are the changes to one word.
func (f *file) wordSlips(i int, t token, unitMM float64) []Change {
	l := f.lines[i]
	var out []Change
	add := func(class, number string) {
		if number == t.text && class != "word dropped" {
			return
		}
		word := string(t.letter) + number
		if class == "word dropped" {
			word = ""
		}
		n := l[:t.from] + word + l[t.to:]
		if n = strings.Join(strings.Fields(n), " "); n == l {
			return
		}
		out = append(out, Change{class, fmt.Sprintf("%q to %q", l, n), i + 1, f.with(i, i+1, n)})
	}
	add("word dropped", "")
	switch t.letter {
	case 'G', 'M':
		codes := gCodes
		if t.letter == 'M' {
			codes = mCodes
		}
		for _, c := range codes {
			class := "code changed"
			if (t.text == "20" || t.text == "21") && (c == "20" || c == "21") {
				class = "unit swapped"
			}
			add(class, c)
		}
		return out
	case 'X', 'Y', 'Z', 'I', 'J':
		for _, d := range []float64{0.05, 0.1, 0.5, 2, 10} {
			for _, s := range []float64{-1, 1} {
				add(fmt.Sprintf("%c moved", t.letter), number(t.value()+s*d/unitMM, unitMM))
			}
		}
		if t.value() != 0 {
			add("sign flipped", number(-t.value(), unitMM))
		}
	case 'F':
		for _, k := range []float64{0.01, 0.05, 0.5, 0.9, 1.1, 1.5, 2, 10} {
			add("feed changed", number(t.value()*k, unitMM))
		}
	case 'S':
		for _, k := range []float64{0.1, 0.5, 0.8, 0.95, 1.05, 1.2, 2, 10} {
			add("speed changed", fmt.Sprintf("%.0f", t.value()*k))
		}
	case 'P':
		for _, k := range []float64{0, 0.1, 0.5, 0.8, 1.5, 10} {
			add("dwell changed", number(t.value()*k, 1))
		}
	}
	if t.letter == 'F' || t.letter == 'S' || t.letter == 'P' {
		add("sign flipped", "-"+t.text)
	}
	if strings.Contains(t.text, ".") {
		class := "decimal point dropped"
		add(class, strings.Replace(t.text, ".", "", 1))
		if d := strings.TrimRight(t.text, "0"); !strings.HasSuffix(d, ".") {
			add("decimal point moved", number(t.value()*10, unitMM))
		}
	}
	if math.Abs(t.value()) >= 10 {
		add("digit dropped", strings.Replace(t.text, digit(t.text), "", 1))
	}
	return out
}

// digit returns the first digit of a number.
func digit(s string) string {
	for i := range s {
		if s[i] >= '0' && s[i] <= '9' {
			return s[i : i+1]
		}
	}
	return ""
}
