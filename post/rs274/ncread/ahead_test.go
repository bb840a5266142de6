package ncread

import (
	"errors"
	"io"
	"math"
	"reflect"
	"slices"
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
		"G20\n", ";x\n", "X99999999999\n", "G1 X1.123456789012345678901\n", strings.Repeat("X1 ", 30) + "\n", strings.Repeat(" ", 80) + "X4\n", "X7 Y8 (end)\n", "N10 X3\n",
		"G94\n", "G93\n", "M0\n", "M5\n", "M3\n", "S0\n", "F9999999\n", "G1 X5 F0.5\n", "G0 X6\n"}
	line := rapid.OneOf(rapid.SampledFrom(pieces), rapid.Custom(linesOfAShape))
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(line, 0, 60).Draw(t, "lines"), "")
		text = rapid.SampledFrom(heads).Draw(t, "head") + text
		size := rapid.OneOf(rapid.IntRange(1, 300), rapid.IntRange(100, 3000)).Draw(t, "size")
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

// Whatever stands between straight moves, they are carried out as the plain way does.
func TestStraightMovesAlike(t *testing.T) {
	const moves = "G1 X1 Y2\nX2 Z-1\nG0 Y3\nG1 X4 F400\n"
	between := []string{"", "G20\n", "G21\n", "G90\n", "G91\n", "G93\n", "G94\n", "G80\n", "G18\n", "F9999999\n", "F30000\nG20\n", "F0\n", "X3 F9999999\n", "S0\n", "S9\n", "M3\n", "M5\n", "M0\n", "M2\n",
		"G2 X3 Y3 I1 J0\n", "X999999\n", "G28\n", "G53 X1\n", "G92 X1\n", "G38.2 X1\n", "G81 X1 Z-1 R1\n", "G1.5 X1\n", "X\n", "I1\n", "X3 I1\n", "G1\n"}
	for _, head := range append([]string{"G21 G90 G54\nG0 Z5\nG0 X0 Y0\nM3\nF500\n", "G21 G90 G54\nG0 Z5\nG0 X0 Y0\nS100 M3\n"}, heads...) {
		for _, a := range between {
			for _, b := range between {
				text := head + moves + a + moves + b + moves
				want := hear(func(m *machine) (Report, error) { return m.read(newLines(strings.NewReader(text), chunkSize)) })
				got := hear(func(m *machine) (Report, error) { return m.readAhead(strings.NewReader(text), len(text)) })
				if !reflect.DeepEqual(got, want) {
					t.Fatalf("%q:\n%+v\nwant\n%+v", text, got, want)
				}
			}
		}
	}
}

// shapes are lines that others may look like.
var shapes = append([]string{"G1 X100.137 Y0.000 Z-0.01\n", "G1 X0.000 Y12.5 F1200.0\n", "x.5 y-.25\n", "X5. Y-7\r\n", "G01X12345678Y1234.567Z1\n",
	"G0 Z-5 \n", "G2 X3.00 Y3.00 I1.00 J-0.00\n", "F12\n", "G3 X100.1234 Y247.5000 Z-10.1234 I100.1234 J-10.1234 F1200.0\n"}, unusual...)

// unusual are those that have no shape: they are none that only move, are too long,
// or hold a number that is written in a way of its own.
var unusual = []string{"G1 G1\n", "X1 X2\n", "M3\n", "X1 1 Y2\n", "X123456789 Y1\n", "X12345.6789\n", "Y+1.5\n", "G1 X -2.5\n",
	"G1 X0100.1234 Y247.5000 Z-10.1234 I100.1234 J-10.1234 F1200.00000\n"}

// heads are what programs may begin with: nothing, all that a cut needs, and all but
// the unit.
var heads = []string{"", prelude + "F500\n", "G17 G40 G54 G80 G90 G94\nG0 Z5\nG0 X0 Y0\nS18000 M3\nF500\n"}

// alike draws a line of the shape of another, now and then with one more character
// changed.
func alike(t *rapid.T, line string) string {
	s := []byte(line)
	for i, c := range s {
		if c >= '0' && c <= '9' && rapid.IntRange(0, 3).Draw(t, "another digit") > 0 && (i == 0 || s[i-1]|0x20 != 'g') {
			s[i] = byte(rapid.IntRange('0', '9').Draw(t, "digit"))
		}
	}
	if rapid.IntRange(0, 9).Draw(t, "breaks the shape") == 0 {
		s[rapid.IntRange(0, len(s)-1).Draw(t, "where")] = rapid.SampledFrom([]byte("0129.-+ XYGx\t\r\n(N\xb0\xff/:")).Draw(t, "what")
	}
	return string(s)
}

// linesOfAShape draws lines that look alike.
func linesOfAShape(t *rapid.T) string {
	line := rapid.SampledFrom(shapes).Draw(t, "shape")
	text := ""
	for range rapid.IntRange(1, 6).Draw(t, "many") {
		text += alike(t, line)
	}
	return text
}

// A line that has the shape of another is taken apart as if it were the first one,
// and none has it that could not be: those of other digits, and those in which any
// character is any other.
func TestShape(t *testing.T) {
	rest := strings.Repeat("9", behind)
	for _, s := range shapes {
		var first aheadLine
		var like shapesBySize
		if next := first.parse([]byte(s+rest), 0); next > 0 {
			like.missed(&first, []byte(s))
			like.missed(&first, []byte(s))
		}
		read := func(t failer, other string) (ok bool) {
			var got, want aheadLine
			next := like.read(&got, []byte(other+rest), 0)
			if next == 0 {
				return false
			}
			if plain := want.parse([]byte(other+rest), 0); plain != next || next != len(other) || !sameLine(got, want) {
				t.Fatalf("%q is taken apart as\n%+v up to %d, want\n%+v up to %d", other, got, next, want, plain)
			}
			return true
		}
		if usual := !slices.Contains(unusual, s); read(t, s) != usual {
			t.Errorf("%q is read by its shape: %v", s, !usual)
		}
		for i := range len(s) - 1 {
			for c := range 256 {
				read(t, s[:i]+string([]byte{byte(c)})+s[i+1:])
			}
		}
		rapid.Check(t, func(t *rapid.T) { read(t, alike(t, s)) })
	}
}

// Lines of a few kinds that come in turn are read by their shapes from the third round
// on, each by its own; a line of a kind that is not among them changes nothing.
func TestShapesInTurn(t *testing.T) {
	kinds := []string{"G1 X67.662 Z-2.25 F1600.0\n", "G1 X21.342\n", "(pass 2 of 4)\n", "G1 X67.662 Z-4.5\n", "G1 X21.342\n", "G0 Z12.0\r\n"}
	var like shapesBySize
	rest := strings.Repeat("9", behind)
	for round := range 5 {
		for _, s := range kinds {
			var got, want aheadLine
			text := []byte(s + rest)
			next := like.read(&got, text, 0)
			plain := want.parse(text, 0)
			switch {
			case next == 0 && plain > 0:
				like.missed(&want, []byte(s))
				if round > 1 {
					t.Errorf("round %d: %q is not read by its shape", round, s)
				}
			case next != plain || next > 0 && !sameLine(got, want):
				t.Errorf("round %d: %q is taken apart as\n%+v up to %d, want\n%+v up to %d", round, s, got, next, want, plain)
			}
		}
	}
}

// sameLine reports whether two lines say the same, zeros with the same sign.
func sameLine(a, b aheadLine) bool {
	for i, v := range a.val {
		if math.Float64bits(v) != math.Float64bits(b.val[i]) {
			return false
		}
	}
	return a == b
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
	if most := (aheadMost + 2) * aheadSize; r.n > most {
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
