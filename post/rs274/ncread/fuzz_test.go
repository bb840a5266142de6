package ncread

import (
	"bytes"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"starwright/toolpath"

	"pgregory.net/rapid"
)

// canonical prints moves as a program in the plainest form: millimetres, one
// command a line, every axis on every line. The first two rapids take the
// cutter to where the first move starts.
func canonical(moves []toolpath.Move) string {
	var b strings.Builder
	num := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	b.WriteString("G17 G21 G40 G54 G80 G90 G94\n")
	rpm := 0.0
	for i, m := range moves {
		if i == 0 {
			fmt.Fprintf(&b, "G0 Z%s\nG0 X%s Y%s\n", num(m.From.Z), num(m.From.X), num(m.From.Y))
		}
		if m.RPM != rpm {
			if b.WriteString("M5\n"); m.RPM != 0 {
				fmt.Fprintf(&b, "S%s M3\n", num(m.RPM))
			}
			rpm = m.RPM
		}
		fmt.Fprintf(&b, "%v X%s Y%s\n", m.Kind, num(m.To.X), num(m.To.Y))
		b.WriteString(" Z" + num(m.To.Z))
		if m.IsArc() {
			fmt.Fprintf(&b, " I%s J%s", num(m.Center.X-m.From.X), num(m.Center.Y-m.From.Y))
		}
		if m.Cuts() {
			b.WriteString(" F" + num(m.Feed))
		}
		b.WriteByte('\n')
	}
	b.WriteString("M5\nM2\n")
	return strings.ReplaceAll(b.String(), "\n Z", " Z")
}

// sameMove reports whether two moves are the same but for their lines. The
// centre of an arc passes through a sum and a difference on the way.
func sameMove(a, b toolpath.Move) bool {
	const tol = 1e-6 // mm: 100 m take 2e-8 mm in float64, and a radius may be as long again
	return a.Kind == b.Kind && a.From == b.From && a.To == b.To && a.Feed == b.Feed && a.RPM == b.RPM &&
		a.Center.Dist(b.Center) <= tol && math.Abs(float64(a.Sweep-b.Sweep)) <= tol
}

// FuzzRead holds any bytes to three promises: reading never fails nor hands out
// what is no number; lines taken apart ahead read as the plain way reads them; and
// what reads without a fault reads to the same moves once it is printed in the
// plainest form.
func FuzzRead(f *testing.F) {
	for _, s := range []string{
		"", "%\n", hello, table12, prelude + closing,
		prelude + "G1 Z-1.5 F300.0\nG2 X10.0 I5.0\nG3 X0.0 Y0.0 R-5.0\n" + closing,
		prelude + "G91\nX1.5 Y.25\nG90\nG2 X1.5 Y.25 I3\nM5\n(load)\nM0\nM3\n" + closing,
		inch("N10 g1x.1y.2z-.05f20"),
		"#1=2 G1 X[1+#1] Y-sin[30]", "G81 X1 Y2 Z-3 R1", "/N00001 G4 P1", "(a(b)c) ; \xff\x00",
		"G1 X" + strings.Repeat("9", 400), strings.Repeat("G0 X1 ", 900),
		prelude + strings.Join(shapes, "") + strings.Repeat("G1 X1.5 Y-2.25 F600\n", 5) + strings.Repeat("X.5\n", 3) + closing,
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) { checkPromises(t, text) })
}

// failer is what checkPromises needs of a test.
type failer interface {
	Helper()
	Fatalf(format string, args ...any)
}

