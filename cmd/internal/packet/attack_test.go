package packet

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"starwright/post/rs274/ncwrite"
	"starwright/toolpath/finding"
)

// attackJob is the slot program that the attacks change: of 42 lines, its head
// up to line 13, the spindle started in line 22, down to the wood in line 26,
// four passes of two cuts each, up in line 40 and 41.
const attackJob = "units = \"mm\"\n[star]\nboard_width = \"100 mm\"\ncount = 1\n[jigs]\nmake = []\n[machine]\npark = \"up\"\n" +
	"[cutter]\ndepth_per_pass = \"3 mm\"\nfeed = \"1200 mm/min\"\nplunge_feed = \"300 mm/min\"\nspindle_rpm = 18000\n"

// attackHead are the lines of its head that the attacks count with.
const attackHead = 12

// attackedSlot gives the program, its head cut to those lines: the attacks
// leave what follows them alone.
func attackedSlot(t *testing.T) (*Program, []byte) {
	t.Helper()
	g, _ := turnedJob(t, attackJob)
	g.Plan.Header = g.Plan.Header[:attackHead]
	text, err := ncwrite.Bytes(g.Plan, g.UnitMM)
	if err != nil {
		t.Fatal(err)
	}
	return g, text
}

// attack is a change to a program by hand.
type attack struct {
	name string
	edit func(lines []string) []string
	rule string // that finds it; empty where it is harmless and passes
	line int    // that is named first
}

// put returns what puts lines before line n, and instead what replaces it.
func put(n int, lines ...string) func([]string) []string {
	return func(s []string) []string { return slices.Insert(slices.Clone(s), n-1, lines...) }
}

func instead(n int, lines ...string) func([]string) []string {
	return func(s []string) []string { return slices.Replace(slices.Clone(s), n-1, n, lines...) }
}

// swap returns what replaces words wherever they stand.
func swap(pairs ...string) func([]string) []string {
	return func(s []string) []string {
		return strings.Split(strings.NewReplacer(pairs...).Replace(strings.Join(s, "\n")), "\n")
	}
}

// runAttacks makes each change to a program and looks at what check says.
func runAttacks(t *testing.T, g *Program, text []byte, attacks []attack) {
	t.Helper()
	lines := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
	for _, a := range attacks {
		t.Run(a.name, func(t *testing.T) {
			edited := strings.Join(a.edit(lines), "\n") + "\n"
			if edited == string(text) {
				t.Fatal("the change changes nothing")
			}
			p := proveEdited(g, text, []byte(edited))
			if a.rule == "" {
				if !p.OK() {
					t.Errorf("harmless, and refused: %s", firstFault(p))
				}
				return
			}
			if !slices.ContainsFunc(p.Findings, func(f finding.Finding) bool { return f.Rule == a.rule }) {
				t.Fatalf("no %s: %v", a.rule, p.Findings)
			}
			if p.Findings[0].Line != a.line {
				t.Errorf("line %d is named first, not %d: %s", p.Findings[0].Line, a.line, p.Findings[0])
			}
		})
	}
}

