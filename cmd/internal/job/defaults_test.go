package job

import (
	"fmt"
	"regexp"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"starwright/geom/problem"
)

// TestDefaultsAreSaid takes each default from the note and writes it into the
// file: the job must be the same, and the note gone.
func TestDefaultsAreSaid(t *testing.T) {
	for _, units := range []string{"mm", "in"} {
		t.Run(units, func(t *testing.T) {
			head := fmt.Sprintf("units = %q\nstar.board_width = \"100 mm\"\nwood.species = \"black cherry\"\nslot.stations = 2\n", units)
			j := parsed(t, head)
			if len(j.Defaults) < 35 {
				t.Errorf("only %d defaults are said", len(j.Defaults))
			}
			for _, n := range j.Defaults {
				value := n.Value
				if !regexp.MustCompile(`^(\d+|true|false|\[.*\])$`).MatchString(value) {
					value = fmt.Sprintf("%q", value)
				}
				k := parsed(t, head+n.Key+" = "+value+"\n")
				if slices.ContainsFunc(k.Defaults, func(m problem.Note) bool { return m.Key == n.Key }) {
					t.Errorf("%s is given and still said to be a default", n.Key)
				}
				a, b := *j, *k
				a.root, b.root, a.Defaults, b.Defaults = nil, nil, nil, nil
				if d := cmp.Diff(a, b, cmp.AllowUnexported(Job{}, node{})); d != "" {
					t.Errorf("%s = %s changes the job: %s", n.Key, value, d)
				}
			}
		})
	}
}

func TestDefaultsFitTheRest(t *testing.T) {
	for _, c := range []struct {
		name, src, key, want string
	}{
		{"pass of a thin cutter", "[cutter]\ndiameter = 2", "cutter.depth_per_pass", "2 mm"},
		{"pass of a short cutter", "[cutter]\ncut_length = 1.5\n[sheet]\nthickness = 1\n[tabs]\nheight = 0.5", "cutter.depth_per_pass", "1.5 mm"},
		{"plunge at a slow feed", "[cutter]\nfeed = 200", "cutter.plunge_feed", "50 mm/min"},
		{"slow spindle", "[machine]\nspindle_max = 12000", "cutter.spindle_rpm", "12000"},
		{"fast spindle", "[machine]\nspindle_min = 20000", "cutter.spindle_rpm", "20000"},
		{"small machine", "[machine]\ntravel = [280, 180, 15]", "sheet.width", "280 mm"},
		{"small machine, other side", "[machine]\ntravel = [280, 180, 15]", "sheet.height", "180 mm"},
		{"low machine", "[machine]\ntravel = [280, 180, 15]", "machine.safe_z", "7.5 mm"},
		{"pitch of thin boards", "thickness = \"12.2 mm\"\n[slot]\nstations = 2", "slot.pitch", "38 mm"},
		{"spacing of a cutter", "[cutter]\ndiameter = 8", "sheet.spacing", "10 mm"},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := parsed(t, good+c.src)
			for _, n := range j.Defaults {
				if n.Key == c.key {
					if n.Value != c.want {
						t.Errorf("%s = %s; want %s", n.Key, n.Value, c.want)
					}
					return
				}
			}
			t.Errorf("%s is not among the defaults", c.key)
		})
	}
}

func TestWarningsOfIdleKeys(t *testing.T) {
	for _, c := range []struct{ name, src, want string }{
		{"no slots", "[slot]\nmake = false\ndepth = 8", "without slots the other keys of [slot] change nothing"},
		{"no second star", "[offcut_slot]\ndepth = 8", "without a second star [offcut_slot] changes nothing"},
		{"second star without slots", "offcut_star = true\n[slot]\nmake = false\n[offcut_slot]\ndepth = 8", "without slots in the main star [offcut_slot] changes nothing"},
		{"pitch alone", "[slot]\npitch = 30", "with one station pitch changes nothing"},
		{"ripped from no board", "[stock]\nrip_kerf = 3", "without board_width under [stock] it changes nothing"},
		{"wood without species", "[wood]\nmc_now = 9", "without a species [wood] changes nothing"},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := parsed(t, good+c.src)
			if len(j.Warnings) != 1 || j.Warnings[0].Why != c.want {
				t.Errorf("warnings %v; want %q", j.Warnings, c.want)
			}
		})
	}
}
