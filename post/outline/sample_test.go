package outline_test

import (
	"fmt"
	"slices"
	"strings"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/toolpath/finding"
)

// plate is the sound drawing that the tests spoil: an outline with a rounded
// end, a slot and a round hole in it, a second part beside it, a joint line and
// a check bar.
func plate(unitMM float64) cut.Drawing {
	body := geom.Polygon(geom.Pt(0, 0), geom.Pt(80, 0), geom.Pt(80, 40), geom.Pt(0, 40))
	body[1].Bulge = 1
	return cut.Drawing{
		Name:   "Test plate",
		UnitMM: unitMM,
		Contours: []cut.Contour{
			{Layer: cut.Outline, Contour: body},
			{Layer: cut.Hole, Contour: geom.RoundedRect(geom.Box{Min: geom.Pt(10, 10), Max: geom.Pt(40, 16)}, 3)},
			{Layer: cut.Hole, Contour: geom.Circle(geom.Pt(80, 20), 5)},
			{Layer: cut.Outline, Contour: geom.Polygon(geom.Pt(110, 0), geom.Pt(140, 0), geom.Pt(125, 30))},
		},
		Lines: []cut.Line{{Layer: cut.Guide, A: geom.Pt(0, 25), B: geom.Pt(70, 25)}},
		Texts: []cut.Label{{Layer: cut.Text, At: geom.Pt(5, 30), HeightMM: 3, Text: "plate"}},
	}.WithCheckBar()
}

// fileOf makes what a reader would have made of a drawing: everything on a line
// of its own, numbered from 10 by contours, lines, texts.
func fileOf(d cut.Drawing) *cut.File {
	f := &cut.File{
		Name: "plate", UnitMM: d.UnitMM, UnitLine: 1, Closer: "a clasp",
		Vertex: func(v geom.Vertex) string { return fmt.Sprint(v.X, v.Y, v.Bulge) },
	}
	line := 10
	next := func() int { line++; return line }
	for _, c := range d.Contours {
		got := cut.FileContour{Kind: "ring", Layer: c.Layer, Line: next(), Closed: true, Contour: slices.Clone(c.Contour)}
		for range c.Contour {
			got.VertexLines = append(got.VertexLines, int32(next()))
		}
		f.Contours = append(f.Contours, got)
	}
	for _, l := range d.Lines {
		f.Lines = append(f.Lines, cut.FileLine{Kind: "stroke", Layer: l.Layer, Line: next(), A: l.A, B: l.B})
	}
	for _, t := range d.Texts {
		f.Texts = append(f.Texts, cut.FileText{Kind: "words", Layer: t.Layer, Line: next(), At: t.At, HeightMM: t.HeightMM, Text: t.Text})
	}
	return f
}

// rules lists the rules of findings in order, each once.
func rules(fs []finding.Finding) string {
	var out []string
	for _, f := range fs {
		if !slices.Contains(out, f.Rule) {
			out = append(out, f.Rule)
		}
	}
	return strings.Join(out, " ")
}

// all prints findings one on a line.
func all(fs []finding.Finding) string {
	var b strings.Builder
	for _, f := range fs {
		fmt.Fprintln(&b, f.Rule, f)
	}
	return b.String()
}
