package draft_test

import (
	"math"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/draft"
)

// check looks at a drawing as it is written to a thousandth of a micrometre.
func check(d cut.Drawing) error { return draft.Check(d, 1e6, strings.TrimSpace) }

func TestRefusals(t *testing.T) {
	square := geom.Rect(geom.Box{Max: geom.Pt(10, 10)})
	turned := append(square[2:4:4], square[:2]...).Reversed()
	with := func(c ...geom.Contour) cut.Drawing {
		d := cut.Drawing{Name: "x", UnitMM: 1}
		for _, c := range c {
			d.Contours = append(d.Contours, cut.Contour{Layer: cut.Outline, Contour: c})
		}
		return d
	}
	line := func(l ...cut.Line) cut.Drawing { return cut.Drawing{Name: "x", UnitMM: 1, Lines: l} }
	p, q := geom.Pt(0, 0), geom.Pt(1, 0)
	tests := []struct {
		name string
		d    cut.Drawing
		want string // part of the message
	}{
		{"nothing in it", with(), "nothing to draw"},
		{"one vertex", with(geom.Polygon(geom.Pt(1, 1))), "1 vertices"},
		{"two vertices without arcs", with(geom.Polygon(p, q)), "enclose nothing"},
		{"vertex repeated", with(geom.Polygon(p, q, geom.Pt(1+1e-8, 0), geom.Pt(0, 1))), "vertex 3 repeats"},
		{"first vertex repeated at the end", with(append(square[:4:4], square[0])), "vertex 1 repeats"},
		{"not a number", with(geom.Polygon(p, q, geom.Pt(math.NaN(), 1))), "vertex 3"},
		{"without end", with(geom.Polygon(p, q, geom.Pt(1, math.Inf(1)))), "vertex 3"},
		{"farther than a kilometre", with(geom.Polygon(p, q, geom.Pt(1, 2e6))), "vertex 3"},
		{"bulge not a number", with(geom.Contour{{Point: p, Bulge: math.NaN()}, {Point: q, Bulge: 1}}), "bulge NaN"},
		{"full circle as one arc", with(geom.Contour{{Point: p, Bulge: 1e7}, {Point: q, Bulge: 1}}), "a circle is two arcs"},
		{"same contour twice", with(square, square), "contour 2 on OUTLINE is contour 1 drawn a second time"},
		{"same contour backwards from another corner", with(square, turned), "contour 2 on OUTLINE is contour 1"},
		{"unknown layer", cut.Drawing{Name: "x", UnitMM: 1, Contours: []cut.Contour{{Layer: "CUT", Contour: square}}}, "use OUTLINE, HOLE, GUIDE or TEXT"},
		{"line without length", line(cut.Line{Layer: cut.Guide, A: p, B: p}), "no length"},
		{"line twice", line(cut.Line{Layer: cut.Guide, A: p, B: q}, cut.Line{Layer: cut.Guide, A: q, B: p}), "line 2 on GUIDE is line 1"},
		{"text of no height", cut.Drawing{UnitMM: 1, Texts: []cut.Label{{Layer: cut.Text, Text: "a"}}}, "write a height above 0"},
		{"text without letters", cut.Drawing{UnitMM: 1, Texts: []cut.Label{{Layer: cut.Text, HeightMM: 3, Text: "\n"}}}, "0 letters"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			err := check(tt.d)
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("error %v, want one with %q", err, tt.want)
			}
		})
	}
}

// Same corners, other arcs: not the same contour.
func TestAlikeIsNotTwice(t *testing.T) {
	round := geom.Rect(geom.Box{Max: geom.Pt(10, 10)})
	round[0].Bulge = 0.1
	d := cut.Drawing{Name: "x", UnitMM: 1, Contours: []cut.Contour{
		{Layer: cut.Outline, Contour: geom.Rect(geom.Box{Max: geom.Pt(10, 10)})},
		{Layer: cut.Outline, Contour: round},
	}}
	if err := check(d); err != nil {
		t.Error(err)
	}
}
