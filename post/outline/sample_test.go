package outline_test

import (
	"fmt"
	"slices"

	"starwright/geom"
	"starwright/post/cut"
)

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