// checkPromises checks the promises on one text, and returns its report.
func checkPromises(t failer, text []byte) Report {
	t.Helper()
	var moves []toolpath.Move
	rep, err := Read(bytes.NewReader(text), "f.nc", Events{Move: func(m *toolpath.Move) error {
		for _, v := range []float64{m.From.X, m.From.Y, m.From.Z, m.To.X, m.To.Y, m.To.Z,
			m.Center.X, m.Center.Y, float64(m.Sweep), m.Feed, m.RPM} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("line %d gives %+v", m.Line, *m)
			}
		}
		moves = append(moves, *m)
		return nil
	}})
	if err != nil {
		t.Fatalf("reading memory failed: %v", err)
	}
	for _, fd := range rep.Findings[:min(10, len(rep.Findings))] {
		if fd.Line > 0 && fd.Line <= rep.Lines && fd.Block != "" && fd.Block != Block(text, fd.Line) {
			t.Fatalf("finding %v does not repeat its line", fd)
		}
	}
	plain := hear(func(m *machine) (Report, error) { return m.read(newLines(bytes.NewReader(text), chunkSize)) })
	size := 1 + len(text)*2/3 // one chunk of most of it, and a rest
	if ahead := hear(func(m *machine) (Report, error) { return m.readAhead(bytes.NewReader(text), size) }); !reflect.DeepEqual(ahead, plain) {
		t.Fatalf("taken apart ahead, %q reads as\n%+v\nwant\n%+v", text, ahead, plain)
	}
	if !rep.OK() || len(moves) == 0 {
		return rep
	}
	plainText := canonical(moves)
	var again []toolpath.Move
	rep2, err := Read(strings.NewReader(plainText), "c.nc", Events{Move: func(m *toolpath.Move) error {
		again = append(again, *m)
		return nil
	}})
	if err != nil || len(again) != len(moves)+1 {
		t.Fatalf("%d moves read as %d (%v):\n%s%v", len(moves), len(again)-1, err, plainText, rep2.Findings)
	}
	for _, fd := range rep2.Findings {
		// Exact decimals can be longer than a line may be.
		if fd.Rule != "std-line-length" {
			t.Fatalf("the plain form has a fault: %v\n%s", fd, plainText)
		}
	}
	for i, m := range moves {
		if !sameMove(m, again[i+1]) {
			t.Fatalf("move %d\n%+v\nreads as\n%+v\nfrom\n%s", i, m, again[i+1], plainText)
		}
	}
	return rep
}

// programs draws programs without a fault, with what random bytes seldom hit:
// steps, arcs of all forms, changes of speed and feed.
func programs(t *rapid.T) string {
	num := func(label string) string {
		return strconv.FormatFloat(float64(rapid.IntRange(-300_000, 300_000).Draw(t, label))/1000, 'f', -1, 64)
	}
	unit := rapid.SampledFrom([]string{"G20", "G21"}).Draw(t, "unit")
	lines := []string{strings.Replace(strings.TrimSuffix(prelude, "\n"), "G21", unit, 1), "F500"}
	for range rapid.IntRange(1, 12).Draw(t, "blocks") {
		x, y, z, i, j := num("x"), num("y"), num("z"), num("i"), num("j")
		turn := rapid.SampledFrom([]string{"G2", "g03"}).Draw(t, "turn")
		lines = append(lines, rapid.SampledFrom([]string{
			"G0 Z" + z, "G0 X" + x + " Y" + y, "G1 X" + x + "F" + strings.TrimPrefix(z, "-") + "1", "G1 Z" + z, "y" + y + "g1",
			"G91", "G90", "S1000", "M5\nM0\nM3", "G4 P1.5", "(remark)", "",
			"G90 G1 X" + x + " Y" + y + "\n" + turn + " X" + x + " I" + i + " J1" + strings.TrimPrefix(j, "-"),
			turn + " X" + x + " Y1" + strings.TrimPrefix(y, "-") + " R-9999",
			turn + " X" + x + " Y1" + strings.TrimPrefix(y, "-") + " Z" + z + " R9999",
			"G91\n" + turn + " X20 Y0 I10 J0 Z" + z, "G91\n" + turn + " X10 Y10 J10\nG90",
		}).Draw(t, "block"))
	}
	return strings.Join(lines, "\n") + "\nM5\nM2\n"
}

func TestPlainForm(t *testing.T) {
	tried, clean := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		tried++
		if text := programs(t); checkPromises(t, []byte(text)).OK() {
			clean++
		}
	})
	if 2*clean < tried {
		t.Errorf("only %d of %d programs were free of faults", clean, tried)
	}
}