// What an attacker of the proof found to pass that is harmful, and to fail that
// is harmless, in a slot program.
func TestAttackedSlot(t *testing.T) {
	g, text := attackedSlot(t)
	if lines := strings.Split(string(text), "\n"); lines[40] != "M5" && lines[40] != "G0 Z10.0" {
		t.Fatalf("another program than the attacks are made for:\n%s", text)
	}
	runAttacks(t, g, text, []attack{
		{"feeds away from the facet at the height of approach", put(40, "G1 X-60.0 Y-60.0"), "off-work", 40},
		{"feeds over the facet below the height of approach", put(40, "G1 Z0.01", "G1 Y5.0"), "feed-low-over", 41},
		{"comes down beside the slot", put(26, "G0 Y13.0"), "gouge", 26},
		{"text after M2 that moves", put(43, "G0 X0.0"), "std-after-end", 43},
		{"text after M2 that sets", put(43, "G91"), "std-after-end", 43},
		{"a second program after M2", func(s []string) []string { return append(slices.Clone(s), s...) }, "std-after-end", 56},
		{"waits an hour in the cut", put(31, "G4 P3600.0"), "dwell-in-wood", 31},
		{"waits a second in the cut", put(31, "G4 P1.0"), "dwell-in-wood", 31},
		{"goes 500 mm aside", put(41, "G0 Z10.0", "G0 X-500.0"), "far", 42},
		{"goes 500 mm up", put(41, "G0 Z500.0"), "far", 41},
		{"G94 after the feed", put(30, "G94"), "sub-feed-forgotten", 30},
		{"lines that end with CR alone", func(s []string) []string { return []string{strings.Join(s, "\r")} }, "sub-line-end", 1},
		{"all feeds just above a tenth", swap("F1200.0", "F130.0", "F300.0", "F35.0"), "feed-low", 28},
		{"the feed of sinking for all", swap(" F1200.0", ""), "feed-low", 28},
		{"spindle stopped and started in the wood", put(31, "M5", "M3", "G4 P3.0"), "spindle-in-wood", 31},
		{"spindle turned round in the wood", put(31, "M4"), "sub-reverse", 31},
		{"stops in the wood", put(31, "M5", "M0", "M3", "G4 P3.0"), "stop-low", 31},

		{name: "semicolon comment", edit: put(31, "; so it goes on")},
		{name: "semicolon comment at the end of a line", edit: instead(31, "G1 X69.89 Z-5.0 ; pass (2")},
		{name: "line numbers of six digits", edit: swap("\nG", "\nN100010 G", "\nM", "\nN100020 M")},
		{name: "lines of %", edit: func(s []string) []string { return append(append([]string{"%"}, s...), "%") }},
		{name: "G91.1", edit: put(21, "G91.1")},
		{name: "G92.1 with nothing set", edit: put(21, "G92.1")},
		{name: "G17 again", edit: put(31, "G17")},
		{name: "G18 and G17", edit: put(21, "G18", "G17")},
		{name: "a comment too long", edit: put(31, "("+strings.Repeat("x", 300)+")")},
		{name: "waits above the wood", edit: put(25, "G4 P1.0")},
		{name: "rises higher", edit: put(41, "G0 Z20.0")},
		{name: "an air cut over the facet first", edit: put(26, "G1 X40.0 F1200.0", "G1 X22.043")},
	})
}

// The same between stations, and over a sheet.
func TestAttackedStations(t *testing.T) {
	g, text := turnedJob(t, mutationJobs[4].source)
	at := lift(text, 2)
	runAttacks(t, g, text, []attack{
		{"to the next station at the height of approach", put(at, "G1 Y60.0"), "off-work", at},
		{"low from beside into the slot", func(s []string) []string {
			return instead(1+slices.Index(s, "G1 Z0.0 F300.0"), "G1 X0.0 F300.0")(s)
		}, "feed-low-over", 1 + slices.Index(strings.Split(string(text), "\n"), "G1 Z0.0 F300.0")},
		{"the stop between loads left out", func(s []string) []string {
			i := slices.Index(s, "M0")
			return slices.Delete(slices.Clone(s), i, i+1)
		}, "loads", 1 + slices.Index(strings.Split(string(text), "\n"), "M0")},

		{name: "stations in another order", edit: func(s []string) []string { // all they differ in is where they are in Y
			a, b := 1+slices.Index(s, "(station 1 of 2)"), 1+slices.Index(s, "(station 2 of 2)")
			x, y1, _ := strings.Cut(s[a], " Y")
			_, y2, _ := strings.Cut(s[b], " Y")
			return instead(b+1, "G0 Y"+y1)(instead(a+1, x+" Y"+y2)(s))
		}},
	})
}

// lift returns the line of the n-th rapid to the safe height, counted from 1.
func lift(text []byte, n int) int {
	for i, l := range strings.Split(string(text), "\n") {
		if l == "G0 Z10.0" {
			if n--; n == 0 {
				return i + 1
			}
		}
	}
	return 0
}

// attackPlate gives the program of a plate, its lower left corner at X40 Y35,
// in a sheet of 150 by 120 mm with a screw zone of 25 mm in its corner.
func attackPlate(t *testing.T) (*Program, []byte) {
	t.Helper()
	w, errs := load("job.toml", []byte(attackJob))
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	g := mutationPlate(t, w)
	text, err := ncwrite.Bytes(g.Plan, g.UnitMM)
	if err != nil {
		t.Fatal(err)
	}
	return &g, text
}

// circle cuts a circle through the sheet of the plate, as its own holes are cut.
func circle(way string, x, y, r float64) []string {
	out := []string{fmt.Sprintf("G0 X%.3f Y%.3f", x-r, y), "G0 Z1.0", "G1 Z0.0 F300.0"}
	for _, z := range []float64{-2.325, -4.65, -6.975, -9.3, -9.3} {
		out = append(out, fmt.Sprintf("%s X%.3f Y%.3f Z%.3f I%.3f J0.0 F1200.0", way, x-r, y, z, r))
	}
	return append(out, "G1 Z1.0", "G0 Z10.0")
}

