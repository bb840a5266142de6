package svgread_test

import (
	"fmt"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/svg/svgread"
	"starwright/post/svg/svgwrite"
	"starwright/toolpath/finding"
)

// tol is the contract's: contours within 0.002 mm.
const tol = 0.002

// plate is the sound drawing that the tests spoil: an outline with a rounded
// end, a slot and a round hole in it, a second part beside it, a joint line,
// words, one of them turned, and a check bar.
func plate() cut.Drawing {
	body := geom.Polygon(geom.Pt(0, 0), geom.Pt(80, 0), geom.Pt(80, 40), geom.Pt(0, 40))
	body[1].Bulge = 1
	return cut.Drawing{
		Name:   "Test plate",
		UnitMM: 1,
		Contours: []cut.Contour{
			{Layer: cut.Outline, Contour: body},
			{Layer: cut.Hole, Contour: geom.RoundedRect(geom.Box{Min: geom.Pt(10, 10), Max: geom.Pt(40, 16)}, 3)},
			{Layer: cut.Hole, Contour: geom.Circle(geom.Pt(80, 20), 5)},
			{Layer: cut.Outline, Contour: geom.Polygon(geom.Pt(110, 0), geom.Pt(140, 0), geom.Pt(125, 30))},
		},
		Lines: []cut.Line{{Layer: cut.Guide, A: geom.Pt(0, 25), B: geom.Pt(70, 25)}},
		Texts: []cut.Label{
			{Layer: cut.Text, At: geom.Pt(5, 30), HeightMM: 3, Text: "plate"},
			{Layer: cut.Text, At: geom.Pt(60, 5), HeightMM: 3, Turn: geom.Deg(90), Text: "up & away"},
		},
	}.WithCheckBar()
}

// written returns a drawing's file as text.
func written(t testing.TB, d cut.Drawing) string {
	t.Helper()
	b, err := svgwrite.Bytes(d)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func parse(t testing.TB, src string) *cut.File {
	t.Helper()
	f, err := svgread.Read([]byte(src), "plate.svg")
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// swap replaces the one place where old stands.
func swap(t testing.TB, src, old, new string) string {
	t.Helper()
	if n := strings.Count(src, old); n != 1 {
		t.Fatalf("%q stands %d times in the file", old, n)
	}
	return strings.Replace(src, old, new, 1)
}

// first replaces the first place where old stands.
func first(t testing.TB, src, old, new string) string {
	t.Helper()
	if !strings.Contains(src, old) {
		t.Fatalf("%q does not stand in the file", old)
	}
	return strings.Replace(src, old, new, 1)
}

// lineOf returns the number of the line on which the text starts.
func lineOf(t testing.TB, src, text string) int {
	t.Helper()
	before, _, ok := strings.Cut(src, text)
	if !ok {
		t.Fatalf("%q does not stand in the file", text)
	}
	return strings.Count(before, "\n") + 1
}

// all prints findings one on a line.
func all(fs []finding.Finding) string {
	var b strings.Builder
	for _, f := range fs {
		fmt.Fprintln(&b, f.Rule, f)
	}
	return b.String()
}
