package outline_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/cut/cuttest"
	"starwright/post/outline"
)

// 1 in is 25.4 mm (international yard and pound agreement, 1959).
func TestTakeApart(t *testing.T) {
	for text, want := range map[string]string{
		"Z0 170 mm above foot":           "[z0 above foot] [170mm]",
		"X0 1 3/8 in from left side":     "[x0 from left side] [34.925mm]",
		"slot 18.3 mm to 70.7mm":         "[slot to] [18.3mm 70.7mm]",
		"tip: saw at 18°, then -0.5 deg": "[tip saw at then] [18deg -0.5deg]",
		`bit 3/8" high`:                  "[bit high] [9.525mm]",
		"glue-up board, 1 of 5":          "[glue up board of] [1 5]",
		"plate":                          "[plate] []",
		"A 2½ in bit.":                   "[a bit] [63.5mm]",
		"5 points, tip 36 deg":           "[points tip] [5 36deg]",
		"ROUTER CARRIAGE LEFT":           "[router carriage left] []",
		"15 inches, 2 cm":                "[] [381mm 20mm]",
	} {
		s := outline.TakeApart(text)
		var figures []string
		for _, f := range s.Figures {
			figures = append(figures, fmt.Sprintf("%.6g%s", f.Value, [...]string{"", "mm", "deg"}[f.Unit]))
		}
		if got := fmt.Sprint(s.Words, figures); got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) { // whatever it says, it comes to an end, with numbers
		s := outline.TakeApart(rapid.StringMatching(`([0-9./ -]|mm|in|deg|[a-z]|\PC)*`).Draw(t, "text"))
		for _, f := range s.Figures {
			if math.IsNaN(f.Value) || math.IsInf(f.Value, 0) {
				t.Errorf("%v", s)
			}
		}
	})
}

// labelled is a drawing with the words of a stand on it.
func labelled() cut.Drawing {
	d := cuttest.Plate(1)
	for i, s := range []string{"slot stand left", "X0 35 mm from left side", "Z0 170 mm above foot", "this face to the fence", "tip: saw at 18°"} {
		d.Texts = append(d.Texts, cut.Label{Layer: cut.Text, At: geom.Pt(5, float64(30-i)), HeightMM: 3, Text: s})
	}
	return d
}

// Each row changes the words of one text, or adds one where there is none to
// change. People set up by them: what binds is found, whatever else is a remark.
func TestWords(t *testing.T) {
	tests := []struct{ old, new, what string }{
		{"Z0 170 mm above foot", "Z0 175 mm above foot", `says "Z0 175 mm above foot" where the drawing has "Z0 170 mm above foot"`},
		{"Z0 170 mm above foot", "Z0 170.1 mm above foot", `says "Z0 170.1 mm`},
		{"Z0 170 mm above foot", "Z0 170 in above foot", `says "Z0 170 in`},
		{"Z0 170 mm above foot", "Z0 170 mm below foot", `says "Z0 170 mm below`},
		{"Z0 170 mm above foot", "X0 170 mm above foot", `says "X0 170 mm above`},
		{"Z0 170 mm above foot", "Z0 above foot", `says "Z0 above foot"`},
		{"X0 35 mm from left side", "X0 35 mm from right side", "from right side"},
		{"X0 35 mm from left side", "X0 35 from left side", "X0 35 from"},
		{"slot stand left", "slot stand right", `where the drawing has "slot stand left"`},
		{"this face to the fence", "this face away from the fence", "away"},
		{"tip: saw at 18°", "tip: saw at 18.01 deg", "18.01"},
		{"plate", "12 mm", `says "12 mm", which the drawing does not`},
		{"100 mm", "100 mm or 4 in", "or 4 in"},
		{"plate", "Z0 is the foot", "Z0 is the foot"},
		// Harmless.
		{"Z0 170 mm above foot", "z0  170.0 MM above foot", ""},
		{"Z0 170 mm above foot", "Z0 17 cm above foot", ""},
		{"Z0 170 mm above foot", "Z0 6.693 in above foot", ""},
		{"tip: saw at 18°", "tip: saw at 18 deg", ""},
		{"this face to the fence", "", ""},
		{"plate", "cut by Ann, number 7", ""},
		{"plate", "slot stand left", ""},
	}
	for _, tt := range tests {
		t.Run(tt.new, func(t *testing.T) {
			f := fileOf(labelled())
			line := 0
			for i := range f.Texts {
				if f.Texts[i].Text == tt.old {
					f.Texts[i].Text, line = tt.new, f.Texts[i].Line
				}
			}
			fs := outline.Compare(f, labelled(), cuttest.Tolerance).Findings
			if tt.what == "" {
				if len(fs) > 0 {
					t.Error(cuttest.All(fs))
				}
				return
			}
			judged(t, fs, "words", tt.what, 0)
			if fs[0].Line != line {
				t.Errorf("names line %d, want %d", fs[0].Line, line)
			}
		})
	}
}
