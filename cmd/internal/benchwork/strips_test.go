package benchwork

import (
	"math"
	"strings"
	"testing"
)

const glued = base + "[stock]\nlaminate = true\nboard_width = \"68 mm\"\n"

// All by hand, for blanks of 231 by 100 by 19 mm out of boards of 68 mm: two
// strips of 50 mm and 0.8 mm off each of their edges, 51.6 mm, and a kerf of
// 2.4 mm leave 14 mm of a board. Two stars and two blanks to try are 12 blanks,
// 24 strips. One joint of 231 by 19 mm is 4389 mm². Clamps 50 mm from the ends
// are 131 mm apart, no third between them.
func TestStrips(t *testing.T) {
	w, ps := work(t, glued)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	if !w.Strips.Glued() || w.Stock != nil {
		t.Fatalf("%+v", w)
	}
	d := w.Strips.Document()
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"strips of a blank", float64(d.PerBlank), 2}, {"blanks", float64(d.Blanks), 12}, {"strips", float64(d.Count), 24},
		{"rip", d.RipWidth, 51.6}, {"planed", d.Width, 50}, {"left", d.Offcut, 14}, {"from a board", float64(d.Across), 1},
		{"length", d.Length, 231}, {"joints", float64(len(d.JointsAt)), 1}, {"joint", d.JointsAt[0], 50},
		{"glue", d.Glue, 4389}, {"all glue", d.GlueAll, 52668}, {"clamps", float64(d.Clamps), 2},
		{"glue in g", w.Strips.GlueG(), 0.052668 * 200},
	} {
		if math.Abs(c.got-c.want) > 1e-6 {
			t.Errorf("%s: %g, want %g", c.name, c.got, c.want)
		}
	}
	if !d.CentreJoint || !strings.Contains(d.Statement, "centre line") {
		t.Errorf("%+v", d)
	}
}

// A board of 1180 mm gives five strips of 231 mm (5 x 231 + 4 x 2.4 = 1164.6), so
// 24 take five boards. Of 5 x 1180 x 68 mm, 24 x 231 x 50 mm become blanks: 30.9 %
// do not. 401 200 mm² of 19 mm are 3.23 board feet (2 359 737 mm³ each).
func TestStripsFromBoards(t *testing.T) {
	w, ps := work(t, glued+"boards = [{ length = \"1180 mm\", count = 7 }]\n")
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	d := w.Stock.Document()
	if d.Stars != 2 || d.Blanks != 12 || d.Strips != 24 || !d.Exact || len(w.Stock.Taken()) != 5 {
		t.Errorf("%+v", d)
	}
	if math.Abs(d.Waste-100*(1-277200.0/401200)) > 1e-6 || math.Abs(d.BoardFeet-401200*19/2359737.216) > 1e-6 {
		t.Errorf("waste %g %%, %g board feet", d.Waste, d.BoardFeet)
	}
	for _, b := range d.Boards[:5] {
		for _, s := range b.Stretches {
			if s.What == "blank" {
				t.Errorf("board %d gives a whole blank", b.Board)
			}
		}
	}
}

// 23 strips make two stars of ten blanks each, one blank to try, and one strip
// over.
func TestStripsThatMakeNoBlank(t *testing.T) {
	w, ps := work(t, glued+"boards = [{ length = \"1180 mm\", count = 4 }, \"700 mm\"]\n")
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	d := w.Stock.Document()
	if d.Stars != 2 || d.Strips != 23 || d.Blanks != 11 || w.Stock.Spare != 1 {
		t.Errorf("%+v, %d to spare", d, w.Stock.Spare)
	}
}

// A 1x4 is 3 1/2 in by 3/4 in and counted as 4 in by 1 in (PS 20): 96 in of it are
// 2 2/3 board feet.
func TestStripsOfNominalBoards(t *testing.T) {
	w, ps := work(t, "units = \"in\"\n[star]\nboard_width = \"5 1/2 in\"\n[stock]\nlaminate = true\nboard_width = \"1x4\"\nboards = [\"96 in\", \"96 in\"]\n")
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	d := w.Stock.Document()
	if math.Abs(d.BoardFeet-float64(len(w.Stock.Taken()))*96*4/144) > 1e-9 || d.Stars != 1 {
		t.Errorf("%+v", d)
	}
}

// Two lengths of 60 mm lie side by side in 135 mm: 60 + 2.4 + 60 + 2.4 leave 10.2.
func TestBoardsToRip(t *testing.T) {
	w, ps := work(t, "[star]\nboard_width = \"60 mm\"\n[stock]\nboard_width = \"135 mm\"\nboards = [\"1180 mm\"]\n")
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	d := w.Strips.Document()
	if w.Strips.Glued() || d.Across != 2 || math.Abs(d.Offcut-10.2) > 1e-6 || len(w.Stock.Plan.Boards) != 2 {
		t.Errorf("%+v, %d lengths", d, len(w.Stock.Plan.Boards))
	}
}

func TestStripsRefused(t *testing.T) {
	for _, c := range []struct{ name, source, key, why, would string }{
		{"narrow, not laminated", base + "[stock]\nboard_width = \"68 mm\"\n", "stock.board_width", "narrower than the star's, 100 mm", "laminate = true"},
		{"too narrow for strips", base + "[stock]\nlaminate = true\nboard_width = \"9 mm\"\n", "stock.board_width", "too narrow to make 100 mm", `board_width = "52 mm"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, ps := work(t, c.source)
			if len(ps) != 1 || ps[0].Key != c.key || !strings.Contains(ps[0].Why, c.why) || !strings.Contains(ps[0].Would, c.would) {
				t.Errorf("%+v", ps)
			}
		})
	}
}

func TestLaminateForNothing(t *testing.T) {
	w, ps := work(t, base+"[stock]\nlaminate = true\nboard_width = \"100 mm\"\n")
	if len(ps) > 0 || w.Strips.Glued() || w.Warnings[0].Key != "stock.laminate" {
		t.Errorf("%+v, %v", w, ps)
	}
}
