package dxfread_test

import (
	"go/parser"
	"go/token"
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/dxf/dxfread"
	"starwright/post/dxf/dxfwrite"
	"starwright/post/outline"
)

// drawDrawing makes a drawing that can be cut: parts in a row, some with arcs,
// some with a hole, lines on GUIDE and words.
func drawDrawing(t *rapid.T) cut.Drawing {
	d := cut.Drawing{Name: rapid.String().Draw(t, "name"), UnitMM: rapid.SampledFrom([]float64{1, geom.MMPerInch}).Draw(t, "unit")}
	x0, y0 := rapid.Float64Range(-5e3, 5e3).Draw(t, "x0"), rapid.Float64Range(-5e3, 5e3).Draw(t, "y0")
	for i := range rapid.IntRange(1, 8).Draw(t, "parts") {
		o := geom.Pt(x0+60*float64(i), y0)
		n := rapid.IntRange(3, 9).Draw(t, "corners")
		turn := rapid.Float64Range(0, 360).Draw(t, "turn")
		var c geom.Contour
		for k := range n {
			r := rapid.Float64Range(12, 20).Draw(t, "radius")
			p := o.Add(geom.Polar(r, geom.Deg(turn+360*float64(k)/float64(n))))
			c = append(c, geom.Vertex{Point: p, Bulge: rapid.SampledFrom([]float64{0, 0, 0.1, -0.05}).Draw(t, "bulge")})
		}
		if rapid.Bool().Draw(t, "clockwise") {
			c = c.Reversed()
		}
		d.Contours = append(d.Contours, cut.Contour{Layer: cut.Outline, Contour: c})
		if rapid.Bool().Draw(t, "hole") {
			d.Contours = append(d.Contours, cut.Contour{Layer: cut.Hole, Contour: geom.Circle(o, rapid.Float64Range(0.1, 4).Draw(t, "hole radius"))})
		}
		d.Lines = append(d.Lines, cut.Line{Layer: cut.Guide, A: o, B: o.Add(geom.Pt(rapid.Float64Range(1, 20).Draw(t, "length"), 0))})
	}
	d.Texts = append(d.Texts, cut.Label{Layer: cut.Text, At: geom.Pt(x0, y0), HeightMM: 3, Text: "part " + rapid.String().Draw(t, "text")})
	return d.WithCheckBar()
}

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
		f, err := dxfread.Read(b, "written.dxf")
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
		d := drawDrawing(t)
		b, err := dxfwrite.Bytes(d)
		if err != nil {
			t.Fatal(err)
		}
		f, err := dxfread.Read(b, "written.dxf")
		if err != nil {
			t.Fatal(err)
		}
		r := outline.Compare(f, d, tol)
		if len(r.Findings) > 0 || r.Contours != len(d.Contours) || r.Lines != len(d.Lines) || !(r.MaxDeviationMM < 2e-6) {
			t.Errorf("%d of %d contours, %d of %d lines, deviation %g:\n%s", r.Contours, len(d.Contours), r.Lines, len(d.Lines), r.MaxDeviationMM, all(r.Findings))
		}
		if fs := outline.Judge(f); len(fs) > 0 {
			t.Errorf("judged:\n%s", all(fs))
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
func TestReaderImportsNoWriter(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) < 5 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, imp := range f.Imports {
			if p, _ := strconv.Unquote(imp.Path.Value); strings.Contains(p, "write") {
				t.Errorf("%s imports %s", name, p)
			}
		}
	}
}

// FuzzRead: no file makes the reader or the judges fail, and every line that
// they name is one of the file's.
func FuzzRead(f *testing.F) {
	f.Add([]byte(written(f, plate(1))))
	f.Add([]byte(written(f, plate(geom.MMPerInch))))
	f.Add(entitiesOnly("0 LWPOLYLINE 8 HOLE 90 2 70 1 10 5.0 20 6.0 42 1.0 10 7.0 20 6.0 42 1.0 0 CIRCLE 8 HOLE 40 -1 0 ARC 40 1 51 90"))
	f.Add(entitiesOnly("0 POLYLINE 8 OUTLINE 70 1 0 VERTEX 10 1 20 2 42 1e9 0 VERTEX 10 1 20 2 0 SEQEND"))
	f.Add([]byte("999\n1 drawing unit = 0.0000001 mm\n  0\nSECTION\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		file, err := dxfread.Read(src, "fuzz.dxf")
		if err != nil {
			t.Fatal(err)
		}
		last := strings.Count(string(src), "\n") + 2
		r := outline.Compare(file, plate(1), tol)
		for _, x := range append(outline.Judge(file), r.Findings...) {
			if x.Line < 0 || x.Line > last || x.What == "" || x.File != "fuzz.dxf" {
				t.Errorf("of %d lines: %+v", last, x)
			}
			if x.At != nil && !x.At.XY().Finite() || math.IsNaN(x.ByMM) || math.IsInf(x.ByMM, 0) {
				t.Errorf("no number: %+v", x)
			}
		}
		if math.IsNaN(r.MaxDeviationMM) || math.IsInf(r.MaxDeviationMM, 0) {
			t.Errorf("deviation %v", r.MaxDeviationMM)
		}
	})
}

// sheet20k is the drawing of the speed figures: 20,000 closed four-cornered
// outlines.
func sheet20k() cut.Drawing {
	d := cut.Drawing{Name: "speed", UnitMM: 1}
	for i := range 20000 {
		x, y := float64(i%200)*12.345678, float64(i/200)*23.456789
		d.Contours = append(d.Contours, cut.Contour{Layer: cut.Outline, Contour: geom.Polygon(
			geom.Pt(x, y), geom.Pt(x+10.123456, y+0.5), geom.Pt(x+10.5, y+20.25), geom.Pt(x+0.125, y+20.75))})
	}
	return d.WithCheckBar()
}

func BenchmarkRead20k(b *testing.B) {
	src := []byte(written(b, sheet20k()))
	b.SetBytes(int64(len(src)))
	b.ReportAllocs()
	for b.Loop() {
		f, err := dxfread.Read(src, "speed.dxf")
		if err != nil || len(f.Contours) != 20000 || len(f.Faults) > 0 {
			b.Fatal(err, len(f.Contours), f.Faults)
		}
	}
}