// outlineFirst puts the outline before everything that is cut within it.
func outlineFirst(s []string) []string {
	from := slices.IndexFunc(s, func(l string) bool { return strings.HasPrefix(l, "(hole") })
	to := slices.IndexFunc(s, func(l string) bool { return strings.HasPrefix(l, "(the outline") })
	end := slices.Index(s, "M5")
	return slices.Concat(s[:from], s[to:end], s[from:to], s[end:])
}

// onceWith returns what changes a word in the first line that begins with it.
func onceWith(word, by string) func([]string) []string {
	return func(s []string) []string {
		i := slices.IndexFunc(s, func(l string) bool { return strings.HasPrefix(l, word) })
		return instead(i+1, by+strings.TrimPrefix(s[i], word))(s)
	}
}

func TestAttackedSheet(t *testing.T) {
	g, text := attackPlate(t)
	at := lift(text, 2)
	runAttacks(t, g, text, []attack{
		{"feeds over a screw", put(at, "G1 X20.0 Y20.0", "G1 Z0.01"), "low-over-screw", at},
		{"comes down on a screw", put(at+1, "G0 X10.0 Y10.0", "G0 Z1.0", "G0 Z10.0"), "low-over-screw", at + 2},
		{"feeds off the sheet", put(at, "G1 X60.0 Y-20.0"), "off-work", at},
		{"feeds over the plate below the height of approach", put(at, "G1 Z0.5", "G1 X60.0 Y50.0"), "feed-low-over", at + 1},
		{"skims the sheet far from the plate", put(at+1, "G0 X140.0 Y110.0", "G0 Z1.0", "G1 Z0.01", "G1 Y100.0", "G1 Z1.0", "G0 Z10.0"), "off-way", at + 3},
		{"goes 500 mm aside", put(at+1, "G0 Y500.0"), "far", at + 1},
		{"frees a disc", put(at+1, circle("G2", 120.5, 60, 5)...), "loose", at + 8},
		{"severs the sheet", put(at+1, "G0 X118.0 Y-3.0", "G0 Z1.0", "G1 Z0.0 F300.0", "G1 Y123.0 Z-9.3 F1200.0", "G1 Y-3.0", "G1 Z1.0", "G0 Z10.0"), "severed", at + 3},
		{"outline first", outlineFirst, "order", 76},
		{"one turn of a helix the other way round", onceWith("G2 ", "G3 "), "side-of-cut", 15},

		{"steps instead of places", put(at+2, "G91"), "sub-incremental", at + 2},

		{name: "like holes in another order", edit: func(s []string) []string {
			at := func(what string) int { return slices.Index(s, "("+what+" of plate)") }
			one, two, three, end := at("hole 1"), at("hole 2"), at("hole 3"), at("cut-out 4")
			return slices.Concat(s[:one], s[three:end], s[two:three], s[one:two], s[end:])
		}},
		{name: "feeds over plate and sheet at the height of approach", edit: put(at, "G1 X60.0 Y50.0", "G1 X140.0 Y110.0")},
	})
}

// Of a cut that does not go deep enough the finding says so, with its line; tabs are
// still the tabs.
func TestShortOfDepthIsSaid(t *testing.T) {
	g, text := attackPlate(t)
	lines := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
	for name, edit := range map[string]func([]string) []string{
		"all of it 0.011 mm":    swap("Z-9.3", "Z-9.289"),
		"one side of it 0.1 mm": instead(1+slices.Index(lines, "G1 X63.71 Z-9.3"), "G1 X63.71 Z-9.2"),
	} {
		t.Run(name, func(t *testing.T) {
			p := &Proof{Path: g.Path, Text: []byte(strings.Join(edit(lines), "\n") + "\n")}
			proveProgram(p, g)
			short := 0
			for _, f := range p.Findings {
				switch {
				case f.Line == 0 || f.Rule == "tab-count":
					t.Errorf("%s", f)
				case f.Rule == "standing" && strings.Contains(f.What, "short of its depth") && f.ByMM < 0.15:
					short++
				}
			}
			if short == 0 {
				t.Errorf("nothing is short of its depth: %v", p.Findings)
			}
		})
	}
}
