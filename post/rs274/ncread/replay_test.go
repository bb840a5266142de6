package ncread

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/toolpath"
)

// event notes what is called while a program is replayed.
func traced(t *testing.T, text string) []string {
	t.Helper()
	var log []string
	note := func(format string, args ...any) error {
		log = append(log, fmt.Sprintf(format, args...))
		return nil
	}
	_, err := Read(strings.NewReader(text), "t.nc", Events{
		Move: func(m *toolpath.Move) error {
			return note("%d %v to %g %g %g feed %g rpm %g", m.Line, m.Kind, m.To.X, m.To.Y, m.To.Z, m.Feed, m.RPM)
		},
		Stop:    func(line int) error { return note("%d stop", line) },
		Spindle: func(line int, on bool, rpm float64) error { return note("%d spindle %v %g", line, on, rpm) },
		Dwell:   func(line int, s float64) error { return note("%d dwell %g", line, s) },
	})
	if err != nil {
		t.Fatal(err)
	}
	return log
}

// NISTIR 6556, Table 8: what one line does, in its order.
func TestOrderOfExecution(t *testing.T) {
	modes := "G17 G21 G40 G54 G90 G94\nG0 Z5\nG0 X0 Y0\nS100 M3 F10\n"
	start := []string{"3 G0 to 0 0 5 feed 0 rpm 0", "4 spindle true 100"}
	for _, row := range []struct {
		name, line string
		want       []string
	}{
		{"F before motion", "G1 X1 F20", []string{"5 G1 to 1 0 5 feed 20 rpm 100"}},
		{"S before motion", "G1 X1 S200", []string{"5 spindle true 200", "5 G1 to 1 0 5 feed 10 rpm 200"}},
		{"S before M3", "M3 S300", []string{"5 spindle true 300"}},
		{"M5 before motion", "G1 X1 M5", []string{"5 spindle false 0", "5 G1 to 1 0 5 feed 10 rpm 0"}},
		{"dwell before motion", "G1 X1 G4 P2.5", []string{"5 dwell 2.5", "5 G1 to 1 0 5 feed 10 rpm 100"}},
		{"G91 before motion", "G1 X1 G91\nX1", []string{"5 G1 to 1 0 5 feed 10 rpm 100", "6 G1 to 2 0 5 feed 10 rpm 100"}},
		{"M0 after motion", "M0 G1 X1", []string{"5 G1 to 1 0 5 feed 10 rpm 100", "5 stop"}},
		{"M2 after motion", "M2 G1 X1\nG1 X9", []string{"5 G1 to 1 0 5 feed 10 rpm 100"}},
		{"M6 stops the spindle, M3 starts it", "M6 T2 M3", []string{"5 spindle false 0", "5 spindle true 100"}},
		{"G80 keeps still", "G80\nG1 X1", []string{"6 G1 to 1 0 5 feed 10 rpm 100"}},
	} {
		got := traced(t, modes+row.line+"\n")
		if want := append(slices.Clone(start), row.want...); !slices.Equal(got, want) {
			t.Errorf("%s:\n%s\nwant\n%s", row.name, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	}
}

// NISTIR 6556 §3.5.17: in G91 the ends are steps; I and J are steps always.
func TestStepsAndInches(t *testing.T) {
	_, moves := replay(t, inch("G91\nG1 X1.0 Z-0.5 F10.0\nG2 X1.0 Y0.0 I0.5 J0.0\nG90 G1 X0.0"))
	last3 := moves[len(moves)-3:]
	for i, want := range []geom.Point3{{X: 25.4, Y: 0, Z: 241.3}, {X: 50.8, Y: 0, Z: 241.3}, {X: 0, Y: 0, Z: 241.3}} {
		if last3[i].To.Dist(want) > exact {
			t.Errorf("move %d ends at %v, want %v", i, last3[i].To, want)
		}
	}
	nearPoint(t, "centre", last3[1].Center, geom.Pt(38.1, 0), exact)
	near(t, "feed", last3[1].Feed, 254, exact)
}

// Full circles and long arcs, from the definition of G2 and G3 (§3.5.3).
func TestSweeps(t *testing.T) {
	for _, row := range []struct {
		block string
		want  float64
	}{
		{"G2 X0 Y0 I5", -360},
		{"G3 X0 Y0 I5", 360},
		{"G2 X10 I5", -180},
		{"G3 X10 I5", 180},
		{"G2 X5 Y5 I5", -90},
		{"G3 X5 Y5 I5", 270},
		{"G2 X5 Y-5 I5", -270},
		{"G3 X5 Y-5 I5", 90},
		{"G2 X5 Y5 R5", -90},
		{"G2 X5 Y5 R-5", -270},
		{"G3 X5 Y5 R5", 90},
		{"G3 X5 Y5 R-5", 270},
		{"G2 X10 R5", -180},
	} {
		rep, m := last(t, row.block+" F100")
		if !rep.OK() {
			t.Errorf("%s: %v", row.block, rep.Findings)
		}
		near(t, "sweep of "+row.block, m.Sweep.Degrees(), row.want, 1e-9)
		near(t, "radius of "+row.block, m.To.XY().Dist(m.Center), 5, exact)
	}
}

// A program made of nothing it should have said gets one finding for each thing.
func TestToldOnce(t *testing.T) {
	text := strings.Repeat("G1 X1\nX2\n", 50)
	rep, _ := replay(t, "G0 Z1\nG0 X0 Y0\n"+text)
	counts := map[string]int{}
	for _, f := range rep.Findings {
		counts[f.Rule]++
	}
	for _, rule := range []string{"sub-units-unset", "sub-distance-unset", "sub-offset-unset", "sub-feed-unset", "sub-spindle-off", "std-end-missing"} {
		if counts[rule] != 1 {
			t.Errorf("%s told %d times", rule, counts[rule])
		}
	}
	if rep.UnitMM != 0 {
		t.Errorf("unit %g mm of a program that names none", rep.UnitMM)
	}
}

func TestReport(t *testing.T) {
	rep, _ := replay(t, "(slot-left)\n(cutter 6.35 mm)\n"+prelude+"(not the head)\nG1 Z-1.0 F300.0\nG1 X9.0 F1200.0\nG0 Z10.0\nM5\n(next load)\nM0\nG0 Z10.0\nS16000 M3\nG4 P3.5\nG0 X1.0\nM5\nM2\n")
	if !rep.OK() || len(rep.Notes) > 0 {
		t.Fatalf("findings %v, notes %v", rep.Findings, rep.Notes)
	}
	if !slices.Equal(rep.Head, []string{"slot-left", "cutter 6.35 mm"}) {
		t.Errorf("head %q", rep.Head)
	}
	if rep.Feed != (Range{300, 1200}) || rep.RPM != (Range{16000, 18000}) {
		t.Errorf("feed %v, speed %v", rep.Feed, rep.RPM)
	}
	if rep.UnitMM != 1 || rep.DwellS != 5.5 || rep.StopCount != 1 || !slices.Equal(rep.Stops, []int{20}) {
		t.Errorf("unit %g, dwell %g, stops %v", rep.UnitMM, rep.DwellS, rep.Stops)
	}
	if rep.SpindleOn || rep.EndWord != "M2" || rep.EndLine != rep.Lines || rep.Lines != 26 {
		t.Errorf("spindle %v, end %s in line %d of %d", rep.SpindleOn, rep.EndWord, rep.EndLine, rep.Lines)
	}
	if !rep.LastKnown || rep.Last != (geom.Point3{X: 1, Y: 0, Z: 10}) {
		t.Errorf("left at %v", rep.Last)
	}
	if want := []string{"G0", "G17", "G90", "G94", "G21", "G40", "G54"}; !slices.Equal(rep.Modal, want) {
		t.Errorf("modal %v, want %v", rep.Modal, want)
	}
}

// The start of a move is unknown axis by axis until the program has set it.
func TestUnknownStart(t *testing.T) {
	_, moves := replay(t, "G17 G21 G40 G54 G90 G94\nG0 Z5\nG0 X1\nG0 Z7\nG0 X2 Y3\nM2\n")
	if len(moves) != 1 {
		t.Fatalf("moves %v, want only the one whose end is known", moves)
	}
	if m := moves[0]; m.From != (geom.Point3{X: 1, Y: 3, Z: 7}) || m.To != (geom.Point3{X: 2, Y: 3, Z: 7}) {
		t.Errorf("from %v to %v", m.From, m.To)
	}
}

// What a fault leaves out is not made up, and what follows is still read.
func TestAfterFaults(t *testing.T) {
	for _, row := range []struct {
		name, body string
		want       geom.Point3 // of the last move
	}{
		{"unknown code", "G5 X1.0\nG1 Y2.0 F100.0", geom.Point3{X: 1, Y: 2, Z: 10}},
		{"unreadable code", "G X1.0\nG1 Y2.0 F100.0", geom.Point3{X: 1, Y: 2, Z: 10}},
		{"cycle leaves Z unknown", "G81 X1.0 Y1.0 Z-5.0 R1.0\nG80\nG0 Z20.0", geom.Point3{X: 0, Y: 0, Z: 10}},
		{"expression leaves X unknown", "G0 X[1]\nG0 Y5.0\nG0 X7.0", geom.Point3{X: 7, Y: 5, Z: 10}},
		{"comment left open", "G0 X4.0 (open\nG0 Y1.0", geom.Point3{X: 4, Y: 1, Z: 10}},
		{"another plane", "G18 G2 X4.0 Z10.0 I2.0 F100.0\nG17 G0 Y1.0", geom.Point3{X: 4, Y: 1, Z: 10}},
	} {
		rep, m := last(t, row.body)
		if rep.OK() {
			t.Errorf("%s: no finding", row.name)
		}
		if m.To != row.want {
			t.Errorf("%s: last move ends at %v, want %v", row.name, m.To, row.want)
		}
	}
}

func TestCallerStops(t *testing.T) {
	stop := errors.New("enough")
	n := 0
	rep, err := Read(strings.NewReader(prelude+"G0 X1.0\nG0 X2.0\n"), "t.nc", Events{Move: func(*toolpath.Move) error {
		if n++; n == 2 {
			return stop
		}
		return nil
	}})
	if !errors.Is(err, stop) || n != 2 || rep.Lines != 12 {
		t.Errorf("error %v after %d moves and %d lines", err, n, rep.Lines)
	}
	for name, ev := range map[string]Events{
		"stop":    {Stop: func(int) error { return stop }},
		"spindle": {Spindle: func(int, bool, float64) error { return stop }},
		"dwell":   {Dwell: func(int, float64) error { return stop }},
	} {
		if _, err := Read(strings.NewReader(prelude+"M5\nM0\n"), "t.nc", ev); !errors.Is(err, stop) {
			t.Errorf("%s: error %v", name, err)
		}
	}
}

// A file of nothing but faults fills a bounded report.
func TestBoundedReport(t *testing.T) {
	rep, _ := replay(t, strings.Repeat("?\n", 5000)+strings.Repeat("M0\n", 2000))
	if len(rep.Findings) != MaxFindings || rep.FindingCount != 5001 {
		t.Errorf("%d findings kept, %d counted", len(rep.Findings), rep.FindingCount)
	}
	if len(rep.Stops) != MaxStops || rep.StopCount != 2000 {
		t.Errorf("%d stops kept, %d counted", len(rep.Stops), rep.StopCount)
	}
	rep, _ = replay(t, strings.Repeat("\x00\xff(", 100_000))
	if rep.FindingCount == 0 || rep.FindingCount > 20 || len(rep.Findings[0].Block) > 120 {
		t.Errorf("%d findings of one line", rep.FindingCount)
	}
	rep, _ = replay(t, strings.Repeat("(remark)\n", 200)+prelude+closing)
	if len(rep.Head) != MaxHead {
		t.Errorf("head of %d comments", len(rep.Head))
	}
}

// A finding names the place, the block and the numbers.
func TestFindingText(t *testing.T) {
	rep, _ := replay(t, prelude+"G2 X10.1 Y0.0 I5.0 J0.0 F100.0\n"+closing)
	if len(rep.Findings) != 1 {
		t.Fatalf("findings %v", rep.Findings)
	}
	f := rep.Findings[0]
	want := "t.nc:12: the centre is 5.0000 mm from the start and 5.1000 mm from the end, 0.1000 mm apart where 0.0020 may be: " +
		"start and end lie equally far from the centre (NISTIR 6556 §3.5.3.2) [G2 X10.1 Y0.0 I5.0 J0.0 F100.0]"
	if f.String() != want {
		t.Errorf("finding reads\n%s\nwant\n%s", f, want)
	}
	near(t, "by", f.ByMM, 0.1, 1e-9)
	if f.At == nil || *f.At != (geom.Point3{Z: 10}) {
		t.Errorf("at %v", f.At)
	}
}

// Axes that are given before the place is known in all three come with
// their lines; what comes after the first move is not.
func TestGiven(t *testing.T) {
	text := "G17 G21 G40 G54 G80 G90 G94\nG0 Z12.0\nG0 Z10.0\nG0 X1.0\nG0 X2.0 Y3.0\nG0 Z5.0\nM2\n"
	var got []string
	_, err := Read(strings.NewReader(text), "given.nc", Events{
		Given: func(line, axis int) error { got = append(got, fmt.Sprint(line, "XYZ"[axis:axis+1])); return nil },
		Move:  func(m *toolpath.Move) error { got = append(got, fmt.Sprint(m.Line, m.Kind)); return nil },
	})
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"2Z", "3Z", "4X", "5 G0", "6 G0"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}
