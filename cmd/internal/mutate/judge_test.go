package mutate

import "testing"

// A slot of 60 by 6 mm, 4 mm deep in two passes, and what is done to it; the
// verdicts follow from the job's numbers by hand.
func TestJudgeProgram(t *testing.T) {
	job := &Brief{UnitMM: 1, Cutter: 6, Depth: 4, Pass: 2, Feed: 1000, Plunge: 250, RampDeg: 5,
		RPMMin: 17000, RPMMax: 19000, SpinUp: 3, SafeZ: 10, Approach: 1, Loads: 1, Slots: []Slot{{7, 67, 6, 12}}}
	head := "G17 G21 G40 G54 G80 G90 G94\nG0 Z10.0\nS18000 M3\nG4 P3.0\n"
	cut := "G0 X10.0 Y9.0\nG0 Z1.0\nG1 Z0.0 F250.0\nG1 X64.0 Z-2.0 F1000.0\nG1 X10.0\nG1 X64.0 Z-4.0\nG1 X10.0\nG1 Z1.0\nG0 Z10.0\n"
	rows := []struct {
		name, text string
		want       Verdict
	}{
		{"as planned", head + cut + "M5\nM2\n", Harmless},
		{"cut twice", head + cut + cut + "M5\nM2\n", Harmless},
		{"no unit", "G17 G40 G54 G80 G90 G94\nG0 Z10.0\nS18000 M3\nG4 P3.0\n" + cut + "M5\nM2\n", Harmful},
		{"no end", head + cut + "M5\n", Harmful},
		{"spindle turns at the end", head + cut + "M2\n", Harmful},
		{"one pass too few", head + "G0 X10.0 Y9.0\nG0 Z1.0\nG1 Z0.0 F250.0\nG1 X64.0 Z-4.0 F1000.0\nG1 X10.0\nG1 Z1.0\nG0 Z10.0\nM5\nM2\n", Harmful},
		{"0.05 mm too far", head + "G0 X10.0 Y9.0\nG0 Z1.0\nG1 Z0.0 F250.0\nG1 X64.05 Z-2.0 F1000.0\nG1 X10.0\nG1 X64.0 Z-4.0\nG1 X10.0\nG1 Z1.0\nG0 Z10.0\nM5\nM2\n", Harmful},
		{"ends in the slot", head + cut + "G1 Z-4.0\nM5\nM2\n", Harmful},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			if got, why := JudgeProgram(job, []byte(row.text)); got != row.want {
				t.Errorf("%v (%s), want %v", got, why, row.want)
			}
		})
	}
}

// A full turn ends where it starts whatever its centre is: one about another place is
// another cut, and what was said of the first does not hold for it. The second turn's
// middle lies 3 mm beside the first one's, by hand 3 mm beyond the slot's side.
func TestJudgeFullTurns(t *testing.T) {
	job := &Brief{UnitMM: 1, Cutter: 6, Depth: 2, Pass: 2, Feed: 1000, Plunge: 250, RampDeg: 5,
		RPMMin: 17000, RPMMax: 19000, SpinUp: 3, SafeZ: 10, Approach: 1, Loads: 1, Slots: []Slot{{7, 67, 6, 18}}}
	program := func(turn string) []byte {
		return []byte("G17 G21 G40 G54 G80 G90 G94\nG0 Z10.0\nS18000 M3\nG4 P3.0\nG0 X10.0 Y12.0\nG0 Z1.0\nG1 Z0.0 F250.0\n" +
			"G1 X64.0 Z-2.0 F1000.0\nG1 X10.0\nG1 X64.0\nG1 Y9.0\nG1 X10.0\nG1 Y15.0\nG1 X64.0\nG1 Y9.0\nG1 X37.0\n" +
			turn + "\nG1 Z1.0\nG0 Z10.0\nM5\nM2\n")
	}
	for _, row := range []struct {
		turn string
		want Verdict
	}{{"G2 X37.0 Y9.0 I0.0 J3.0", Harmless}, {"G2 X37.0 Y9.0 I3.0 J0.0", Harmful}} {
		if got, why := JudgeProgram(job, program(row.turn)); got != row.want {
			t.Errorf("%s: %v (%s), want %v", row.turn, got, why, row.want)
		}
	}
}
