package job

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"starwright/geom"
)

// TestHostileFilesAreQuick gives files of the greatest size, built to be slow.
// The bound is a hundred times what they take, so that a busy machine passes.
func TestHostileFilesAreQuick(t *testing.T) {
	fill := func(unit string) string { return strings.Repeat(unit, maxBytes/len(unit)) }
	for _, c := range []struct{ name, src string }{
		{"brackets", "a = " + strings.Repeat("[", maxBytes-8)},
		{"braces", "a = " + fill("{a=")[:maxBytes-8]},
		{"dots", fill("a.")[:maxBytes-8] + "=1"},
		{"dotted header", "[" + fill("a.")[:maxBytes-8] + "]"},
		{"new lines", fill("\n")[:maxBytes-8] + "x"},
		{"long key", fill("k")[:maxBytes-8] + "=1"},
		{"long text", "[star]\nboard_width = \"" + fill("3")[:maxBytes-40] + "\""},
		{"long number", "[star]\nboard_width = " + fill("3")[:maxBytes-40]},
		{"many tables", fill("[[a]]\n")},
		{"many keys", manyKeys()},
	} {
		t.Run(c.name, func(t *testing.T) {
			start := time.Now()
			_, errs := Parse("j", []byte(c.src))
			if d := time.Since(start); d > time.Minute { // of milliseconds: what grows with the square of a file takes hours
				t.Errorf("took %v", d)
			}
			if len(errs) == 0 || len(errs) > maxErrors+1 {
				t.Errorf("%d errors", len(errs))
			}
			for _, e := range errs {
				if len(e.Error()) > 2000 {
					t.Errorf("an error of %d bytes", len(e.Error()))
				}
			}
		})
	}
}

// manyKeys returns a file of as many unknown keys as are read.
func manyKeys() string {
	var b strings.Builder
	b.WriteString(good)
	for i := 0; i < maxNodes-10; i++ {
		fmt.Fprintf(&b, "%s%d = 1\n", strings.Repeat("k", 60), i)
	}
	return b.String()
}

func FuzzParse(f *testing.F) {
	f.Add(BuiltIn())
	f.Add(Starter())
	f.Add([]byte(contract))
	data, err := os.ReadFile("testdata/errors.txt")
	if err != nil {
		f.Fatal(err)
	}
	for _, block := range strings.Split(string(data), "\n## ")[1:] {
		_, src, _ := strings.Cut(block, "\n")
		src, _, _ = strings.Cut(src, "=> ")
		f.Add([]byte(src))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		j, errs := Parse("j", data)
		if (j == nil) == (len(errs) == 0) {
			t.Fatalf("a job %v and %d errors", j != nil, len(errs))
		}
		lines := strings.Count(string(data), "\n") + 1
		for i, e := range errs {
			if s := e.Error(); strings.ContainsAny(s, "\n\r\x1b\x00") || len(s) > 4000 {
				t.Errorf("not a line for people: %q", s)
			}
			if e.Line < 0 || e.Line > lines || i > 0 && e.Line < errs[i-1].Line {
				t.Errorf("line %d of %d, after %d", e.Line, lines, errs[max(0, i-1)].Line)
			}
		}
		if j == nil {
			return
		}
		for _, v := range []float64{j.Star.BoardWidth + j.Star.StarWidth, j.Star.Thickness, j.Cutter.Feed, j.Cutter.DepthPerPass,
			j.Cutter.PlungeFeed, j.Cutter.SpindleRPM, j.Machine.SafeZ, j.Sheet.Width, j.Sheet.Height, j.Slot.Pitch} {
			if !(v > 0 && v <= geom.MaxLength) {
				t.Errorf("a value of %v got through", v)
			}
		}
	})
}
