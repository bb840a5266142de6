package stock

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom/problem"
)

func TestStripsByHand(t *testing.T) {
	// All by hand. Clamps: 50 mm from the ends, every 200 mm (common practice).
	base := Lamination{Width: 180, Length: 400, Thickness: 19, BoardWidth: 100, RipKerf: 3, Jointing: 0.5}
	rows := []struct {
		name   string
		change func(*Lamination)
		want   Strips
	}{
		{"two strips, one from a board", func(*Lamination) {},
			Strips{PerBlank: 2, StripWidth: 91, Planed: 90, Across: 1, Offcut: 6, Joints: 1, CentreJoint: true, GlueMM2: 7600, Clamps: 3}},
		{"a board just too narrow", func(l *Lamination) { l.Width = 95; l.BoardWidth = 94 },
			Strips{PerBlank: 2, StripWidth: 48.5, Planed: 47.5, Across: 1, Offcut: 42.5, Joints: 1, CentreJoint: true, GlueMM2: 7600, Clamps: 3}},
		{"three would do, four are even", func(l *Lamination) { l.Width = 270 },
			Strips{PerBlank: 4, StripWidth: 68.5, Planed: 67.5, Across: 1, Offcut: 28.5, Joints: 3, CentreJoint: true, GlueMM2: 22800, Clamps: 3}},
		{"three where odd is allowed", func(l *Lamination) { l.Width = 270; l.AllowOdd = true },
			Strips{PerBlank: 3, StripWidth: 91, Planed: 90, Across: 1, Offcut: 6, Joints: 2, GlueMM2: 15200, Clamps: 3}},
		{"wide enough", func(l *Lamination) { l.BoardWidth = 363 },
			Strips{PerBlank: 1, StripWidth: 180, Planed: 180, Across: 2}}, // 180 + 3 + 180, the last ends at the edge
		{"two woods, wide enough for one", func(l *Lamination) { l.BoardWidth = 187; l.TwoWoods = true },
			Strips{PerBlank: 2, StripWidth: 91, Planed: 90, Across: 2, Joints: 1, CentreJoint: true, GlueMM2: 7600, Clamps: 3}},
		{"two woods are never odd", func(l *Lamination) { l.Width = 270; l.AllowOdd = true; l.TwoWoods = true },
			Strips{PerBlank: 4, StripWidth: 68.5, Planed: 67.5, Across: 1, Offcut: 28.5, Joints: 3, CentreJoint: true, GlueMM2: 22800, Clamps: 3}},
		{"short glue-up", func(l *Lamination) { l.Length = 90 },
			Strips{PerBlank: 2, StripWidth: 91, Planed: 90, Across: 1, Offcut: 6, Joints: 1, CentreJoint: true, GlueMM2: 1710, Clamps: 2}},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			l := base
			r.change(&l)
			got, err := l.Strips()
			if err != nil {
				t.Fatal(err)
			}
			statement := got.Statement
			got.Statement = ""
			got.Offcut = math.Round(got.Offcut*1e6) / 1e6
			if got != r.want {
				t.Errorf("got  %+v\nwant %+v", got, r.want)
			}
			if got.PerBlank > 1 && got.CentreJoint != strings.Contains(statement, "joint lies on the centre line") {
				t.Errorf("statement %q", statement)
			}
		})
	}
}

// By hand: 50 mm from the ends, the rest shared evenly and no further apart than
// 200 mm; a short glue-up has them at its quarters.
func TestClampsAt(t *testing.T) {
	rows := []struct {
		name   string
		length float64
		want   []float64
	}{
		{"two", 250, []float64{50, 200}},
		{"three", 400, []float64{50, 200, 350}},
		{"four", 620, []float64{50, 50 + 520.0/3, 50 + 1040.0/3, 570}},
		{"short", 90, []float64{22.5, 67.5}},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			l := Lamination{Width: 180, Length: r.length, Thickness: 19, BoardWidth: 100}
			s, err := l.Strips()
			if err != nil {
				t.Fatal(err)
			}
			got := l.ClampsAt(s.Clamps)
			if len(got) != len(r.want) {
				t.Fatalf("%v, want %v", got, r.want)
			}
			for i := range got {
				if math.Abs(got[i]-r.want[i]) > 1e-9 {
					t.Errorf("clamp %d at %v, want %v", i+1, got[i], r.want[i])
				}
			}
		})
	}
}

func TestStripsMakeTheWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Lamination{
			Width: rapid.Float64Range(20, 400).Draw(t, "width"), Length: 300, Thickness: 19,
			BoardWidth: rapid.Float64Range(20, 250).Draw(t, "board"), RipKerf: rapid.Float64Range(0, 4).Draw(t, "kerf"),
			Jointing: rapid.Float64Range(0, 2).Draw(t, "jointing"), AllowOdd: rapid.Bool().Draw(t, "odd"),
		}
		s, err := l.Strips()
		if err != nil {
			return
		}
		if math.Abs(s.Planed*float64(s.PerBlank)-l.Width) > 1e-9 {
			t.Errorf("%d strips of %v make no %v", s.PerBlank, s.Planed, l.Width)
		}
		used := float64(s.Across)*s.StripWidth + float64(s.Across-1)*l.RipKerf
		if s.Across < 1 || used > l.BoardWidth+1e-5 || used+l.RipKerf+s.StripWidth <= l.BoardWidth-1e-5 {
			t.Errorf("%d strips of %v from a board of %v", s.Across, s.StripWidth, l.BoardWidth)
		}
		if !l.AllowOdd && s.PerBlank > 1 && s.PerBlank%2 != 0 {
			t.Errorf("%d strips", s.PerBlank)
		}
	})
}

func TestStripsRefuse(t *testing.T) {
	rows := []struct {
		name string
		l    Lamination
		want string
	}{
		{"narrow boards", Lamination{Width: 400, Length: 300, Thickness: 19, BoardWidth: 14}, "board width = 14 mm: too narrow"},
		{"no length", Lamination{Width: 400, Thickness: 19, BoardWidth: 100}, "length = 0 mm"},
		{"no number", Lamination{Width: math.NaN(), Length: 300, Thickness: 19, BoardWidth: 100}, "width = NaN mm"},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			_, err := r.l.Strips()
			var ps problem.List
			if !errors.As(err, &ps) || !strings.Contains(err.Error(), r.want) {
				t.Errorf("got %v, want %q in it", err, r.want)
			}
		})
	}
}
