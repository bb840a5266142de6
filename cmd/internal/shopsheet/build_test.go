package shopsheet

import (
	"bytes"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"starwright/cmd/internal/benchwork"
	"starwright/cmd/internal/job"
	"starwright/geom/jig"
	"starwright/geom/route/choose"
	"starwright/geom/star"
	"starwright/post/print"
)

// jobs are what the pages have to hold: both units and papers, few and many
// points, narrow and wide boards, with and without slots and second stars.
var jobs = map[string]string{
	"built-in": string(job.BuiltIn()),
	"inches": `units = "in"
title = "porch stars"
[star]
board_width = "3 1/2 in"
thickness = "3/4 in"
count = 6
offcut_star = true
[slot]
depth = "3/8 in"
[cutter]
diameter = "1/4 in"
[stock]
boards = ["62 in", "62 in", { length = "96 in", bad = [["18 in", "21 in"]] }]
[wood]
species = "western redcedar"
mc_now = 12
mc_service = 8
`,
	"four points":  "[star]\npoints = 4\ntip = \"45 deg\"\nboard_width = \"1x6\"\noffcut_star = true\n",
	"six points":   "[star]\npoints = 6\nboard_width = \"90 mm\"\ncount = 3\noffcut_star = true\n",
	"seven, large": "[star]\npoints = 7\nstar_width = \"900 mm\"\n",
	"eight":        "[star]\npoints = 8\nboard_width = \"70 mm\"\n[print]\npaper = \"Letter\"\n",
	"twelve":       "[star]\npoints = 12\nboard_width = \"80 mm\"\n",
	"plain glued":  "[star]\nboard_width = \"60 mm\"\n[slot]\nmake = false\n",
	"small":        "[star]\nboard_width = \"30 mm\"\n",
	"glued up, inches": `units = "in"
[star]
board_width = "5 1/2 in"
thickness = "3/4 in"
count = 3
[stock]
laminate = true
board_width = "1x4"
boards = ["62 in", { length = "96 in", bad = [["18 in", "21 in"]] }, "72 in", "72 in"]
`,
	"glued up of four": "[star]\nboard_width = \"180 mm\"\ncount = 2\n[stock]\nlaminate = true\nboard_width = \"68 mm\"\n",
	"ripped":           "[star]\nboard_width = \"60 mm\"\n[stock]\nboard_width = \"135 mm\"\nboards = [\"1180 mm\"]\n",
	"long rack":        "[star]\nboard_width = \"100 mm\"\ncount = 40\n[stock]\nboards = [" + strings.Repeat("\"1180 mm\", \"1420 mm\", \"980 mm\", ", 12) + "]\n",
}

// input works a job out as the packet does.
func input(t *testing.T, source string) Input {
	t.Helper()
	j, b, errs := job.Load(job.Input{Job: job.File{Name: "job.toml", Data: []byte(source)}})
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	w, problems := benchwork.New(j, b.Units[0], b.Cutter)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	has := func(k job.Machine) bool { return j.Shop.With(k) }
	given := choose.Given{Order: b,
		Shop: choose.Shop{MitreSaw: has(job.MitreSaw), RouterTable: has(job.RouterTable), CNC: has(job.CNC), Laser: has(job.Laser), MaxMiter: j.Saw.MaxMiter},
		Jigs: jig.Params{Cutter: b.Cutter, MaxMiter: j.Saw.MaxMiter, MaxW: 1500, MaxH: 1500, Thickness: j.Sheet.Thickness},
		Path: func(u *star.Unit, hand string) string { return "gcode/" + u.File("slot-"+hand) + ".nc" },
		Strips: func(*star.Unit) *choose.Lamination {
			if w.Strips == nil {
				return nil
			}
			s := w.Strips
			return &choose.Lamination{Strips: s.PerBlank, Rip: s.StripWidth, Joint: s.Ask.Jointing, Glued: s.GluedWidth(),
				Raw: s.Ask.Length, Board: s.Ask.BoardWidth, Across: s.Across, Clamps: s.Clamps}
		}}
	r, problems := choose.New(given)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	corrector, problems := choose.NewCorrector(given)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	var shop []string
	for _, k := range j.Shop.Has {
		shop = append(shop, string(k))
	}
	title := j.Title
	if title == "" {
		title = "a job without a name"
	}
	return Input{Job: j, Order: b, Title: title, Bench: w, Jigs: r.Kit, Route: &r.Route, Shop: shop, Corrected: corrector.Facets,
		Programs: []File{{Path: "gcode/slot-left.nc", Use: "spline slot in the left facet", Brief: "left slot", Quantity: b.Units[0].Segments(), Minutes: 0.5}},
		Drawings: []File{{Path: "dxf/segment.dxf", Use: "one segment", Quantity: b.Units[0].Segments()}, {Path: "dxf/star.dxf", Use: "the whole star", Quantity: b.Units[0].Count()}}}
}

