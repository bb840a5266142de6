package svgread_test

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
	"starwright/post/outline"
	"starwright/post/svg/svgread"
	"starwright/post/svg/svgwrite"
)

// drawDrawing makes a drawing that can be cut: parts in a row, some with arcs
// from flat to nearly whole circles, some with a hole, lines on GUIDE and words.
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
			c = append(c, geom.Vertex{Point: p, Bulge: rapid.SampledFrom([]float64{0, 0, 1e-9, 0.001, 0.1, -0.05}).Draw(t, "bulge")})
		}
		if rapid.Bool().Draw(t, "clockwise") {
			c = c.Reversed()
		}
		d.Contours = append(d.Contours, cut.Contour{Layer: cut.Outline, Contour: c})
		if rapid.Bool().Draw(t, "hole") {
			h := geom.Circle(o, rapid.Float64Range(0.1, 4).Draw(t, "hole radius"))
			b := rapid.Float64Range(0.3, 1.5).Draw(t, "hole bulge") // two arcs that do not quite make a circle
			h[0].Bulge, h[1].Bulge = b, b
			d.Contours = append(d.Contours, cut.Contour{Layer: cut.Hole, Contour: h})
		}
		d.Lines = append(d.Lines, cut.Line{Layer: cut.Guide, A: o, B: o.Add(geom.Pt(rapid.Float64Range(1, 20).Draw(t, "length"), 0))})
	}
	d.Texts = append(d.Texts, cut.Label{Layer: cut.Text, At: geom.Pt(x0, y0), HeightMM: 3, Turn: geom.Deg(rapid.Float64Range(-360, 360).Draw(t, "text turn")), Text: "part <&\"" + rapid.String().Draw(t, "text")})
	return d.WithCheckBar()
}

// Whatever is written reads back as it was drawn, and is judged sound.
func TestWhatIsWrittenReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDrawing(t)
		b, err := svgwrite.Bytes(d)
		if err != nil {
			t.Fatal(err)
		}
		f, err := svgread.Read(b, "written.svg")
		if err != nil {
			t.Fatal(err)
		}
		r := outline.Compare(f, d, tol)
		if len(r.Findings) > 0 || r.Contours != len(d.Contours) || r.Lines != len(d.Lines) || !(r.MaxDeviationMM < 5e-6) {
			t.Errorf("%d of %d contours, %d of %d lines, deviation %g:\n%s", r.Contours, len(d.Contours), r.Lines, len(d.Lines), r.MaxDeviationMM, all(r.Findings))
		}
		if fs := outline.Judge(f); len(fs) > 0 {
			t.Errorf("judged:\n%s", all(fs))
		}
		for i, l := range f.Texts {
			if w := d.Texts[(i+1)%2]; l.At.Dist(w.At) > 2e-6 || l.Layer != w.Layer { // GUIDE is written before TEXT
				t.Errorf("text %d: %+v, want %+v", i, l, w)
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
			if p, _ := strconv.Unquote(imp.Path.Value); strings.Contains(p, "write") || strings.Contains(p, "draft") {
				t.Errorf("%s imports %s", name, p)
			}
		}
	}
}

// FuzzRead: no file makes the reader or the judge fail, and every line that they
// name is one of the file's.
func FuzzRead(f *testing.F) {
	f.Add([]byte(written(f, plate())))
	f.Add([]byte(strings.ToLower(written(f, plate()))))
	f.Add([]byte(`<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9"><g id="HOLE"><path d="m0 0a1 1 0 1 1 0 2h3v-1z l1 1zM1,1,2,2,1,3"/><path d='M 0 0 A 1e9 1e9 0 1 0 1e12 5 Z'/></g></svg>`))
	f.Add([]byte("<svg xmlns='http://www.w3.org/2000/svg' width='1e-300mm' height='1e-300mm' viewBox='0 0 1e12 1e12'><text x='1' y='2'><tspan>a</tspan>b&amp;c</text></svg>"))
	f.Add([]byte("<!DOCTYPE svg [<!ENTITY a 'b'>]><svg>&a;</svg><svg/>"))
	f.Fuzz(func(t *testing.T, src []byte) {
		file, err := svgread.Read(src, "fuzz.svg")
		if err != nil {
			t.Fatal(err)
		}
		last := strings.Count(string(src), "\n") + 1
		r := outline.Compare(file, plate(), tol)
		for _, x := range append(outline.Judge(file), r.Findings...) {
			if x.Line < 0 || x.Line > last || x.What == "" || x.File != "fuzz.svg" {
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

// BenchmarkRead20k reads 20,000 closed outlines of four corners.
func BenchmarkRead20k(b *testing.B) {
	d := cut.Drawing{Name: "speed", UnitMM: 1}
	for i := range 20000 {
		x, y := float64(i%200)*12.345678, float64(i/200)*23.456789
		d.Contours = append(d.Contours, cut.Contour{Layer: cut.Outline, Contour: geom.Polygon(
			geom.Pt(x, y), geom.Pt(x+10.123456, y+0.5), geom.Pt(x+10.5, y+20.25), geom.Pt(x+0.125, y+20.75))})
	}
	src := []byte(written(b, d.WithCheckBar()))
	b.SetBytes(int64(len(src)))
	b.ReportAllocs()
	for b.Loop() {
		f, err := svgread.Read(src, "speed.svg")
		if err != nil || len(f.Contours) != 20000 || len(f.Faults)+len(f.Form) > 0 {
			b.Fatal(err, len(f.Contours), f.Faults, f.Form)
		}
	}
}
