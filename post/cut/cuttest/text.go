package cuttest

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"starwright/toolpath/finding"
)

// Swap replaces the one place where old stands.
func Swap(t testing.TB, src, old, new string) string {
	t.Helper()
	if n := strings.Count(src, old); n != 1 {
		t.Fatalf("%q stands %d times in the file", old, n)
	}
	return strings.Replace(src, old, new, 1)
}

// First replaces the first place where old stands.
func First(t testing.TB, src, old, new string) string {
	t.Helper()
	if !strings.Contains(src, old) {
		t.Fatalf("%q does not stand in the file", old)
	}
	return strings.Replace(src, old, new, 1)
}

// LineOf returns the number of the line on which the text starts.
func LineOf(t testing.TB, src, text string) int {
	t.Helper()
	before, _, ok := strings.Cut(src, text)
	if !ok {
		t.Fatalf("%q does not stand in the file", text)
	}
	return strings.Count(before, "\n") + 1
}

// Rules lists the rules of findings in order, each once.
func Rules(fs []finding.Finding) string {
	var out []string
	for _, f := range fs {
		if !slices.Contains(out, f.Rule) {
			out = append(out, f.Rule)
		}
	}
	return strings.Join(out, " ")
}

// All prints findings one on a line.
func All(fs []finding.Finding) string {
	var b strings.Builder
	for _, f := range fs {
		fmt.Fprintln(&b, f.Rule, f)
	}
	return b.String()
}
