package packet

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
)

// TestAdviceOfEach takes a job for each message that once offered nothing, what
// nobody can type, the same value again or one value after the other, in both
// units, and does what it says: the job goes through within so many messages. The
// word is in the first message.
func TestAdviceOfEach(t *testing.T) {
	for _, c := range []struct {
		name, job, word string
		most            int
	}{
		{"spline stock in a thin slot", "[slot]\nwidth = \"0.8 mm\"\n[cutter]\ndiameter = \"0.8 mm\"\n[spline]\nthickness = \"3 mm\"\n", "splines that thick", 2},
		{"spline stock and a wide fit", "[slot]\nwidth = \"2 mm\"\n[cutter]\ndiameter = \"2 mm\"\n[spline]\nfit = \"1.8 mm\"\nthickness = \"2.4 mm\"\n", "splines that thick", 3},
		{"fit as wide as the slot", "[slot]\nwidth = \"1.5 mm\"\n[cutter]\ndiameter = \"1.5 mm\"\n[spline]\nfit = \"2 mm\"\n", "nothing is left of the spline's thickness", 2},
		{"glue gap as wide as the slots are deep", "[slot]\ndepth = \"4 mm\"\n[spline]\nglue_gap = \"20 mm\"\n", "nothing is left of the spline", 2},
		{"no travel over a deep slot", "[slot]\ndepth = \"12 mm\"\n[jigs]\nmake = []\n[machine]\ntravel = [\"400 mm\", \"400 mm\", \"13 mm\"]\nsafe_z = \"11 mm\"\n", "moves", 2},
		{"little travel over a slot", "[slot]\ndepth = \"10 mm\"\n[jigs]\nmake = []\n[machine]\ntravel = [\"400 mm\", \"400 mm\", \"15 mm\"]\nsafe_z = \"11 mm\"\n", "moves", 2},
		{"no travel over a sheet", "[slot]\nmake = false\n[machine]\ntravel = [\"400 mm\", \"400 mm\", \"13 mm\"]\nsafe_z = \"11 mm\"\n[sheet]\nthickness = \"12 mm\"\n", "travels only", 3},
		{"little travel over a sheet", "[slot]\nmake = false\n[machine]\ntravel = [\"400 mm\", \"400 mm\", \"20 mm\"]\nsafe_z = \"11 mm\"\n[sheet]\nthickness = \"12 mm\"\n", "travels only", 2},
		{"slot deeper than cutter and facet", "[slot]\ndepth = \"60 mm\"\nend_margin = \"30 mm\"\n", "reaches", 1},
		{"slot deeper than its start leaves web", "[slot]\ndepth = \"60 mm\"\nstart = \"30 mm\"\n", "reaches", 1},
		{"slot wider than the board is thick", "thickness = \"6 mm\"\n[slot]\nwidth = \"8 mm\"\nwall = \"4 mm\"\n[cutter]\ndiameter = \"8 mm\"\n", "wall", 3},
		{"walls thicker than the board", "thickness = \"9 mm\"\n[slot]\nwall = \"50 mm\"\n", "wall", 2},
		{"wide cutter in a thin board", "thickness = \"6 mm\"\n[slot]\nmake = true\n[cutter]\ndiameter = \"10 mm\"\n", "wall", 3},
		{"slot at the show face", "thickness = \"20 mm\"\n[slot]\nfrom_face = \"1 mm\"\nwidth = \"6 mm\"\n", "wall", 2},
		{"slot at the show face of a thin board", "thickness = \"7 mm\"\n[slot]\nfrom_face = \"1 mm\"\nwidth = \"6 mm\"\n", "wall", 4},
		{"hole to hang by", "hang_hole = \"38 mm\"\n", "hang_hole", 1},
		{"place to hang by", "hang_hole = \"5 mm\"\nhang_at = \"1 mm\"\n", "hang_at", 1},
		{"jig of a star that is not made", "[jigs]\nmake = [\"offcut-cradle\", \"tip-gauge\"]\n", "off-cuts", 1},
		{"jig larger than its sheet", "[jigs]\nmake = [\"glue-board\"]\n[sheet]\nwidth = \"60 mm\"\nheight = \"60 mm\"\n", "sheet", 5},
		{"short boards", "[stock]\nboards = [\"150 mm\"]\n", "long enough", 1},
		{"narrow boards", "[stock]\nboard_width = \"40 mm\"\nboards = [\"2 m\"]\n", "narrower", 1},
		{"boards too narrow to glue up", "[stock]\nboard_width = \"9 mm\"\nlaminate = true\nboards = [\"2 m\"]\n", "narrow", 2},
		{"wood with a slip", "[wood]\nspecies = \"western redceder\"\nmc_now = 9\nmc_service = 8\n", "no such species", 1},
		{"two woods with slips", "woods = [\"walnutt\", \"hard mapel\"]\n[wood]\nmc_now = 9\nmc_service = 8\n", "no such species", 1},
		{"two woods that nobody knows", "woods = [\"light\", \"dark\"]\n[wood]\nmc_now = 9\nmc_service = 8\n", "no such species", 1},
		{"two woods, a slip beside the nearest", "woods = [\"black walnut\", \"walnutt\"]\n[wood]\nmc_now = 9\nmc_service = 8\n", "no such species", 1},
		{"flat ramps in short slots", "[slot]\nstart = \"55 mm\"\nend_margin = \"1 mm\"\n[cutter]\nramp = \"1 deg\"\ndepth_per_pass = \"0.1 mm\"\n", "", 3},
		{"wide tabs", "[tabs]\nwidth = \"90 mm\"\n[slot]\nmake = false\n", "", 3},
		{"wide cutter for the jigs", "[slot]\nmake = false\n[cutter]\ndiameter = \"30 mm\"\n", "", 4},
		{"segments nearer than the cutter is wide", "[segments]\ncut = \"cnc\"\nspacing = \"3 mm\"\n", "spacing", 1},
		{"segments at the board's edge", "[segments]\ncut = \"cnc\"\nmargin = \"1 mm\"\n", "margin", 1},
		{"segments from narrow boards", "[segments]\ncut = \"cnc\"\nboard_width = \"100 mm\"\n", "board_width", 1},
		{"segments from boards of the rack that are as wide", "[segments]\ncut = \"cnc\"\n[stock]\nboard_width = \"100 mm\"\nboards = [\"2 m\"]\n", "piece of board", 1},
		{"segments from short pieces", "[segments]\ncut = \"cnc\"\nlongest = \"100 mm\"\n", "piece of board", 1},
		{"segments from short boards", "[segments]\ncut = \"cnc\"\nboard_length = \"100 mm\"\n", "piece of board", 1},
		{"segments from short boards of the yard", "[segments]\ncut = \"cnc\"\n[yard]\nboards = [\"150 mm\"]\n", "piece of board", 1},
		{"segments with a short cutter", "[segments]\ncut = \"cnc\"\n[cutter]\ncut_length = \"15 mm\"\n", "through the segments", 1},
		{"segments on a small machine", "[segments]\ncut = \"cnc\"\n[machine]\ntravel = [\"200 mm\", \"200 mm\", \"90 mm\"]\n[slot]\nmake = false\n[jigs]\nmake = []\n", "does not move so far", 1},
		{"segments from the CNC with off-cuts", "offcut_star = true\n[segments]\ncut = \"cnc\"\n", "off-cuts", 1},
		{"segments from a CNC that is not there", "[segments]\ncut = \"cnc\"\n[shop]\nhas = [\"mitre saw\"]\n", "no CNC", 1},
		{"cutter shorter than the sheet", "[slot]\nmake = false\n[cutter]\ncut_length = \"1 mm\"\n", "cut_length", 2},
	} {
		for _, unit := range []string{"mm", "in"} {
			t.Run(c.name+", "+unit, func(t *testing.T) {
				rest := c.job
				if strings.HasPrefix(rest, "[") || !strings.Contains(rest, "thickness") {
					rest = "thickness = \"19 mm\"\n" + rest
				}
				text := fmt.Sprintf("units = %q\n[star]\nboard_width = \"100 mm\"\n%s", unit, rest)
				errs := load1(text)
				if len(errs) == 0 {
					t.Fatalf("nothing is wrong with\n%s", text)
				}
				if !strings.Contains(errs[0].Error(), c.word) {
					t.Errorf("the first message lacks %q: %s", c.word, errs[0].Error())
				}
				var said []string
				for len(errs) > 0 {
					message := errs[0].Error()
					said = append(said, message)
					next, ok := follow(text, message)
					if !ok || next == text || zeroLength.MatchString(errs[0].Would) || len(said) > c.most {
						t.Fatalf("leads nowhere:\n%s\n%s", strings.Join(said, "\n"), text)
					}
					text, errs = next, load1(next)
				}
				t.Logf("%d: %s", len(said), strings.Join(said, "\n"))
			})
		}
	}
}

