package svgread_test

import (
	"slices"
	"testing"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/cut/cuttest"
	"starwright/post/svg/svgread"
	"starwright/post/svg/svgwrite"
)

// plate is the drawing that the tests spoil, with turned words beside the others.
func plate() cut.Drawing {
	d := cuttest.Plate(1)
	d.Texts = slices.Insert(d.Texts, 1, cut.Label{Layer: cut.Text, At: geom.Pt(60, 5), HeightMM: 3, Turn: geom.Deg(90), Text: "up & away"})
	return d
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
	f, err := svgread.Read([]byte(src), "plate.svg", geom.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	return f
}
