package stock

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"starwright/geom/problem"
)

func plan(t testing.TB, j CutList) Plan {
	t.Helper()
	p, err := Make(j)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range faults(j, p) {
		t.Errorf("%s", f)
	}
	return p
}

// star5 asks for five blanks a star.
func star5(length float64) []Part { return []Part{{Name: "blank", Length: length, PerStar: 5}} }

func TestByHand(t *testing.T) {
	in := 25.4
	rows := []struct {
		name   string
		job    CutList
		pieces int
		rest   float64 // longest, mm
	}{
		// 1000 = 5*198 + 4*2.5: the last blank ends at the board's end, no cut.
		{"ends exactly at the board's end", CutList{Boards: []Board{{Length: 1000}}, Parts: star5(198), Kerf: 2.5}, 5, 0},
		// one micrometre less and only four fit
		{"a hair too short", CutList{Boards: []Board{{Length: 999.999, Count: 2}}, Parts: star5(198), Kerf: 2.5}, 5, 999.999 - 200.5},
		{"trims come off both ends", CutList{Boards: []Board{{Length: 1020}}, Parts: star5(198), Kerf: 2.5, EndTrim: 10}, 5, 0},
		// 62 in with a bad place from 18 to 21 in, blanks of 9 in, kerf 1/8: the
		// run of 18 holds one, for two need 18 1/8; the run of 41 holds four,
		// 4*9 + 3/8 = 36 3/8, and 4 1/2 less one more kerf is left.
		{"defect", CutList{Boards: []Board{{Length: 62 * in, Bad: []Span{{18 * in, 21 * in}}}}, Parts: star5(9 * in), Kerf: in / 8}, 5, (18 - 9 - 0.125) * in},
		// Sixteenths: 3 * 8 1/8 + 2 * 3/32 = 24 9/16 in.
		{"fractions of an inch", CutList{Boards: []Board{{Length: 24.5625 * in, Count: 2}}, Parts: []Part{{Length: 8.125 * in, PerStar: 6}}, Kerf: 3 * in / 32}, 6, 0},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			p := plan(t, r.job)
			if p.Pieces[0] != r.pieces || !p.Exact || math.Abs(p.LongestRest-r.rest) > 1e-5 {
				t.Errorf("%d pieces, rest %v, exact %v; want %d and %v", p.Pieces[0], p.LongestRest, p.Exact, r.pieces, r.rest)
			}
		})
	}
}

func TestStretchesOfABoard(t *testing.T) {
	j := CutList{Boards: []Board{{Length: 1000, Bad: []Span{{300, 340}, {700, 701}}}},
		Parts: []Part{{Length: 140, PerStar: 1}}, Kerf: 3, EndTrim: 10, Width: 100, Thickness: 20}
	p := plan(t, j)
	// By hand. Runs 10-300, 340-699 (the mark of 1 mm counts as 3) and 702-990.
	want := []Stretch{
		{Span{0, 7}, Trim, -1}, {Span{7, 10}, Kerf, -1}, {Span{10, 150}, Piece, 0}, {Span{150, 153}, Kerf, -1}, {Span{153, 293}, Piece, 0},
		{Span{293, 296}, Kerf, -1}, {Span{296, 300}, Rest, -1}, {Span{300, 337}, Bad, -1}, {Span{337, 340}, Kerf, -1},
		{Span{340, 480}, Piece, 0}, {Span{480, 483}, Kerf, -1}, {Span{483, 623}, Piece, 0}, {Span{623, 626}, Kerf, -1},
		{Span{626, 699}, Rest, -1}, {Span{699, 702}, Kerf, -1}, {Span{702, 842}, Piece, 0}, {Span{842, 845}, Kerf, -1},
		{Span{845, 985}, Piece, 0}, {Span{985, 988}, Kerf, -1}, {Span{988, 990}, Rest, -1}, {Span{990, 1000}, Trim, -1},
	}
	if d := cmp.Diff(want, p.Boards[0].Stretches); d != "" {
		t.Error(d)
	}
	if p.Stars != 6 || p.BadLength != 37 || p.KerfLength != 27 || p.TrimLength != 17 || p.RestLength != 79 || p.PiecesLength != 840 {
		t.Errorf("%+v", p)
	}
	if math.Abs(p.WastePercent-16) > 1e-9 || math.Abs(p.BoardFeet-1000*100*20/(144*25.4*25.4*25.4)) > 1e-9 {
		t.Errorf("waste %v %%, %v board feet", p.WastePercent, p.BoardFeet)
	}
}

