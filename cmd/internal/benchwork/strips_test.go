package benchwork

import (
	"math"
	"strings"
	"testing"
)

const glued = base + "[stock]\nlaminate = true\nboard_width = \"68 mm\"\n"

// All by hand, for blanks of 231 by 100 by 19 mm out of boards of 68 mm: two
// strips of 50 mm and 0.8 mm off each of their edges, 51.6 mm, and a kerf of
// 2.4 mm leave 14 mm of a board. Two stars and one to cut again are 15 blanks, 30
// strips, 10 mm longer so that both ends of a glued board can be squared. One joint
// of 241 by 19 mm is 4579 mm². Clamps 50 mm from the ends are 141 mm apart, no
// third between them.
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
		{"strips of a blank", float64(d.PerBlank), 2}, {"blanks", float64(d.Blanks), 15}, {"strips", float64(d.Count), 30},
		{"rip", d.RipWidth, 51.6}, {"planed", d.Width, 50}, {"left", d.Offcut, 14}, {"from a board", float64(d.Across), 1},
		{"length", d.Length, 241}, {"joints", float64(len(d.JointsAt)), 1}, {"joint", d.JointsAt[0], 50},
		{"glue", d.Glue, 4579}, {"all glue", d.GlueAll, 68685}, {"clamps", float64(d.Clamps), 2},
		{"glue in g", w.Strips.GlueG(), 0.068685 * 200},
	} {
		if math.Abs(c.got-c.want) > 1e-6 {
			t.Errorf("%s: %g, want %g", c.name, c.got, c.want)
		}
	}
	if !d.CentreJoint || !strings.Contains(d.Statement, "centre line") {
		t.Errorf("%+v", d)
	}
}

// A board of 1180 mm gives four strips of 241 mm (4 x 241 + 3 x 2.4 = 971.2), so
// seven give 28, two short of what would be cut. Of 7 x 1180 x 68 mm, 28 x 241 x 50
// mm become boards: 39.9 % do not. 561 680 mm² of 19 mm are 4.52 board feet (2 359
// 737 mm³ each).
func TestStripsFromBoards(t *testing.T) {
	w, ps := work(t, glued+"boards = [{ length = \"1180 mm\", count = 7 }]\n")
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	d := w.Stock.Document()
	if d.Stars != 2 || d.Blanks != 14 || d.Strips != 28 || !d.Exact || len(w.Stock.Taken()) != 7 {
		t.Errorf("%+v", d)
	}
	if math.Abs(d.Waste-100*(1-337400.0/561680)) > 1e-6 || math.Abs(d.BoardFeet-561680*19/2359737.216) > 1e-6 {
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

// 21 strips make two stars of five blanks each, no blank more, and one strip over.
func TestStripsThatMakeNoBlank(t *testing.T) {
	w, ps := work(t, glued+"boards = [{ length = \"1180 mm\", count = 5 }, \"245 mm\"]\n")
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	d := w.Stock.Document()
	if d.Stars != 2 || d.Strips != 21 || d.Blanks != 10 || w.Stock.Spare != 0 {
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
		{"too narrow for strips", base + "[stock]\nlaminate = true\nboard_width = \"9 mm\"\n", "stock.board_width", "too narrow to make 100 mm", `board_width = "51.6 mm"`},
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

// A stock plan cuts 6,000 pieces at most: 1,199 stars of five points and one to cut
// again are just so many, 5 x 1200, and 1,200 stars are five more.
func TestMostPieces(t *testing.T) {
	const rack = "[star]\nboard_width = 100\ncount = %d\n[stock]\nboards = [{ length = \"20 m\", count = 200 }]\n"
	_, ps := work(t, strings.Replace(rack, "%d", "1200", 1))
	if len(ps) != 1 || ps[0].Key != "star.count" || ps[0].Would != "count = 1199, or a rack of fewer boards" {
		t.Fatal(ps)
	}
	if _, ps = work(t, strings.Replace(rack, "%d", "1199", 1)); len(ps) > 0 {
		t.Error(ps)
	}
}
