package outline_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/cut/cuttest"
	"starwright/post/outline"
)

func TestCompareFindsTheSame(t *testing.T) {
	want := cuttest.Plate(1)
	other := cuttest.Plate(1)
	slices.Reverse(other.Contours)
	slices.Reverse(other.Lines)
	for i, c := range other.Contours {
		n := len(c.Contour)
		turned := append(c.Contour[n/2:n:n], c.Contour[:n/2]...)
		if i%2 == 0 {
			turned = turned.Reversed()
		}
		other.Contours[i].Contour = turned
	}
	for i, l := range other.Lines {
		other.Lines[i] = cut.Line{Layer: l.Layer, A: l.B, B: l.A}
	}
	split := cuttest.Plate(1) // one side and one arc each in two pieces
	body := split.Contours[0].Contour
	arc := geom.Curve{A: body[1].Point, B: body[2].Point, Bulge: body[1].Bulge}
	half := arc.Part(0, 0.5)
	split.Contours[0].Contour = geom.Contour{
		body[0], {Point: geom.Pt(30, 0)}, {Point: half.A, Bulge: half.Bulge}, {Point: half.B, Bulge: half.Bulge}, body[2], body[3],
	}
	within := cuttest.Plate(1)
	within.Contours[3].Contour[0].X += 0.0015
	for _, tt := range []struct {
		name string
		d    cut.Drawing
		dev  float64
	}{
		{"as written", cuttest.Plate(1), 0},
		{"other order, start, direction", other, 0},
		{"in more pieces", split, 0},
		{"within the tolerance", within, 0.0015},
		{"in inches", cuttest.Plate(geom.MMPerInch), 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			w := want
			if tt.d.UnitMM != 1 {
				w = cuttest.Plate(tt.d.UnitMM) // its check bar is 4 in long
			}
			r := outline.Compare(fileOf(tt.d), w, cuttest.Tolerance)
			if len(r.Findings) > 0 || r.Contours != 4 || r.Lines != 4 {
				t.Errorf("%d contours, %d lines:\n%s", r.Contours, r.Lines, cuttest.All(r.Findings))
			}
			if math.Abs(r.MaxDeviationMM-tt.dev) > 1e-6 {
				t.Errorf("deviation %v mm, want %v", r.MaxDeviationMM, tt.dev)
			}
		})
	}
}

// A file without the check bar among what is wanted, and the bar itself.
func TestCompareLeavesTheBarToJudge(t *testing.T) {
	want := cuttest.Plate(1)
	want.Lines = want.Lines[:1]
	if r := outline.Compare(fileOf(cuttest.Plate(1)), want, cuttest.Tolerance); len(r.Findings) > 0 {
		t.Error(cuttest.All(r.Findings))
	}
}