func TestTakesTheBoardsThatWasteLeast(t *testing.T) {
	// Five blanks of 200 without kerf, by hand: 600 + 400 takes 1000; 1900
	// alone, or 700 + 600, take more.
	j := CutList{Boards: []Board{{Length: 1900}, {Length: 700}, {Length: 600}, {Length: 400}}, Parts: star5(200), Stars: 1}
	p := plan(t, j)
	if p.TakenLength != 1000 || p.Boards[0].Taken || p.Boards[1].Taken || p.WastePercent != 0 {
		t.Errorf("taken %v mm: %+v", p.TakenLength, p.Boards)
	}
	// Four blanks from three boards alike of 500: two boards, both full. Three
	// blanks: the rest of 300 stays in one piece.
	j = CutList{Boards: []Board{{Length: 500, Count: 3}}, Parts: []Part{{Length: 200, Extra: 3}}}
	if p := plan(t, j); p.TakenLength != 1000 || p.LongestRest != 300 || p.Extra[0] != 3 {
		t.Errorf("taken %v mm, rest %v", p.TakenLength, p.LongestRest)
	}
}

func TestNotEnoughWood(t *testing.T) {
	j := CutList{Boards: []Board{{Length: 1100, Count: 3}}, Parts: star5(200), Stars: 6, Kerf: 2}
	p := plan(t, j)
	if p.Stars != 3 || p.StarsBound != 3 || !p.Exact || p.Missing[0] != 15 {
		t.Errorf("%d stars, %d pieces missing", p.Stars, p.Missing[0])
	}
	j.Boards = []Board{{Length: 700}}
	if p := plan(t, j); p.Stars != 0 || p.Missing[0] != 30 || p.TakenLength != 0 || p.Boards[0].Taken {
		t.Errorf("no wood for one star: %+v", p)
	}
}

// smallJob draws a job whose boards hold few pieces, in whole millimetres.
func smallJob(t *rapid.T, parts int) CutList {
	j := CutList{Kerf: float64(2 * rapid.IntRange(0, 3).Draw(t, "half kerf")), EndTrim: float64(rapid.IntRange(0, 12).Draw(t, "trim")),
		Stars: rapid.IntRange(0, 3).Draw(t, "stars")}
	lengths := rapid.SliceOfNDistinct(rapid.IntRange(60, 140), parts, parts, rapid.ID[int]).Draw(t, "lengths")
	for i, l := range lengths {
		p := Part{Name: fmt.Sprint(i), Length: float64(l), PerStar: rapid.IntRange(0, 3).Draw(t, "per star")}
		if rapid.Bool().Draw(t, "has extra") || i == 0 && p.PerStar == 0 {
			p.Extra = rapid.IntRange(1, 3).Draw(t, "extra")
		}
		j.Parts = append(j.Parts, p)
	}
	for range rapid.IntRange(1, 4-parts/2).Draw(t, "boards") {
		b := Board{Length: float64(rapid.IntRange(165, 420-60*parts).Draw(t, "length"))}
		if rapid.Bool().Draw(t, "has a bad place") {
			a := rapid.IntRange(0, int(b.Length)-1).Draw(t, "bad from")
			e := rapid.IntRange(a+1, min(a+40, int(b.Length))).Draw(t, "bad to")
			b.Bad = []Span{{float64(a), float64(e)}}
		}
		j.Boards = append(j.Boards, b)
	}
	return j
}

