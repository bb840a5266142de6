package packet

import (
	"fmt"
	"strings"
	"testing"

	"starwright/post/rs274/ncread"
)

// The index gives the very lines that the reader gives, at its marks too.
func TestBlocks(t *testing.T) {
	rows := map[string]string{"LF": "\n", "CR LF": "\r\n", "CR": "\r"}
	for name, end := range rows {
		t.Run(name, func(t *testing.T) {
			var b strings.Builder
			const lines = 3*markStep + 2
			for i := 1; i <= lines; i++ {
				fmt.Fprintf(&b, "G1 X%d.0%s", i, end)
			}
			text := []byte(b.String())
			index := &blocks{text: func() []byte { return text }}
			for _, line := range []int{1, 2, markStep, markStep + 1, 2*markStep + 1, lines, lines + 1, 0} {
				if got, want := index.at(line), ncread.Block(text, line); got != want {
					t.Errorf("line %d: %q, the reader has %q", line, got, want)
				}
			}
		})
	}
}