// What is only warned of has a value too where one does away with it: by hand, splines of
// 6.2 mm and 5 mm into the spoilboard take edges of 11.2 mm.
func TestWarningHasAValue(t *testing.T) {
	const source = "[star]\nboard_width = 100\n[jigs]\nmake = []\n[sheet]\nbreakthrough = \"5 mm\"\n[cutter]\ndiameter = \"6.35 mm\"\ncut_length = \"11 mm\"\n"
	const tabs = "[star]\nboard_width = 100\n[jigs]\nmake = []\n[tabs]\ncount = 40\nwidth = \"3 mm\"\n"
	w, errs := load("job.toml", []byte(tabs))
	if len(errs) > 0 || len(w.Warnings) != 1 || w.Warnings[0].Key != "tabs.count" {
		t.Fatalf("%v %+v", errs, w)
	}
	text, _ := follow(tabs, "job.toml:6: [tabs] count: "+w.Warnings[0].Why)
	if w, errs = load("job.toml", []byte(text)); len(errs) > 0 || len(w.Warnings) > 0 {
		t.Errorf("%v %+v\n%s", errs, w.Warnings, text)
	}
	if w, errs = load("job.toml", []byte(source)); len(errs) > 0 {
		t.Fatal(errs)
	}
	if len(w.Warnings) != 1 || w.Warnings[0].Key != "cutter.cut_length" || !strings.HasSuffix(w.Warnings[0].Why, `. Try: cut_length = "11.2 mm", of a longer cutter`) {
		t.Fatalf("%+v", w.Warnings)
	}
	text, _ = follow(source, "job.toml:9: [cutter] cut_length: "+w.Warnings[0].Why)
	if w, errs = load("job.toml", []byte(text)); len(errs) > 0 || len(w.Warnings) > 0 {
		t.Errorf("%v %+v\n%s", errs, w.Warnings, text)
	}
}

// One message gives the limit of boards, and one number, the same for whatever plans them.
func TestBoardsLimit(t *testing.T) {
	const star = "[star]\nboard_width = 100\n[jigs]\nmake = []\n[stock]\nboards = "
	for _, c := range []struct {
		name, boards string
		good         bool
	}{
		{"500 alike", `[{ length = "2 m", count = 500 }]`, true},
		{"500", "[" + strings.Repeat(`"2 m", `, 500) + "]", true},
		{"501", "[" + strings.Repeat(`"2 m", `, 501) + "]", false},
		{"300 and 201 alike", `[{ length = "2 m", count = 300 }, { length = "1 m", count = 201 }]`, false},
	} {
		_, errs := load("job.toml", []byte(star+c.boards+"\n"))
		switch {
		case c.good && len(errs) > 0:
			t.Errorf("%s: %v", c.name, errs)
		case !c.good && (len(errs) != 1 || !strings.Contains(errs[0].Error(), "there are 501 boards, and 500 are planned at once")):
			t.Errorf("%s: %v", c.name, errs)
		}
	}
}

// zeroLength is a length of nothing, which no message offers.
var zeroLength = regexp.MustCompile(`"0 (mm|in)"`)