func TestAgainstExhaustiveSearch(t *testing.T) {
	for parts := 1; parts <= 3; parts++ {
		t.Run(fmt.Sprintf("%d lengths", parts), func(t *testing.T) {
			tried, compared := 0, 0
			rapid.Check(t, func(t *rapid.T) {
				tried++
				j := smallJob(t, parts)
				p, err := Make(j)
				if err != nil {
					var ps problem.List
					if !errors.As(err, &ps) {
						t.Fatal(err)
					}
					return // no run holds a piece
				}
				compared++
				for _, f := range faults(j, p) {
					t.Errorf("%s", f)
				}
				want, got := exhaustive(j), scoreOf(p)
				kinds := 0
				for _, q := range j.Parts {
					if q.PerStar+q.Extra > 0 {
						kinds++
					}
				}
				if want.better(got, kinds == 1) || got.better(want, kinds == 1) {
					t.Errorf("plan %+v\nexhaustive %+v\njob %+v", got, want, j)
				}
				if !p.Exact || p.StarsBound != p.Stars || toNM(p.TakenBound) != toNM(p.TakenLength) {
					t.Errorf("small and not exact: %+v", p)
				}
			})
			if 5*compared < tried {
				t.Errorf("only %d of %d jobs were compared", compared, tried)
			}
		})
	}
}

// textbook is the example that introductions to the cutting-stock problem use:
// paper rolls of 5600 mm, 13 widths. Optimum 73 rolls; the widths add up to
// 407 160 mm, 72.7 rolls. Numbers and optimum from memory.
func textbook(rolls int) CutList {
	widths := []float64{1380, 1520, 1560, 1710, 1820, 1880, 1930, 2000, 2050, 2100, 2140, 2150, 2200}
	counts := []int{22, 25, 12, 14, 18, 18, 20, 10, 12, 14, 16, 18, 20}
	j := CutList{Boards: []Board{{Length: 5600, Count: rolls}}}
	for i, w := range widths {
		j.Parts = append(j.Parts, Part{Name: fmt.Sprint(w), Length: w, Extra: counts[i]})
	}
	return j
}

func TestTextbookCuttingStock(t *testing.T) {
	p := plan(t, textbook(100))
	for i, m := range p.Missing {
		if m != 0 {
			t.Errorf("width %s: %d missing", textbook(1).Parts[i].Name, m)
		}
	}
	if rolls := p.TakenLength / 5600; rolls != 73 || p.TakenBound != 73*5600 || !p.Exact {
		t.Errorf("%v rolls, bound %v, exact %v; the known optimum is 73", rolls, p.TakenBound/5600, p.Exact)
	}
}

// A shop's own size of job is solved to the end, in few steps: no clock, so that
// a busy machine does not fail it.
func TestTwentyBoardsWithDefectsAreExact(t *testing.T) {
	const mostSteps = 20_000
	for _, parts := range [][]Part{
		{{Name: "blank", Length: 235, PerStar: 5}},
		{{Name: "blank", Length: 235, PerStar: 5}, {Name: "strip", Length: 410, Extra: 12}},
	} {
		j := CutList{Parts: parts, Kerf: 2.4, EndTrim: 8}
		for i := range 20 {
			l := 1180 + float64(i*i*37%900)
			j.Boards = append(j.Boards, Board{Length: l, Bad: []Span{{l * 0.3, l*0.3 + float64(10+i)}, {l*0.7 + float64(i), l*0.7 + 30}}})
		}
		for _, stars := range []int{0, 7} {
			j.Stars = stars
			t.Run(fmt.Sprintf("%d lengths, %d stars", len(parts), stars), func(t *testing.T) {
				p := plan(t, j)
				if !p.Exact || p.Steps > mostSteps {
					t.Errorf("exact: %v, %d steps: %d of %d stars, %v of %v mm", p.Exact, p.Steps, p.Stars, p.StarsBound, p.TakenLength, p.TakenBound)
				}
			})
		}
	}
}

func TestSamePlanTwice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := smallJob(t, 2)
		a, errA := Make(j)
		b, errB := Make(j)
		if d := cmp.Diff(a, b); d != "" || (errA == nil) != (errB == nil) {
			t.Errorf("%s %v %v", d, errA, errB)
		}
	})
}

