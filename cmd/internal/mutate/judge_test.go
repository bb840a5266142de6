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
