package dxfread_test

import (
	"fmt"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/dxf/dxfread"
	"starwright/post/dxf/dxfwrite"
)

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

func parse(t testing.TB, src string) *cut.File {
	t.Helper()
	f, err := dxfread.Read([]byte(src), "plate.dxf", geom.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	return f
}
