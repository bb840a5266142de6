package dxfread_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/cut/cuttest"
	"starwright/post/dxf/dxfread"
	"starwright/post/dxf/dxfwrite"
	"starwright/post/outline"
)

// A letter that the format does not hold is spelled in others, or left out: what
// is left may be a word to set up by, and is none.
func TestSpelledWordsReadBack(t *testing.T) {
	for _, text := range []string{"X\u01c5", "Größe X", "3 × 4 mm", "a típ", "Ɓ0M", "☃0M X", "X0 −35 mm", "tip ±0.5°", "%%0 ^X"} {
		d := cut.Drawing{Name: "plate", UnitMM: 1,
			Contours: []cut.Contour{{Layer: cut.Outline, Contour: geom.Rect(geom.Box{Max: geom.Pt(60, 40)})}},
			Texts:    []cut.Label{{Layer: cut.Text, At: geom.Pt(5, 5), HeightMM: 3, Text: text}}}.WithCheckBar()
		b, err := dxfwrite.Bytes(d)
		if err != nil {
			t.Fatal(err)
		}
		f, err := dxfread.Read(b, "written.dxf", geom.Millimetre)
		if err != nil {
			t.Fatal(err)
		}
		for _, found := range outline.Compare(f, d, 0.002).Findings {
			t.Errorf("%q: %v", text, found)
		}
	}
}

// Whatever is written reads back as it was drawn, and is judged sound.
func TestWhatIsWrittenReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := cuttest.Random(t)
		b, err := dxfwrite.Bytes(d)
		if err != nil {
			t.Fatal(err)
		}
		f, err := dxfread.Read(b, "written.dxf", geom.Millimetre)
		if err != nil {
			t.Fatal(err)
		}
		r := outline.Compare(f, d, cuttest.Tolerance)
		if len(r.Findings) > 0 || r.Contours != len(d.Contours) || r.Lines != len(d.Lines) || !(r.MaxDeviationMM < 2e-6) {
			t.Errorf("%d of %d contours, %d of %d lines, deviation %g:\n%s", r.Contours, len(d.Contours), r.Lines, len(d.Lines), r.MaxDeviationMM, cuttest.All(r.Findings))
		}
		if fs := outline.Judge(f); len(fs) > 0 {
			t.Errorf("judged:\n%s", cuttest.All(fs))
		}
		for i, c := range d.Contours { // vertex by vertex, in order
			if got := f.Contours[i]; len(got.Contour) != len(c.Contour) || got.Layer != c.Layer {
				t.Fatalf("contour %d: %d vertices on %s", i, len(got.Contour), got.Layer)
			}
			for k, v := range c.Contour {
				if got := f.Contours[i].Contour[k]; got.Dist(v.Point) > 1e-6 || math.Abs(got.Bulge-v.Bulge) > 1e-10 {
					t.Errorf("contour %d vertex %d: %v, want %v", i, k, got, v)
				}
			}
		}
	})
}

// The reader is an independent proof only as long as it has no code of the
// writer's.
func TestReaderImportsNoWriter(t *testing.T) { cuttest.NoImportOf(t, "write", "draft") }

// FuzzRead: no file makes the reader or the judges fail, and every line that
// they name is one of the file's.
func FuzzRead(f *testing.F) {
	f.Add([]byte(written(f, cuttest.Plate(1))))
	f.Add([]byte(written(f, cuttest.Plate(geom.MMPerInch))))
	f.Add(entitiesOnly("0 LWPOLYLINE 8 HOLE 90 2 70 1 10 5.0 20 6.0 42 1.0 10 7.0 20 6.0 42 1.0 0 CIRCLE 8 HOLE 40 -1 0 ARC 40 1 51 90"))
	f.Add(entitiesOnly("0 POLYLINE 8 OUTLINE 70 1 0 VERTEX 10 1 20 2 42 1e9 0 VERTEX 10 1 20 2 0 SEQEND"))
	f.Add([]byte("999\n1 drawing unit = 0.0000001 mm\n  0\nSECTION\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		file, err := dxfread.Read(src, "fuzz.dxf", geom.Millimetre)
		if err != nil {
			t.Fatal(err)
		}
		cuttest.Sane(t, file, strings.Count(string(src), "\n")+2)
	})
}

func BenchmarkRead20k(b *testing.B) {
	src := []byte(written(b, cuttest.Long()))
	b.SetBytes(int64(len(src)))
	b.ReportAllocs()
	for b.Loop() {
		f, err := dxfread.Read(src, "speed.dxf", geom.Millimetre)
		if err != nil || len(f.Contours) != cuttest.Many || len(f.Faults) > 0 {
			b.Fatal(err, len(f.Contours), f.Faults)
		}
	}
}
