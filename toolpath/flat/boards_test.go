package flat_test

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/geom/problem"
	"starwright/toolpath/flat"
	"starwright/toolpath/nest"
)

// inLine is a kite of 70 mm by 60 mm. On a board of 80 mm, with 10 mm of margin and
// 5 mm between two, n of them lie in line and take 20 + 70n + 5(n-1) mm.
var inLine = geom.Polygon(geom.Pt(0, 0), geom.Pt(30, -30), geom.Pt(70, 0), geom.Pt(30, 30))

// TestLeastBoards holds the boards that are taken against every choice of them,
// counted by that sum.
func TestLeastBoards(t *testing.T) {
	o := flat.Options{Margin: 10, Spacing: 5, Cutter: 3, Kerf: 3, EndTrim: 5}
	r := rand.New(rand.NewPCG(5, 1))
	for n := range 60 {
		var boards []flat.Board
		var holds []int
		total := 0
		for range 1 + r.IntN(6) {
			b := flat.Board{Width: 80, Length: float64(200 + r.IntN(900))}
			clear := []float64{b.Length - 2*o.EndTrim}
			if r.IntN(2) == 0 {
				at := float64(50 + r.IntN(int(b.Length)-100))
				b.Bad = []flat.Span{{Start: at, End: at + 20}}
				clear = []float64{at - o.EndTrim, b.Length - o.EndTrim - at - 20}
			}
			count := 0
			for _, c := range clear {
				count += max(0, int((c-15)/75))
			}
			boards, holds, total = append(boards, b), append(holds, count), total+count
		}
		if total == 0 {
			continue
		}
		want := 1 + r.IntN(total)
		least := math.Inf(1)
		for mask := range 1 << len(boards) {
			length, count := 0.0, 0
			for i, b := range boards {
				if mask>>i&1 == 1 {
					length, count = length+b.Length, count+holds[i]
				}
			}
			if count >= want {
				least = min(least, length)
			}
		}
		got := lay(t, items(want, inLine), boards, o)
		if got.Missing[0] != 0 || got.Taken != least {
			t.Errorf("%d: %d missing, takes %g of %+v, the least is %g", n, got.Missing[0], got.Taken, boards, least)
		}
	}
}

// TestBoardsDoNotSuffice: one board of 400 mm holds five kites in line, or one of
// twice the size and three of them, as 20 + 140 + 3*75 = 385. More parts are better
// than larger ones.
func TestBoardsDoNotSuffice(t *testing.T) {
	o := flat.Options{Margin: 10, Spacing: 5, Cutter: 3}
	large := geom.Polygon(geom.Pt(0, 0), geom.Pt(60, -30), geom.Pt(140, 0), geom.Pt(60, 30))
	r := lay(t, items(5, large, inLine), []flat.Board{{Width: 80, Length: 400}}, o)
	if want := []int{0, 5}; !reflect.DeepEqual(r.Laid, want) {
		t.Errorf("laid %v, want %v", r.Laid, want)
	}
}

// TestPanelsAlike: 39 kites in line, 13 on each of three boards of 1000 mm, are
// three panels that one program cuts.
func TestPanelsAlike(t *testing.T) {
	r := lay(t, items(39, inLine), []flat.Board{{Width: 80, Length: 1000, Count: 3}}, flat.Options{Margin: 10, Spacing: 5, Cutter: 3})
	if len(r.Panels) != 3 {
		t.Fatalf("%d panels", len(r.Panels))
	}
	for _, p := range r.Panels {
		if p.Length != r.Panels[0].Length || len(p.Parts) != 13 {
			t.Errorf("board %d: %d parts on %g", p.Copy, len(p.Parts), p.Length)
		}
		for i, q := range p.Parts {
			if q.At != r.Panels[0].Parts[i].At {
				t.Errorf("board %d: part %d lies at %+v, on the first at %+v", p.Copy, i, q.At, r.Panels[0].Parts[i].At)
			}
		}
	}
}