func TestBoundIsHonestWhenTheSearchStops(t *testing.T) {
	// With one step the search proves nothing by itself; what it then says must
	// still be true, which the full search shows.
	rapid.Check(t, func(t *rapid.T) {
		j := smallJob(t, 3)
		full, err := Make(j)
		if err != nil {
			return
		}
		j.Effort = 1
		p, err := Make(j)
		if err != nil {
			t.Fatal(err)
		}
		if p.StarsBound < full.Stars || p.Exact && p.Stars != full.Stars {
			t.Errorf("%d stars, bound %d, exact %v; there are %d", p.Stars, p.StarsBound, p.Exact, full.Stars)
		}
		same := p.Stars == full.Stars && cmp.Equal(p.Extra, full.Extra)
		if same && (toNM(p.TakenBound) > toNM(full.TakenLength) || p.Exact && toNM(p.TakenLength) != toNM(full.TakenLength)) {
			t.Errorf("taken %v, bound %v, exact %v; the least is %v", p.TakenLength, p.TakenBound, p.Exact, full.TakenLength)
		}
	})
}

func TestRefuses(t *testing.T) {
	good := func() CutList { return CutList{Boards: []Board{{Length: 1180}}, Parts: star5(235), Kerf: 2.4} }
	rows := []struct {
		name   string
		change func(*CutList)
		want   string
	}{
		{"no board long enough", func(j *CutList) { j.Boards[0].Length = 200; j.EndTrim = 8 },
			"boards = longest clear run 184 mm in board 1: no board is long enough for one blank of 235 mm. Try: boards = [\"252 mm\"], or longer ones"},
		{"defects leave none", func(j *CutList) {
			j.Boards[0].Bad = []Span{{200, 210}, {400, 410}, {600, 610}, {800, 810}, {1000, 1010}}
		}, "longest clear run 200 mm in board 1"},
		{"all trim", func(j *CutList) { j.EndTrim = 700 }, "longest clear run 0 mm: no board"},
		{"defect outside", func(j *CutList) { j.Boards[0].Bad = []Span{{1100, 1200}} }, "boards 1 = 1100 mm to 1200 mm: the bad place lies outside the board of 1180 mm"},
		{"defect before the board", func(j *CutList) { j.Boards[0].Bad = []Span{{-1, 20}} }, "lies outside"},
		{"defect backwards", func(j *CutList) { j.Boards[0].Bad = []Span{{300, 200}} }, "Try: 200 mm to 300 mm"},
		{"defect is no number", func(j *CutList) { j.Boards[0].Bad = []Span{{math.NaN(), 200}} }, "a bad place runs from"},
		{"no boards", func(j *CutList) { j.Boards = nil }, "boards = 0: no boards"},
		{"too many boards", func(j *CutList) { j.Boards[0].Count = 1 << 40 }, "more than are planned"},
		{"negative count", func(j *CutList) { j.Boards[0].Count = -1 }, "boards 1 = -1 boards"},
		{"board without length", func(j *CutList) { j.Boards[0].Length = 0 }, "boards 1 = 0 mm: not a board's length"},
		{"endless board", func(j *CutList) { j.Boards[0].Length = math.Inf(1) }, "not a board's length"},
		{"too many defects", func(j *CutList) { j.Boards[0].Bad = make([]Span, 65) }, "65 bad places"},
		{"no parts", func(j *CutList) { j.Parts = nil }, "parts = 0"},
		{"no pieces", func(j *CutList) { j.Parts[0].PerStar = 0 }, "there is nothing to cut"},
		{"part without length", func(j *CutList) { j.Parts[0].Length = 0 }, "parts 1 = 0 mm"},
		{"negative pieces", func(j *CutList) { j.Parts[0].Extra = -1 }, "no such number of pieces"},
		{"negative kerf", func(j *CutList) { j.Kerf = -1 }, "kerf = -1 mm"},
		{"negative stars", func(j *CutList) { j.Stars = -1 }, "stars = -1"},
		{"too many pieces", func(j *CutList) { j.Parts[0].Length = 5; j.Kerf = 0; j.Boards[0].Count = 200 }, "more pieces than are planned at once"},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			j := good()
			r.change(&j)
			_, err := Make(j)
			var ps problem.List
			if !errors.As(err, &ps) || !strings.Contains(err.Error(), r.want) {
				t.Errorf("got %v, want %q in it", err, r.want)
			}
		})
	}
}