// pagesOf returns the pages of a job before they become a file.
func pagesOf(t *testing.T, in Input) *print.PDF {
	t.Helper()
	m, err := newMaker(in)
	if err != nil {
		t.Fatal(err)
	}
	m.pages()
	return m.doc
}

func TestPagesAreLegible(t *testing.T) {
	for name, source := range jobs {
		t.Run(name, func(t *testing.T) {
			in := input(t, source)
			doc := pagesOf(t, in)
			for _, f := range doc.Faults() {
				t.Error(f)
			}
			for i, words := range doc.Words() {
				for _, w := range words {
					if strings.Contains(w, "NaN") || strings.Contains(w, "no length") || strings.Contains(w, "%!") {
						t.Errorf("page %d: %q", i+1, w)
					}
				}
				if len(words) < 6 {
					t.Errorf("page %d is next to empty: %q", i+1, words)
				}
			}
		})
	}
}

// What the pages must say.
func TestPagesSayIt(t *testing.T) {
	in := input(t, jobs["inches"])
	in.Date = "2026-12-05"
	doc := pagesOf(t, in)
	if _, err := doc.Bytes(); err != nil { // sets the feet
		t.Fatal(err)
	}
	var all strings.Builder
	for i, words := range doc.Words() {
		page := strings.Join(words, "\n")
		for _, want := range []string{"porch stars", "Date: 2026-12-05", "page "} {
			if !strings.Contains(page, want) {
				t.Errorf("page %d lacks %q", i+1, want)
			}
		}
		all.WriteString(page + "\n")
	}
	for _, want := range []string{
		"14 13/16 in", // star of 3 1/2 in boards, worked by hand: 2 L sin 72
		"Before you switch on", "Cut list", "Stock plan", "Jigs to make first", "Blanks to length", "line of cut", "stop 8 1/8 in",
		"angle block 54°", "fence", "show face", "stays", "show face DOWN", "gcode/slot-left.nc", "glued first",
		"How the wood will move", "Feeds and speeds", "Finishing and checks", "leave out 18 in to 21 in", "What the gap asks for",
	} {
		if !strings.Contains(all.String(), want) {
			t.Errorf("no page says %q", want)
		}
	}
}

// Pages of an inch job speak of inches alone, and a length that lies on a line of
// the rule is printed as that fraction, not as 0.375 in on one page and 3/8 in on
// the next.
func TestPagesInInches(t *testing.T) {
	metric := regexp.MustCompile(`\bmm\b|\bcm\b|[mc]m[²³]|m/s|g/m²|(^|[^0-9/.] )0 in\b`)
	decimal := regexp.MustCompile(`(?:^|[^0-9.(])([0-9]*\.[0-9]+) in(?:[^²³a-z]|$)`)
	for _, name := range []string{"inches", "glued up, inches"} {
		for i, words := range pagesOf(t, input(t, jobs[name])).Words() {
			for _, w := range words {
				if metric.MatchString(w) {
					t.Errorf("%s, page %d: %q", name, i+1, w)
				}
				for _, m := range decimal.FindAllStringSubmatch(w, -1) {
					v, _ := strconv.ParseFloat(m[1], 64)
					if k := math.Round(v * 32); k > 0 && math.Abs(k/32-v) < 0.0004 {
						t.Errorf("%s, page %d: %s in for %g/32 in: %q", name, i+1, m[1], k, w)
					}
				}
			}
		}
	}
}

// What the pages of glued-up blanks must say. By hand: half of 5 1/2 in is 2 3/4
// in; with 1/32 in off both edges 2 13/16 in; 3 stars and one to cut again are 20
// blanks, 40 strips.
func TestPagesSayStrips(t *testing.T) {
	for name, want := range map[string][]string{
		"glued up, inches": {"Rip the boards", "rip 2 13/16 in", "40 strips", "clamp above", "clamp below", "Rip first, then cut to length"},
		"glued up of four": {"rip", "clamp above"},
		"ripped":           {"Rip the boards", "Rip first, then cut to length: each board gives 2 lengths"},
	} {
		t.Run(name, func(t *testing.T) {
			var all strings.Builder
			for _, words := range pagesOf(t, input(t, jobs[name])).Words() {
				all.WriteString(strings.Join(words, " ") + "\n")
			}
			for _, w := range want {
				if !strings.Contains(all.String(), w) {
					t.Errorf("no page says %q", w)
				}
			}
		})
	}
}

func TestTemplatesAreLegible(t *testing.T) {
	for name, source := range jobs {
		t.Run(name, func(t *testing.T) {
			m, err := newMaker(input(t, source))
			if err != nil {
				t.Fatal(err)
			}
			list := m.templates()
			if len(list) == 0 {
				t.Fatal("no templates")
			}
			for _, one := range list {
				if err := m.doc.Template(one); err != nil {
					t.Error(err)
				}
			}
			for _, f := range m.doc.Faults() {
				if !strings.Contains(f, "a line runs through") { // a seam may pass a word
					t.Error(f)
				}
			}
		})
	}
}

