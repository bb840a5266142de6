package ncread

import (
	"errors"
	"io"
	"reflect"
	"strings"
	"testing"
	"testing/iotest"

	"pgregory.net/rapid"

	"starwright/toolpath"
)

// said is all that a reading says of a program.
type said struct {
	rep      Report
	err      error
	moves    []toolpath.Move
	comments []string
}

// hear gathers what a reading says.
func hear(read func(m *machine) (Report, error)) (s said) {
	s.rep, s.err = read(newMachine("a.nc", Events{
		Move:    func(mv *toolpath.Move) error { s.moves = append(s.moves, *mv); return nil },
		Comment: func(_ int, text string) { s.comments = append(s.comments, text) },
	}))
	return s
}

// Lines that are taken apart ahead are read as those that the machine takes apart
// itself: sound ones, faulty ones, of any end, in chunks of any size.
func TestAheadReadsAlike(t *testing.T) {
	pieces := []string{"G17 G21 G40 G54 G80 G90 G94\n", "S18000 M3\n", "G0 Z5\nG0 X0 Y0\n", "G1 X1.5 Y-2.25 F600\n", "x3\n", "G1Z-1.\r\n", "G2 X3 Y3 I1 J0\n",
		"G3X1Y1I-1J.5\n", "X1 X2\n", "G1 G0 X1\n", "G4 P1\n", "(a comment)\n", "X 1 . 5 Y2\n", "G1.5 X1\n", "X\n", "\r", "\n", "M5\nM2\n", "%\n", "F0\n", "G91\n", "Y1e5\n",
		"G20\n", ";x\n", "X99999999999\n", "G1 X1.123456789012345678901\n", strings.Repeat("X1 ", 30) + "\n", strings.Repeat(" ", 80) + "X4\n", "X7 Y8 (end)\n", "N10 X3\n"}
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 60).Draw(t, "lines"), "")
		size := rapid.IntRange(1, 300).Draw(t, "size")
		fails := error(nil)
		if rapid.Bool().Draw(t, "the reader fails") {
			fails = errors.New("pulled out")
		}
		source := func() io.Reader {
			if fails == nil {
				return strings.NewReader(text)
			}
			return io.MultiReader(strings.NewReader(text), iotest.ErrReader(fails))
		}
		want := hear(func(m *machine) (Report, error) { return m.read(newLines(source(), chunkSize)) })
		got := hear(func(m *machine) (Report, error) { return m.readAhead(source(), size) })
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("%q in chunks of %d:\n%+v\nwant\n%+v", text, size, got, want)
		}
		if !errors.Is(got.err, fails) {
			t.Fatalf("error %v, want %v", got.err, fails)
		}
	})
}

// Where the caller stops, nothing goes on behind its back.
func TestAheadStops(t *testing.T) {
	enough := errors.New("enough")
	r := &counted{r: strings.NewReader("G17 G21 G40 G54 G80 G90 G94\nG0 Z5\nG0 X0 Y0\n" + strings.Repeat("G0 X1 Y2 Z3\nG0 X2\n", 100_000))}
	moves := 0
	_, err := Read(r, "a.nc", Events{Move: func(*toolpath.Move) error {
		if moves++; moves == 10 {
			return enough
		}
		return nil
	}})
	if err != enough || moves != 10 {
		t.Fatalf("%v after %d moves", err, moves)
	}
	if most := (aheadMost + 3) * chunkSize; r.n > most {
		t.Errorf("%d bytes read, %d are looked ahead at most", r.n, most)
	}
}

// counted counts what is read.
type counted struct {
	r io.Reader
	n int
}

func (c *counted) Read(b []byte) (int, error) {
	n, err := c.r.Read(b)
	c.n += n
	return n, err
}
