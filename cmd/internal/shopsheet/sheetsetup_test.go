package shopsheet

import "testing"

func TestProgramsOf(t *testing.T) {
	for _, c := range []struct {
		want  string
		paths []string
	}{
		{"gcode/jigs-1.nc", []string{"gcode/jigs-1.nc"}},
		{"gcode/jigs-1.nc and gcode/jigs-2.nc", []string{"gcode/jigs-1.nc", "gcode/jigs-2.nc"}},
		{"gcode/jigs-3.nc and gcode/splines-1.nc", []string{"gcode/jigs-3.nc", "gcode/splines-1.nc"}},
		{"gcode/jigs-9.nc to gcode/jigs-11.nc and gcode/splines-1.nc", []string{"gcode/jigs-9.nc", "gcode/jigs-10.nc", "gcode/jigs-11.nc", "gcode/splines-1.nc"}},
	} {
		var sheets []Sheet
		for _, p := range c.paths {
			sheets = append(sheets, Sheet{Path: p})
		}
		if got := programsOf(sheets); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