func TestSameBytes(t *testing.T) {
	for _, name := range []string{"built-in", "inches"} {
		t.Run(name, func(t *testing.T) {
			in := input(t, jobs[name])
			for what, build := range map[string]func(Input) ([]byte, error){
				"shop sheet": Build, "templates": Templates, "ticket": func(in Input) ([]byte, error) { return Ticket(in), nil },
			} {
				a, err := build(in)
				if err != nil {
					t.Fatal(err)
				}
				b, err := build(in)
				if err != nil {
					t.Fatal(err)
				}
				if !bytes.Equal(a, b) {
					t.Errorf("%s: two runs differ", what)
				}
			}
		})
	}
}

func TestUnknownPaper(t *testing.T) {
	in := input(t, jobs["plain glued"])
	in.Job.Print.Paper = "Legal"
	for name, build := range map[string]func(Input) ([]byte, error){"sheet": Build, "templates": Templates} {
		if _, err := build(in); err == nil || !strings.Contains(err.Error(), "Legal") || !strings.Contains(err.Error(), "A4 or Letter") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestTicket(t *testing.T) {
	for name, source := range jobs {
		t.Run(name, func(t *testing.T) {
			text := string(Ticket(input(t, source)))
			for _, want := range []string{"OPERATOR'S TICKET", "Contact: ____", "check bar", "never cut", "KERF", "TOLERANCES", "cut ", "Thickness as measured: ____", "[ ] dxf/segment.dxf"} {
				if !strings.Contains(strings.Join(strings.Fields(text), " "), want) {
					t.Errorf("the ticket lacks %q", want)
				}
			}
			for i, l := range strings.Split(text, "\n") {
				if n := utf8.RuneCountInString(l); n > ticketWide {
					t.Errorf("line %d has %d letters: %q", i+1, n, l)
				}
			}
		})
	}
}

func TestDate(t *testing.T) {
	for _, row := range []struct {
		name, date, epoch, want string
		bad                     bool
	}{
		{"neither", "", "", "", false},
		{"the job's", "2026-12-05", "", "2026-12-05", false},
		{"the job's goes first", "2026-12-05", "0", "2026-12-05", false},
		{"epoch", "", "86400", "1970-01-02", false},
		{"no number", "", "yesterday", "", true},
		{"before the epoch", "", "-5", "", true},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := Date(&job.Job{Date: row.date}, row.epoch)
			if got != row.want || (err != nil) != row.bad {
				t.Errorf("%q, %v", got, err)
			}
		})
	}
}

// In the two usual shops the built-in job takes 16 pages or fewer, to
// leaf through at the bench, and no set-up runs over onto a second page.
func TestSixteenPages(t *testing.T) {
	for name, has := range map[string]string{"saw and router table": "[shop]\nhas = [\"mitre saw\", \"router table\"]\n", "saw and cnc": "[shop]\nhas = [\"mitre saw\", \"cnc\"]\n"} {
		in := input(t, jobs["built-in"]+has)
		doc := pagesOf(t, in)
		if n := doc.Pages(); n > 16 {
			t.Errorf("%s: %d pages", name, n)
			for i, words := range doc.Words() {
				t.Logf("%d %s", i+1, words[0])
			}
		}
		for i, words := range doc.Words() {
			if strings.Contains(words[0], "(continued)") && !strings.Contains(words[0], "Jigs") && !strings.Contains(words[0], "Cut list") {
				t.Errorf("%s: page %d is %q", name, i+1, words[0])
			}
		}
	}
}

// Every number of a set-up stands on its page, as it is printed.
func TestReadingsStandOnTheirPage(t *testing.T) {
	for name, source := range jobs {
		in := input(t, source)
		doc := pagesOf(t, in)
		words := doc.Words()
		for _, s := range in.Route.Setups {
			if s.Page < 1 || s.Page > len(words) {
				t.Errorf("%s: %s has page %d", name, s.Name, s.Page)
				continue
			}
			page := strings.Join(strings.Fields(strings.Join(words[s.Page-1], " ")), " ")
			for _, r := range s.Readings {
				if !strings.Contains(page, r.Printed) {
					t.Errorf("%s: %s: %s %q is not on page %d", name, s.Name, r.Name, r.Printed, s.Page)
				}
			}
		}
	}
}

// bench.html has a screen for each page of set-ups, and one for safety.
func TestScreens(t *testing.T) {
	in := input(t, jobs["built-in"])
	data, err := Screens(in)
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(data), `<section class="screen"`); n != 1+len(groups(in.Route)) {
		t.Errorf("%d screens for %d pages of set-ups", n, len(groups(in.Route)))
	}
}
