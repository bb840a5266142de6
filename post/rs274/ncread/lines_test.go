package ncread

import (
	"errors"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/iotest"

	"pgregory.net/rapid"
)

// allLines gathers the lines of a text through a buffer of a given size.
func allLines(r io.Reader, size int) (out []string, err error) {
	l := newLines(r, size)
	for {
		s, ok := l.next()
		if !ok {
			return out, l.err
		}
		out = append(out, string(s))
	}
}

// slowLines is the obvious way to split a text at CR, LF or both.
func slowLines(text string) []string {
	out := strings.Split(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text), "\n")
	if out[len(out)-1] == "" {
		out = out[:len(out)-1]
	}
	return out
}

func TestLinesAgainstSlowTwin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOf(rapid.SampledFrom([]string{"\r", "\n", "\r\n", "G1", " ", "X1.5", "\n\n"})).Draw(t, "text"), "")
		want := slowLines(text)
		longest := 2
		for _, s := range want {
			longest = max(longest, len(s)+2)
		}
		size := rapid.IntRange(longest, longest+20).Draw(t, "size")
		for _, r := range []io.Reader{strings.NewReader(text), iotest.OneByteReader(strings.NewReader(text))} {
			if got, err := allLines(r, size); err != nil || !slices.Equal(got, want) {
				t.Fatalf("%q reads as %q, want %q (%v)", text, got, want, err)
			}
		}
		for i, s := range want {
			if got := Block([]byte(text), i+1); got != s {
				t.Fatalf("Block %d is %q, want %q", i+1, got, s)
			}
		}
		if got := Block([]byte(text), len(want)+1); got != "" {
			t.Fatalf("Block after the last is %q", got)
		}
	})
}

// A line that does not fit the buffer is cut, and the next ones keep their
// numbers, whatever the line ends with.
func TestLongLines(t *testing.T) {
	for _, end := range []string{"\n", "\r\n", "\r"} {
		for n := 90_000; n < 90_004; n++ {
			text := "a" + end + strings.Repeat("b", n) + end + "c" + end
			got, err := allLines(strings.NewReader(text), 30_000)
			if err != nil || len(got) != 3 || got[0] != "a" || len(got[1]) <= lineRead || got[2] != "c" {
				t.Fatalf("%d b and %q: %d lines (%v)", n, end, len(got), err)
			}
		}
	}
}

func TestReaderFails(t *testing.T) {
	broken := errors.New("disk gone")
	rep, err := Read(io.MultiReader(strings.NewReader(prelude+"G0 X1."), iotest.ErrReader(broken)), "t.nc", Events{})
	if !errors.Is(err, broken) || !strings.Contains(err.Error(), "t.nc") {
		t.Errorf("error %v", err)
	}
	if rep.Lines != preludeLines || rep.Last.X != 0 {
		t.Errorf("half a line was read: %d lines, at %v", rep.Lines, rep.Last)
	}
}

// realNumber is the grammar of NISTIR 6556, App. E, real_number, without
// blanks.
var realNumber = regexp.MustCompile(`^[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)`)

func TestNumberAgainstStrconv(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[+-]?[0-9]{0,12}\.?[0-9]{0,12}[XE.]?`).Draw(t, "number")
		v, next, point, ok := number([]byte(text), 0)
		want := realNumber.FindString(text)
		f, err := strconv.ParseFloat(want, 64)
		if ok != (err == nil && math.Abs(f) <= numberMax) {
			t.Fatalf("%q is a number: %v", text, ok)
		}
		if !ok {
			return
		}
		if v != f || next != len(want) || point != strings.Contains(want, ".") {
			t.Fatalf("%q reads as %v up to %d, point %v; strconv says %v up to %d", text, v, next, point, f, len(want))
		}
		spaced := " " + strings.Join(strings.Split(want, ""), "\t ")
		if v, next, _, ok := number([]byte(spaced), 0); !ok || v != f || next != len(spaced) {
			t.Fatalf("%q reads as %v up to %d", spaced, v, next)
		}
	})
}
