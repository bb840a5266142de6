package packet

import (
	"context"
	"path/filepath"
	"testing"
)

// Jobs that were taken and then failed their own check, as random tests drew them.
func TestJobsThatFailed(t *testing.T) {
	for name, source := range map[string]string{
		// Two cuts side by side left a splinter that the squares of the waste show as
		// crumbs.
		"splinter": `units = "in"
[star]
points = 6
board_width = "19/8 in"
[sheet]
width = "20 in"
height = "20 in"
thickness = "3/16 in"
[shop]
cutters = [{ diameter = "2/16 in", cut_length = "10/16 in", flutes = 2 }, { diameter = "4/16 in", cut_length = "5/16 in", flutes = 3 }, { diameter = "5/16 in", cut_length = "15/16 in", flutes = 1 }]
`,
		// Two cuts side by side left a splinter in which no middle of a square lies.
		"splinter that no square shows": `units = "in"
[star]
points = 6
board_width = "2-16/32in"
thickness = 0.619
count = 4
woods = ["walnut", "hard maple"]
halves = "turning"
[slot]
depth = "6/32 in"
web = "10/32 in"
[sheet]
width = "600 mm"
height = "600 mm"
thickness = "15 mm"
`,
		// A strip of waste that was milled away became so thin at its end that the
		// squares do not show it.
		"strip that goes on unseen": `units = "in"
[star]
points = 9
board_width = "4-13/32in"
thickness = "24/32 in"
tip = "49.2 deg"
count = 14
offcut_star = true
[machine]
safe_z = "24/32 in"
spin_up = 4
`,
		// Marks by hand, two for each of 24 facets, were rounded so that together they
		// opened the last joint.
		"marks of twelve points": `units = "in"
[star]
points = 12
board_width = "4-20/32in"
thickness = 0.988
count = 3
offcut_star = true
[jigs]
make = []
`,
		// Tips by hand are drawn from the valleys, and a star of twelve or eleven points
		// from their off-cuts takes what the facets have moved those.
		"tips of twelve points": `units = "in"
[star]
points = 12
star_width = 52.126
thickness = "1-11/32in"
count = 16
offcut_star = true
[cutter]
diameter = "4 mm"
depth_per_pass = 0.105
[saw]
kerf = "1.3 mm"
max_miter = "48 deg"
[jigs]
make = []
`,
		"tips of eleven points": `[star]
points = 11
star_width = "181.8 mm"
thickness = 3.90
count = 5
offcut_star = true
[cutter]
depth_per_pass = 1.92
[jigs]
make = []
`,
	} {
		t.Run(name, func(t *testing.T) {
			w, errs := load("job.toml", []byte(source))
			if len(errs) > 0 {
				t.Fatal(errs)
			}
			made, err := Make(context.Background(), w, filepath.Join(t.TempDir(), "packet"), false)
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range made.Proofs {
				if !p.OK() {
					t.Errorf("%s: %v", p.Path, p.Findings[0])
				}
			}
		})
	}
}

// The helix of a hole that is hardly wider than the cutter is tighter in the file than it
// was planned, by rounding, and sinks no faster than the job allows for that.
func TestTightHelix(t *testing.T) {
	w, errs := load("job.toml", []byte(`[star]
points = 7
board_width = "2.480 cm"
thickness = 13.85
tip = "37.6 deg"
count = 10
offcut_star = true
woods = ["walnut", "hard maple"]
halves = "turning"
[cutter]
depth_per_pass = "2.5 mm"
feed = "340 mm/min"
plunge_feed = "56 mm/min"
spindle_rpm = 21500
ramp = "12 deg"
[tabs]
count = 0
`))
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	passes(t, w)
}
