package cut_test

import (
	"math"
	"testing"

	"starwright/geom"
	"starwright/post/cut"
)

// The lengths come from the project's contract (a dimensioned bar in the
// file's unit); 4 in are 101.6 mm and 1 in is 25.4 mm.
func TestCheckBar(t *testing.T) {
	tests := []struct {
		name    string
		unit, w float64
		length  float64
		words   string
	}{
		{"wide, mm", 1, 150, 100, "100 mm"},
		{"narrow, mm", 1, 60, 20, "20 mm"},
		{"wide, inches", geom.MMPerInch, 150, 101.6, "4 in"},
		{"narrow, inches", geom.MMPerInch, 101, 25.4, "1 in"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			part := geom.Rect(geom.Box{Min: geom.Pt(-5, 7), Max: geom.Pt(-5+tt.w, 27)})
			before := cut.Drawing{UnitMM: tt.unit, Contours: []cut.Contour{{Layer: cut.Outline, Contour: part}}}
			d := before.WithCheckBar()
			if len(before.Lines) != 0 || len(d.Lines) != 3 || len(d.Texts) != 1 {
				t.Fatalf("%d lines before, then %d and %d texts", len(before.Lines), len(d.Lines), len(d.Texts))
			}
			if l := d.Lines[0].A.Dist(d.Lines[0].B); math.Abs(l-tt.length) > 1e-12 || d.Texts[0].Text != tt.words {
				t.Errorf("bar of %v mm says %q, want %v and %q", l, d.Texts[0].Text, tt.length, tt.words)
			}
			for _, l := range d.Lines {
				if l.Layer != cut.Guide || l.A.Y >= 7 || l.B.Y >= 7 {
					t.Errorf("%+v is not on GUIDE below the part", l)
				}
			}
			if d.Texts[0].Layer != cut.Guide || d.Texts[0].At.Y+d.Texts[0].HeightMM >= 7 {
				t.Errorf("%+v is not on GUIDE below the part", d.Texts[0])
			}
		})
	}
}

// The box reaches round arcs: a half circle of radius 10 on a side of 20.
func TestBounds(t *testing.T) {
	d := cut.Drawing{
		Contours: []cut.Contour{{Layer: cut.Outline, Contour: geom.Contour{{Point: geom.Pt(0, 0)}, {Point: geom.Pt(40, 0), Bulge: 1}, {Point: geom.Pt(40, 20)}}}},
		Lines:    []cut.Line{{Layer: cut.Guide, A: geom.Pt(0, -3), B: geom.Pt(1, 0)}},
		Texts:    []cut.Label{{Layer: cut.Text, At: geom.Pt(-2, 5)}},
	}
	want := geom.Box{Min: geom.Pt(-2, -3), Max: geom.Pt(50, 20)}
	if got := d.Bounds(); got.Min.Dist(want.Min) > 1e-12 || got.Max.Dist(want.Max) > 1e-12 {
		t.Errorf("bounds %v, want %v", got, want)
	}
}
