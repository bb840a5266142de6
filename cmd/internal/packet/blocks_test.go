package packet

import (
	"fmt"
	"strings"
	"testing"
)

// The index gives the very lines that the reader gives, at its marks too, and where a
// single line ends in another way than all others.
func TestBlocks(t *testing.T) {
	rows := map[string][2]string{
		"LF": {"\n", "\n"}, "CR LF": {"\r\n", "\r\n"}, "CR": {"\r", "\r"},
		"LF, one CR": {"\n", "\r"}, "CR LF, one CR": {"\r\n", "\r"}, "LF, one CR CR LF": {"\n", "\r\r\n"}, "LF, one CR LF": {"\n", "\r\n"},
	}
	for name, ends := range rows {
		for _, other := range []int{1, 100, 381, 382, 383, 384, 385, 418, 419, 420, 421, 422} { // lines, some about the first mark
			var b strings.Builder
			lines := 0
			for b.Len() < 3*markBytes+10 {
				lines++
				end := ends[0]
				if lines == other {
					end = ends[1]
				}
				fmt.Fprintf(&b, "G1 X%d.0%s", lines, end)
			}
			text := []byte(b.String())
			want := strings.FieldsFunc(b.String(), func(c rune) bool { return c == '\r' || c == '\n' })
			if strings.Contains(ends[1], "\r\r") {
				want = append(want[:other:other], append([]string{""}, want[other:]...)...)
			}
			index := &blocks{text: func() []byte { return text }}
			for _, line := range []int{1, 2, other - 1, other, other + 1, 382, 383, 384, 419, 420, 421, lines - 1, lines} {
				if line < 1 {
					continue
				}
				if got := index.at(line); got != want[line-1] {
					t.Fatalf("%s after line %d, line %d: %q, want %q", name, other, line, got, want[line-1])
				}
			}
			for _, line := range []int{-1, 0, len(want) + 1, len(want) + 2, 10 * lines} {
				if got := index.at(line); got != "" {
					t.Errorf("%s, line %d: %q", name, line, got)
				}
			}
		}
	}
}
