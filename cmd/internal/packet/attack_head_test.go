package packet

import (
	"slices"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/post/rs274/ncwrite"
)

// What people at the machine set up by is data: each word and figure at the
// head of a program that says another thing than the model is found, and one
// that says less is not.
func TestAttackedHead(t *testing.T) {
	g, text := turnedJob(t, attackJob)
	lines := strings.Split(string(text), "\n")
	line := func(begins string) int {
		i := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, "("+begins) })
		if i < 0 {
			t.Fatalf("no %q in\n%s", begins, text)
		}
		return i + 1
	}
	at := func(name, begins, from, to string) attack {
		return attack{name, swap(from, to), "words", line(begins)}
	}
	runAttacks(t, g, text, []attack{
		at("facet", "Cuts", "in the left facet", "in the right facet"),
		at("way up", "Left and right", "tip up", "tip down"),
		at("cutter", "Cutter", "6.35 mm, 18000", "8 mm, 18000"),
		at("cutter by its third decimal", "Cutter", "6.35 mm, 18000", "6.355 mm, 18000"),
		at("another cutter", "Cutter", "straight, 6.35", "tapered, 6.35"),
		at("speed", "Cutter", "18000 rev", "8000 rev"),
		at("unit", "Cutter", "6.35 mm, 18000", "6.35 in, 18000"),
		at("zero at the other face", "Zero", "Y0 the show face", "Y0 the back face"),
		at("zero at the other end", "Zero", "the star's centre end", "the valley end"),
		at("zero on the table", "Zero", "(the facet itself)", "(level with the fence)"),
		at("zeros exchanged", "Zero", "X0 the star's centre end of the facet, Y0 the show face", "Y0 the show face, X0 the star's centre end of the facet"),
		at("way of X", "X:", "X: grows", "X: falls"),
		at("hold", "Hold", "show face against the fence", "back against the fence"),
		at("room below", "Room", "130.9 mm", "120.9 mm"),
		at("slot's end", "Slot", "X73.065", "X83.065"),
		at("depth", "Depth", "Depth: 10 mm", "Depth: 12 mm"),
		at("passes", "Depth", "4 passes", "2 passes"),
		at("runs", "Run", "Run: 5 times", "Run: 10 times"),
		{"said twice", put(line("Depth"), "(Depth: 12 mm)"), "words", line("Depth")},
		{"said late", put(31, "(Zero: Y0 the back face)"), "words", 31},

		{name: "one statement left out", edit: instead(line("Zero"))},
		{name: "the end of one left out", edit: instead(line("Zero") + 1)},
		{name: "said shorter", edit: instead(line("Depth"), "(Depth: 10 mm)")},
		{name: "in other words", edit: swap("6.35 mm, 18000", "0.25 in, at 18000")},
		{name: "a statement of one's own", edit: put(line("Zero"), "(Clamp: the blue one, 40 mm, on the left)")},
		{name: "job's name", edit: swap("one star of", "two stars of")},
	})
}

// A statement that goes on over two lines is judged on the first of them too, where
// its last figure stands before the break.
func TestAttackedHeadOverTwoLines(t *testing.T) {
	g, text := turnedJob(t, mutationJobs[4].source)
	lines := strings.Split(string(text), "\n")
	i := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, "(Park") })
	if i < 0 || !strings.Contains(lines[i], "Y95,") || strings.Contains(lines[i], "the end)") {
		t.Fatalf("no statement over two lines in\n%s", text)
	}
	runAttacks(t, g, text, []attack{
		{"parked ten times as far", swap("as far as Y95", "as far as Y950"), "words", i + 1},
		{"parked a millimetre on", swap("as far as Y95", "as far as Y96"), "words", i + 1},
		{name: "said shorter", edit: swap("as far as Y95, at the stops", "as far as Y95, at all stops")},
	})
}

func TestAttackedSheetHead(t *testing.T) {
	w, errs := load("job.toml", []byte("[star]\nboard_width = \"70 mm\"\n[slot]\nmake = false\n[jigs]\nmake = [\"centre-gauge\"]\n"))
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	g := &w.Programs[0]
	text, err := ncwrite.Bytes(g.Plan, g.UnitMM)
	if err != nil {
		t.Fatal(err)
	}
	line := func(begins string) int {
		return 1 + slices.IndexFunc(strings.Split(string(text), "\n"), func(l string) bool { return strings.HasPrefix(l, "("+begins) })
	}
	at := func(begins, from, to string) attack {
		return attack{begins + " " + to, swap(from, to), "words", line(begins)}
	}
	runAttacks(t, g, text, []attack{
		at("Cuts", "Cuts: 1 part", "Cuts: 2 parts"),
		at("Sheet", "300 mm by 300 mm", "300 mm by 200 mm"),
		at("Sheet", "12 mm thick", "18 mm thick"),
		at("Zero", "lower left corner", "lower right corner"),
		at("Zero", "Z0 its top", "Z0 its underside"),
		at("Screws", "within 25 mm", "within 50 mm"),
		at("Depth", "12.3 mm in 5", "12 mm in 5"),
		at("Order", "holes, cut-outs, outlines", "outlines, holes, cut-outs"),
		at("Order", "cut conventional", "cut climb"),
		at("Tabs", "6 mm wide", "3 mm wide"),
	})
}

// Every statement that the model has something to say about stands at the head
// of a program that is in need of it, and says just that.
func TestHeadsSayAllOfIt(t *testing.T) {
	missing := map[string]string{"widened": "a slot as wide as the cutter", "stations": "one station", "loads": "one load", "screws": "no screw zones"}
	for _, j := range append(mutationJobs[1:7:7], mutationJobs[len(mutationJobs)-1]) {
		w, errs := load("job.toml", []byte(j.source))
		if len(errs) > 0 {
			t.Fatal(errs)
		}
		for i := range w.Programs {
			g := &w.Programs[i]
			text, err := ncwrite.Bytes(g.Plan, g.UnitMM)
			if err != nil {
				t.Fatal(err)
			}
			h := &header{}
			for k, l := range strings.Split(string(text), "\n") {
				if strings.HasPrefix(l, "(") {
					h.comment(k+1, strings.Trim(l, "()"))
				}
			}
			for _, s := range g.says {
				k := slices.IndexFunc(h.said, func(one statement) bool { return one.label == s.label })
				switch {
				case k < 0 && missing[s.label] == "":
					t.Errorf("%s, %s: no %q", j.name, g.Path, s.label)
				case k < 0:
				case s.holds(h.said[k], geom.Millimetre) != "":
					t.Errorf("%s, %s: %q: %s", j.name, g.Path, h.said[k].texts, s.holds(h.said[k], geom.Millimetre))
				default:
					if words, figures := takeApart(strings.Join(h.said[k].texts, " ")); len(words) < len(strings.Fields(s.terms)) || len(figures) < len(s.figures) {
						t.Errorf("%s, %s: %q says less than %+v", j.name, g.Path, h.said[k].texts, s)
					}
				}
			}
		}
	}
}
