package mutate

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// bindingWords are those of a head by which people set a piece up or put a
// cutter in. A statement that lacks one says less; one that has another is wrong.
var bindingWords = strings.Fields(`left right front back show centre valley tip up down top bottom underside upper lower
	corner middle table level fence grows falls conventional climb straight ball tapered facet holes outlines spoilboard`)

// bound are the statements whose words and figures bind: the label says which.
var bound = strings.Fields("cutter zero depth slot sheet tabs order hold x room screws more clamps inside park run cuts stations loads widened left")

var (
	labelForm = regexp.MustCompile(`^[ ]*([A-Za-z][A-Za-z ]*):`)
	headWord  = regexp.MustCompile(`[A-Za-z]+|[0-9]+(?:\.[0-9]+)?(?: +(?:mm|in)\b)?`) // a number with its unit is one
)

// labelOf is the label of a comment's statement in small letters, "" where it
// has none.
func labelOf(line string) string {
	if m := labelForm.FindStringSubmatch(strings.TrimLeft(line, "(; ")); m != nil {
		return strings.ToLower(m[1])
	}
	return ""
}

// saying is a statement of a program, its words in small letters; lines without
// a label go on with the one that they follow.
type saying struct {
	label string
	words []string
}

// sayings are the statements of a program.
func sayings(text []byte) (out []saying) {
	open := false
	for l := range strings.SplitSeq(string(text), "\n") {
		l = strings.TrimSpace(l)
		if !strings.HasPrefix(l, "(") && !strings.HasPrefix(l, ";") {
			open = false
			continue
		}
		if to := labelOf(l); to != "" {
			out, open = append(out, saying{label: to}), true
			l = l[strings.Index(l, ":")+1:]
		}
		if open {
			s := &out[len(out)-1]
			s.words = append(s.words, headWord.FindAllString(strings.Join(strings.Fields(strings.ToLower(l)), " "), -1)...)
		}
	}
	return out
}

// wordsOf are the words of the statements with a label, or of all those without
// one of the labels; nil where there are none.
func wordsOf(all []saying, want func(label string) bool) (out []string) {
	for _, s := range all {
		if want(s.label) {
			out = append(out, s.words...)
		}
	}
	return out
}

// JudgeHead says whether the words of a changed program set people up wrong who
// read them: whether a statement of it has a figure or a binding word, unit or
// order of those that the released program's does not have there.
func JudgeHead(released, text []byte) (Verdict, string) {
	was, is := sayings(released), sayings(text)
	// What follows a statement without a label of its own may belong to one that
	// was left out.
	lost := wordsOf(was, func(label string) bool {
		return !slices.ContainsFunc(is, func(s saying) bool { return s.label == label })
	})
	for _, s := range is {
		first, _, _ := strings.Cut(s.label, " ")
		words := wordsOf(was, func(label string) bool { return label == s.label })
		if !slices.Contains(bound, first) || words == nil {
			continue
		}
		if bad := strayWord(s.words, words); bad != "" && strayWord(s.words, slices.Concat(words, lost)) != "" {
			v := Harmful
			if first == "room" && strings.HasSuffix(bad, " in") {
				v = Either // the end of a fraction, and so within its rounding
			}
			return v, fmt.Sprintf("%q is not what the head had for %q", bad, s.label)
		}
	}
	return Harmless, ""
}

// strayWord returns the first binding word, figure or unit that does not stand,
// in this order, among those of the released statement.
func strayWord(words, was []string) string {
	binds := func(w string) bool {
		return slices.Contains(bindingWords, w) || w[0] >= '0' && w[0] <= '9' || w == "x" || w == "y" || w == "z"
	}
	k := 0
	for _, w := range words {
		if !binds(w) {
			continue
		}
		at := slices.Index(was[k:], w)
		if at < 0 {
			return w
		}
		k += at + 1
	}
	return ""
}