// Each row changes the drawing in one way before it is read.
func TestCompare(t *testing.T) {
	tests := []struct {
		name   string
		change func(d *cut.Drawing)
		rule   string
		what   string // part of the first finding
		by     float64
	}{
		{"vertex out by 0.3", func(d *cut.Drawing) { d.Contours[3].Contour[2].Y += 0.3 }, "displaced", "vertex 3 is 0.300 mm from its place, X 125.000 Y 30.000", 0.3},
		{"vertex out by 0.003", func(d *cut.Drawing) { d.Contours[3].Contour[2].Y += 0.003 }, "displaced", "0.003 mm", 0.003},
		{"vertex in by 0.3", func(d *cut.Drawing) { d.Contours[3].Contour[2].Y -= 0.3 }, "displaced", "and cuts into the part", 0.3},
		{"hole's vertex outwards", func(d *cut.Drawing) { d.Contours[1].Contour[0].Y -= 0.5 }, "displaced", "and cuts into the part", 0.5},
		{"hole's vertex inwards", func(d *cut.Drawing) { d.Contours[1].Contour[0].Y += 0.5 }, "displaced", "leaves wood standing", 0.5},
		{"vertex left out", func(d *cut.Drawing) { d.Contours[0].Contour = d.Contours[0].Contour[:3] }, "displaced", "the contour of 3 vertices, wanted with 4, leaves its line by 35.777 mm at X 0.000 Y 40.000", 35.77708764},
		{"one contour shifted", func(d *cut.Drawing) { move(&d.Contours[1], geom.Pt(0.2, 0)) }, "displaced", "whole contour is shifted by X +0.200 Y +0.000", 0.2},
		{"arc reversed", func(d *cut.Drawing) { d.Contours[0].Contour[1].Bulge = -1 }, "arc-reversed", "from vertex 2 it bulges to the wrong side, by 40.000 mm", 40},
		{"arc made straight", func(d *cut.Drawing) { d.Contours[0].Contour[1].Bulge = 0 }, "displaced", "a straight cut from vertex 2 in place of an arc: 20.000 mm", 20},
		{"side made an arc", func(d *cut.Drawing) { d.Contours[3].Contour[0].Bulge = 0.01 }, "displaced", "the arc from vertex 1 leaves its line by 0.150 mm", 0.15},
		{"arc a little flatter", func(d *cut.Drawing) { d.Contours[0].Contour[1].Bulge = 0.999 }, "displaced", "bulge 0.999000, wanted 1.000000", 0.02},
		{"contour missing", func(d *cut.Drawing) { d.Contours = d.Contours[:3] }, "missing", "missing on OUTLINE: 30.000 x 30.000 mm at X 110.000 Y 0.000", 0},
		{"contour too many", func(d *cut.Drawing) {
			d.Contours = append(d.Contours, cut.Contour{Layer: cut.Hole, Contour: geom.Circle(geom.Pt(60, 30), 2)})
		}, "not-wanted", "does not belong here: 4.000 x 4.000 mm", 0},
		{"on another layer", func(d *cut.Drawing) { d.Contours[1].Layer = cut.Outline }, "wrong-layer", "is on OUTLINE: it belongs on HOLE", 0},
		{"cut layer to guide", func(d *cut.Drawing) { d.Contours[1].Layer = cut.Guide }, "wrong-layer", "it is not cut", 0},
		{"all shifted", func(d *cut.Drawing) { place(d, geom.Place{Move: geom.Pt(0, -0.05)}) }, "shifted", "as a whole is shifted by X +0.000 Y -0.050 mm", 0.05},
		{"all mirrored left to right", func(d *cut.Drawing) {
			place(d, geom.Place{Mirror: true, Turn: geom.Deg(180), Move: geom.Pt(140, 0)})
		}, "mirrored", "mirrored left to right", 0},
		{"all mirrored top to bottom", func(d *cut.Drawing) { place(d, geom.Place{Mirror: true}) }, "mirrored", "mirrored top to bottom", 0},
		{"all turned by 90 degrees", func(d *cut.Drawing) { place(d, geom.Place{Turn: geom.Deg(90)}) }, "turned", "by 90 degrees", 0},
		{"all 25.4 times too large", func(d *cut.Drawing) { grow(d, geom.MMPerInch) }, "scale", "25.4 times too large", 0},
		{"all 25.4 times too small", func(d *cut.Drawing) { grow(d, 1/geom.MMPerInch) }, "scale", "25.4 times too small", 0},
		{"all too large by a hundredth", func(d *cut.Drawing) { grow(d, 1.01) }, "displaced", "", 0},
		{"joint line missing", func(d *cut.Drawing) { d.Lines = d.Lines[1:] }, "missing", "a line is missing on GUIDE: from X 0.000 Y 25.000", 0},
		{"joint line displaced", func(d *cut.Drawing) { d.Lines[0].A.Y += 0.5 }, "displaced", "a line is 0.500 mm from its place", 0.5},
		{"line too many", func(d *cut.Drawing) {
			d.Lines = append(d.Lines, cut.Line{Layer: cut.Guide, A: geom.Pt(0, 5), B: geom.Pt(9, 5)})
		}, "not-wanted", "a line that does not belong", 0},
		{"check bar displaced", func(d *cut.Drawing) { d.Lines[1].B.X -= 0.05 }, "displaced", "a line is 0.050 mm from its place", 0.05},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d := cuttest.Plate(1)
			for i, c := range d.Contours {
				d.Contours[i].Contour = slices.Clone(c.Contour)
			}
			tt.change(&d)
			r := outline.Compare(fileOf(d), cuttest.Plate(1), cuttest.Tolerance)
			if got := cuttest.Rules(r.Findings); got != tt.rule || !strings.Contains(r.Findings[0].String(), tt.what) {
				t.Fatalf("rules %q, want %q with %q:\n%s", got, tt.rule, tt.what, cuttest.All(r.Findings))
			}
			if by := r.Findings[0].ByMM; tt.by > 0 && (math.Abs(by-tt.by) > 1e-6 || r.MaxDeviationMM < 0.4*by) {
				t.Errorf("by %v mm, want %v; largest deviation %v", by, tt.by, r.MaxDeviationMM)
			}
			if cuts := d.Contours[0].Layer; cuts == cut.Outline && tt.rule != "missing" && r.Findings[0].InWood == "" && len(d.Lines) == 4 && d.Lines[0] == cuttest.Plate(1).Lines[0] {
				t.Errorf("nothing said about the wood: %s", r.Findings[0])
			}
		})
	}
}

func move(c *cut.Contour, by geom.Point) { c.Contour = geom.Place{Move: by}.Contour(c.Contour) }

func place(d *cut.Drawing, p geom.Place) {
	for i, c := range d.Contours {
		d.Contours[i].Contour = p.Contour(c.Contour)
	}
	for i, l := range d.Lines {
		d.Lines[i] = cut.Line{Layer: l.Layer, A: p.Point(l.A), B: p.Point(l.B)}
	}
}

func grow(d *cut.Drawing, k float64) {
	for i, c := range d.Contours {
		for j := range c.Contour {
			d.Contours[i].Contour[j].Point = c.Contour[j].Mul(k)
		}
	}
	for i, l := range d.Lines {
		d.Lines[i] = cut.Line{Layer: l.Layer, A: l.A.Mul(k), B: l.B.Mul(k)}
	}
}
