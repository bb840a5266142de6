package benchwork

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"starwright/cmd/internal/job"
	"starwright/geom/problem"
)

func work(t *testing.T, source string) (*Work, problem.List) {
	t.Helper()
	j, b, errs := job.Load(job.Input{Job: job.File{Name: "job.toml", Data: []byte(source)}})
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	return New(j, b.Units[0], b.Cutter)
}

const base = "[star]\nboard_width = \"100 mm\"\ncount = 2\n"

func TestNothingAsked(t *testing.T) {
	w, ps := work(t, base)
	if len(ps) > 0 || w.Stock != nil || w.Wood != nil {
		t.Fatalf("%+v, %v", w, ps)
	}
	if len(w.Feeds) != 2 {
		t.Errorf("%d materials judged, want the slots' wood and the sheets", len(w.Feeds))
	}
	if w.Stock.Document() != nil || w.Wood.Document() != nil {
		t.Error("a document of nothing")
	}
}

// Ten blanks of 231 mm and five more to cut the first star again: five boards of
// 1180 mm give 5 each with kerfs of 2.4 mm (5 x 231 + 4 x 2.4 = 1164.6), so three
// are taken.
func TestStock(t *testing.T) {
	w, ps := work(t, base+"[stock]\nboards = [{ length = \"1180 mm\", count = 5 }]\n")
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	d := w.Stock.Document()
	if d.Stars != 2 || d.Blanks != 15 || !d.Exact || len(w.Stock.Taken()) != 3 || d.Taken != 3*1180 {
		t.Errorf("%+v", d)
	}
	sum := 0.0
	for _, b := range d.Boards {
		at := 0.0
		for _, s := range b.Stretches {
			if math.Abs(s.From-at) > 1e-6 {
				t.Errorf("board %d has a gap at %g", b.Board, at)
			}
			at = s.To
			if s.What == "blank" {
				sum += s.To - s.From
			}
		}
		if b.Taken && math.Abs(at-b.Length) > 1e-6 {
			t.Errorf("board %d ends at %g", b.Board, at)
		}
	}
	if math.Abs(sum-15*w.Stock.Blank) > 1e-3 {
		t.Errorf("blanks of %g mm in all", sum)
	}
	if _, err := json.Marshal(d); err != nil {
		t.Error(err)
	}
}

// A board of 1180 mm gives five blanks of 231 mm (5 x 231 + 4 x 2.4 = 1164.6), half
// of the ten that two stars take; one more board does. One of 500 mm gives two,
// no whole star, and four more like it give the other eight.
func TestTooFewBoards(t *testing.T) {
	for _, c := range []struct {
		boards, want, more string
	}{
		{"[\"1180 mm\"]", "the boards give 5 of the 10 blanks that 2 stars take: 1 whole star. Add 1 board of 1180 mm", ", \"1180 mm\""},
		{"[\"500 mm\"]", "the boards give 2 of the 10 blanks that 2 stars take: not one whole star. Add 4 boards of 500 mm", ", { length = \"500 mm\", count = 4 }"},
	} {
		w, ps := work(t, base+"[stock]\nboards = "+c.boards+"\n")
		if len(ps) > 0 || len(w.Warnings) != 1 || w.Warnings[0].Why != c.want {
			t.Errorf("%v %+v", ps, w.Warnings)
		}
		w, ps = work(t, base+"[stock]\nboards = "+strings.TrimSuffix(c.boards, "]")+c.more+"]\n")
		if len(ps) > 0 || len(w.Warnings) > 0 {
			t.Errorf("with what was to be added: %v %+v", ps, w.Warnings)
		}
	}
}

func TestProblems(t *testing.T) {
	for _, row := range []struct{ name, source, key, why, would string }{
		{"no board long enough", "[stock]\nboards = [\"200 mm\", \"180 mm\"]\n", "stock.boards", "no board is long enough for one blank", `boards = ["232 mm"]`},
		{"knots everywhere", "[stock]\nboards = [{ length = \"400 mm\", bad = [[\"150 mm\", \"250 mm\"]] }]\n", "stock.boards", "no board is long enough", `boards = ["232 mm"]`},
		{"unknown wood", "[wood]\nspecies = \"western redceder\"\nmc_now = 9\nmc_service = 8\n", "wood.species", "no such species", "western redcedar"},
	} {
		t.Run(row.name, func(t *testing.T) {
			w, ps := work(t, base+row.source)
			if w != nil || len(ps) == 0 {
				t.Fatalf("no problem: %+v", w)
			}
			p := ps[0]
			if p.Key != row.key || !strings.Contains(p.Why, row.why) || !strings.Contains(p.Would, row.would) {
				t.Errorf("%+v", p)
			}
		})
	}
}

// Wood Handbook FPL-GTR-190, Table 13-5: western redcedar, tangential,
// 0.00234 a percent: 100 mm lose 0.234 mm from 9 to 8 %.
func TestWood(t *testing.T) {
	w, ps := work(t, base+"[wood]\nspecies = \"Western Red Cedar\"\nmc_now = 9\nmc_service = 8\n")
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	d := w.Wood.Document()
	if math.Abs(d.WidthChange+0.234) > 1e-9 || d.At != "valley" || d.Species != "western redcedar" {
		t.Errorf("%+v", d)
	}
	if !d.Within && len(w.Warnings) == 0 || !d.Within && len(d.Helps) == 0 {
		t.Error("beyond the limit, and no warning")
	}
}

// Wood Handbook Table 4-2: at 70 F and 50 % humidity wood comes to 9.2 %, at 30 %
// to 6.2 %.
func TestHumidity(t *testing.T) {
	w, ps := work(t, base+"[wood]\nspecies = \"black cherry\"\nrh_now = 50\nrh_service = 30\n")
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	if math.Abs(w.Wood.FromMC-9.2) > 0.15 || math.Abs(w.Wood.ToMC-6.2) > 0.15 || !w.Wood.FromAir {
		t.Errorf("%g to %g %%", w.Wood.FromMC, w.Wood.ToMC)
	}
}

func TestMoistureMissing(t *testing.T) {
	w, ps := work(t, base+"[wood]\nspecies = \"black cherry\"\nmc_now = 9\n")
	if len(ps) > 0 || w.Wood != nil || len(w.Warnings) == 0 || w.Warnings[len(w.Warnings)-1].Key == "" {
		t.Errorf("%+v, %v", w, ps)
	}
}

func TestFeedWarningsAreMarked(t *testing.T) {
	w, ps := work(t, base+"[cutter]\nfeed = \"200 mm/min\"\nspindle_rpm = 24000\n")
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	said := 0
	for _, n := range w.Warnings {
		if strings.HasPrefix(n.Key, "cutter.") {
			said++
			if !strings.Contains(n.Why, "common practice") || !strings.HasSuffix(n.Why, ".") {
				t.Errorf("%+v", n)
			}
		}
	}
	if said == 0 {
		t.Error("a cutter that rubs is not warned of")
	}
}
