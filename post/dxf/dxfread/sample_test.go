package dxfread_test

import (
	"fmt"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/dxf/dxfread"
	"starwright/post/dxf/dxfwrite"
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

// written returns a drawing's file as text.
func written(t testing.TB, d cut.Drawing) string {
	t.Helper()
	b, err := dxfwrite.Bytes(d)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// entity returns entity n, counted from 1, of a type on a layer as it stands in
// the file: all of its pairs, of a polyline up to its SEQEND.
func entity(t testing.TB, src, kind, layer string, n int) string {
	t.Helper()
	head := fmt.Sprintf("  0\n%s\n  8\n%s\n", kind, layer)
	parts := strings.Split(src, head)
	if len(parts) <= n {
		t.Fatalf("no %s %d on %s", kind, n, layer)
	}
	end := "  0\n"
	if kind == "POLYLINE" {
		end = "  0\nSEQEND\n  8\n" + layer + "\n"
	}
	body, _, _ := strings.Cut(parts[n], end)
	if kind == "POLYLINE" {
		body += end
	}
	return head + body
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

// rules lists the rules of findings in order, each once.
func rules(fs []finding.Finding) string {
	var out []string
	seen := map[string]bool{}
	for _, f := range fs {
		if !seen[f.Rule] {
			out = append(out, f.Rule)
		}
		seen[f.Rule] = true
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

func parse(t testing.TB, src string) *cut.File {
	t.Helper()
	f, err := dxfread.Read([]byte(src), "plate.dxf")
	if err != nil {
		t.Fatal(err)
	}
	return f
}