func TestRefuses(t *testing.T) {
	board := []flat.Board{{Width: 100, Length: 1000}}
	tests := []struct {
		name   string
		boards []flat.Board
		edit   func(*flat.Options, []flat.Item)
		want   []string // words of the message
	}{
		{"board too narrow", []flat.Board{{Width: 79, Length: 900}}, nil, []string{"boards = the widest 79 mm", "60 mm wide", "a board 80 mm wide with 90 mm of clear wood, 110 mm long in all"}},
		{"board too short", []flat.Board{{Width: 100, Length: 100}}, nil, []string{"boards = the longest clear piece 80 mm", "90 mm of clear wood, 110 mm long"}},
		{"all knots", []flat.Board{{Width: 100, Length: 200, Bad: []flat.Span{{Start: 80, End: 120}}}}, nil, []string{"longest clear piece 70 mm"}},
		{"no board", nil, nil, []string{"no board", "80 mm wide"}},
		{"machine too short", board, func(o *flat.Options, _ []flat.Item) { o.BedX = 89 }, []string{"bed = 89 mm", "90 mm"}},
		{"machine too narrow", board, func(o *flat.Options, _ []flat.Item) { o.BedY = 79 }, []string{"bed = 79 mm", "80 mm"}},
		{"boards too wide for it", board, func(o *flat.Options, _ []flat.Item) { o.BedY = 90 }, []string{"no board that lies on the machine", "a board 80 mm wide"}},
		{"spacing", board, func(o *flat.Options, _ []flat.Item) { o.Spacing = 2 }, []string{"sheet.spacing = 2 mm"}},
		{"margin", board, func(o *flat.Options, _ []flat.Item) { o.Margin = 0 }, []string{"sheet.margin = 0 mm"}},
		{"kerf", board, func(o *flat.Options, _ []flat.Item) { o.Kerf = math.NaN() }, []string{"kerf"}},
		{"trim", board, func(o *flat.Options, _ []flat.Item) { o.EndTrim = -1 }, []string{"end trim = -1 mm"}},
		{"bed", board, func(o *flat.Options, _ []flat.Item) { o.BedX = math.Inf(1) }, []string{"bed"}},
		{"count", board, func(_ *flat.Options, list []flat.Item) { list[0].Count = -1 }, []string{"-1", "0 to 60000"}},
		{"outline", board, func(_ *flat.Options, list []flat.Item) { list[0].Part.Outline = nil }, []string{"segment 1", "no outline"}},
		{"bad place", []flat.Board{{Width: 100, Length: 900, Bad: []flat.Span{{Start: 880, End: 910}}}}, nil, []string{"880 mm to 910 mm", "within 0 to 900 mm"}},
		{"width", []flat.Board{{Length: 900}}, nil, []string{"not a board's width"}},
		{"length", []flat.Board{{Width: 100}}, nil, []string{"not a board's length"}},
		{"copies", []flat.Board{{Width: 100, Length: 900, Count: -2}}, nil, []string{"-2 boards"}},
		{"too many boards", []flat.Board{{Width: 100, Length: 900, Count: 501}}, nil, []string{"501", "500 at most"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			o := flat.Options{Margin: 10, Spacing: 5, Cutter: 3, EndTrim: 10}
			list := items(3, inLine)
			if tt.edit != nil {
				tt.edit(&o, list)
			}
			_, err := flat.Lay(t.Context(), list, tt.boards, o)
			if err == nil {
				t.Fatal("was not refused")
			}
			for _, w := range tt.want {
				if !strings.Contains(err.Error(), w) {
					t.Errorf("message %q lacks %q", err, w)
				}
			}
			var list2 problem.List
			var large *flat.TooLarge
			if !errors.As(err, &list2) && !errors.As(err, &large) {
				t.Errorf("%T is neither a list of problems nor a part that is too large", err)
			}
		})
	}
}

// TestAdviceWorks: the board that a refusal asks for takes the part.
func TestAdviceWorks(t *testing.T) {
	offered := regexp.MustCompile(`a board ([0-9.]+) mm wide with ([0-9.]+) mm of clear wood, ([0-9.]+) mm long in all`)
	rapid.Check(t, func(t *rapid.T) {
		o := flat.Options{Margin: rapid.Float64Range(4, 20).Draw(t, "margin"), Spacing: 5, Cutter: 3, EndTrim: rapid.Float64Range(0, 20).Draw(t, "trim")}
		side := rapid.Float64Range(0, 30).Draw(t, "zone")
		o.Zones = func(w, h float64) []geom.Box { return nest.CornerZones(w, h, side) }
		list := items(1, kite(rapid.Float64Range(30, 120).Draw(t, "width"), 72, 36))
		board := flat.Board{Width: rapid.Float64Range(30, 150).Draw(t, "board"), Length: rapid.Float64Range(60, 300).Draw(t, "long")}
		_, err := flat.Lay(t.Context(), list, []flat.Board{board}, o)
		if err == nil {
			return
		}
		m := offered.FindStringSubmatch(err.Error())
		if m == nil {
			t.Fatalf("no board in %q", err)
		}
		var mm [4]float64
		for i := 1; i < 4; i++ {
			mm[i], _ = strconv.ParseFloat(m[i], 64)
		}
		board = flat.Board{Width: mm[1], Length: mm[3]}
		if mm[3] < mm[2] {
			t.Fatalf("%q: longer than the board", err)
		}
		if _, err := flat.Lay(t.Context(), list, []flat.Board{board}, o); err != nil {
			t.Errorf("%s: then %v", m[0], err)
		}
	})
}

func TestStops(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	stop()
	if _, err := flat.Lay(ctx, items(3, inLine), []flat.Board{{Width: 100, Length: 1000}}, shop()); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

// TestEvenPanelsByTheRule cuts clear wood into two panels of one length, half of
// which would be no whole number of steps.
func TestEvenPanelsByTheRule(t *testing.T) {
	o := flat.Options{BedX: 300, EndTrim: 10, Kerf: 1, Step: 1, Margin: 3.25, Spacing: 15, Cutter: 3}
	o.Zones = func(w, h float64) []geom.Box { return nest.CornerZones(w, h, 1) }
	boards := []flat.Board{{Width: 110.40625, Length: 512.9, Count: 1}}
	r := lay(t, items(4, kite(58.875, 41.25, 39.5)), boards, o)
	if len(r.Panels) != 2 || r.Laid[0] != 4 {
		t.Fatalf("%d parts on %d panels: this board shows nothing", r.Laid[0], len(r.Panels))
	}
	for _, p := range r.Panels {
		if p.Start+p.Length < 502.5 && p.Length != math.Trunc(p.Length) {
			t.Errorf("%g long, and the wood goes on behind it", p.Length)
		}
	}
}
