package dxfread_test

import (
	"fmt"
	"go/parser"
	"go/token"
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/post/dxf"
	"starwright/post/dxf/dxfread"
	"starwright/post/dxf/dxfwrite"
)

// drawDrawing makes a drawing that can be cut: parts in a row, some with arcs,
// some with a hole, lines on GUIDE and words.
func drawDrawing(t *rapid.T) dxf.Drawing {
	d := dxf.Drawing{Name: rapid.String().Draw(t, "name"), UnitMM: rapid.SampledFrom([]float64{1, geom.MMPerInch}).Draw(t, "unit")}
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
		d.Contours = append(d.Contours, dxf.Contour{Layer: dxf.Outline, Contour: c})
		if rapid.Bool().Draw(t, "hole") {
			d.Contours = append(d.Contours, dxf.Contour{Layer: dxf.Hole, Contour: geom.Circle(o, rapid.Float64Range(0.1, 4).Draw(t, "hole radius"))})
		}
		d.Lines = append(d.Lines, dxf.Line{Layer: dxf.Guide, A: o, B: o.Add(geom.Pt(rapid.Float64Range(1, 20).Draw(t, "length"), 0))})
	}
	d.Texts = append(d.Texts, dxf.Label{Layer: dxf.Text, At: geom.Pt(x0, y0), HeightMM: 3, Text: "part " + rapid.String().Draw(t, "text")})
	return d.WithCheckBar()
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
		r := dxfread.Compare(f, d, tol)
		if len(r.Findings) > 0 || r.Contours != len(d.Contours) || r.Lines != len(d.Lines) || !(r.MaxDeviationMM < 2e-6) {
			t.Errorf("%d of %d contours, %d of %d lines, deviation %g:\n%s", r.Contours, len(d.Contours), r.Lines, len(d.Lines), r.MaxDeviationMM, all(r.Findings))
		}
		if fs := dxfread.Judge(f); len(fs) > 0 {
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

// Every move of one vertex by more than the tolerance is found, and named with
// its distance.
func TestEveryMoveIsFound(t *testing.T) {
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
		c := &f.Contours[rapid.IntRange(0, len(f.Contours)-1).Draw(t, "contour")]
		i := rapid.IntRange(0, len(c.Contour)-1).Draw(t, "vertex")
		by := geom.Polar(rapid.Float64Range(0.0021, 2).Draw(t, "by"), geom.Deg(rapid.Float64Range(0, 360).Draw(t, "direction")))
		c.Contour[i].Point = c.Contour[i].Add(by)
		r := dxfread.Compare(f, d, tol)
		// A vertex moved along a straight side or along its arc leaves the
		// shape as it was; nothing else may pass.
		if len(r.Findings) == 0 {
			if off := apartByRows(c.Contour, wanted(d, f, c)); off > tol*1.01 {
				t.Errorf("vertex %d of contour at line %d moved by %v, %v mm off: not found", i, c.Line, by, off)
			}
			return
		}
		if f := r.Findings[0]; f.ByMM > by.Len()+1e-6 && f.Rule == "displaced" && f.Line == int(c.VertexLines[i]) {
			t.Errorf("moved by %v, said to be %v", by.Len(), f)
		}
	})
}

// wanted returns the contour of the drawing that c was read from.
func wanted(d dxf.Drawing, f *dxfread.File, c *dxfread.Contour) geom.Contour {
	for i := range f.Contours {
		if &f.Contours[i] == c {
			return d.Contours[i].Contour
		}
	}
	return nil
}

// apartByRows is the slow twin of the comparison: rows of points along each
// contour against the other.
func apartByRows(a, b geom.Contour) float64 {
	worst := 0.0
	for _, pair := range [2][2]geom.Contour{{a, b}, {b, a}} {
		for _, e := range pair[0].Curves() {
			for k := range 200 {
				worst = math.Max(worst, pair[1].DistTo(e.At(float64(k)/200)))
			}
		}
	}
	return worst
}

// drawRing makes a polygon with corners on a coarse grid, no two alike in a
// row, so that touching, crossing and running along itself all occur.
func drawRing(t *rapid.T, label string) geom.Contour {
	n := rapid.IntRange(3, 7).Draw(t, label+" corners")
	var c geom.Contour
	for i := range n {
		p := geom.Pt(float64(rapid.IntRange(0, 8).Draw(t, "x")), float64(rapid.IntRange(0, 8).Draw(t, "y")))
		if i > 0 && p == c[i-1].Point || i == n-1 && p == c[0].Point {
			t.Skip("vertex repeated")
		}
		c = append(c, geom.Vertex{Point: p})
	}
	return c
}

// file makes what the reader would have made of contours on OUTLINE.
func file(cs ...geom.Contour) *dxfread.File {
	f := &dxfread.File{Name: "rings.dxf", Version: "AC1009", UnitMM: 1, UnitLine: 1, InsUnits: -1}
	for _, c := range cs {
		f.Contours = append(f.Contours, dxfread.Contour{
			Entity: "POLYLINE", Layer: dxf.Outline, Closed: true, Contour: c, VertexLines: make([]int32, len(c)),
		})
	}
	return f
}

// ring makes the closed line of a contour for simplefeatures.
func ring(c geom.Contour) sf.LineString {
	var xy []float64
	for i := range len(c) + 1 {
		v := c[i%len(c)]
		xy = append(xy, v.X, v.Y)
	}
	return sf.NewLineString(sf.NewSequence(xy, sf.DimXY))
}

// Self-crossing against the simple-features rule for a ring (OGC 06-103r4,
// 6.1.6: a LinearRing is closed and simple), as simplefeatures has it.
func TestSelfCrossingAgainstSimplefeatures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawRing(t, "ring")
		fs := dxfread.Judge(file(c))
		got := strings.Contains(rules(fs), "self-crossing")
		if want := !ring(c).IsSimple(); got != want {
			t.Errorf("%v: self-crossing %v, simplefeatures %v", c, got, want)
		}
	})
}

// Two simple rings: meeting, and one in the other, against simplefeatures.
func TestMeetingAgainstSimplefeatures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawRing(t, "a"), drawRing(t, "b")
		if !ring(a).IsSimple() || !ring(b).IsSimple() {
			t.Skip("not simple")
		}
		got := rules(dxfread.Judge(file(a, b)))
		meets := strings.Contains(got, "crossing") || strings.Contains(got, "overlap") || strings.Contains(got, "duplicate")
		if want := sf.Intersects(ring(a).AsGeometry(), ring(b).AsGeometry()); meets != want {
			t.Errorf("%v and %v meet: %v, simplefeatures %v (%s)", a, b, meets, want, got)
		}
		if meets {
			return
		}
		pa, pb := sf.NewPolygon([]sf.LineString{ring(a)}), sf.NewPolygon([]sf.LineString{ring(b)})
		want := sf.Intersects(pa.AsGeometry(), pb.AsGeometry())
		if nested := strings.Contains(got, "nesting"); nested != want {
			t.Errorf("%v and %v nested: %v, simplefeatures %v", a, b, nested, want)
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
		r := dxfread.Compare(file, plate(1), tol)
		for _, x := range append(dxfread.Judge(file), r.Findings...) {
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
func sheet20k() dxf.Drawing {
	d := dxf.Drawing{Name: "speed", UnitMM: 1}
	for i := range 20000 {
		x, y := float64(i%200)*12.345678, float64(i/200)*23.456789
		d.Contours = append(d.Contours, dxf.Contour{Layer: dxf.Outline, Contour: geom.Polygon(
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

func BenchmarkJudge20k(b *testing.B) {
	f, err := dxfread.Read([]byte(written(b, sheet20k())), "speed.dxf")
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if fs := dxfread.Judge(f); len(fs) > 0 {
			b.Fatal(fmt.Sprint(fs))
		}
	}
}

func BenchmarkCompare20k(b *testing.B) {
	d := sheet20k()
	f, err := dxfread.Read([]byte(written(b, d)), "speed.dxf")
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if r := dxfread.Compare(f, d, tol); len(r.Findings) > 0 || r.Contours != 20000 {
			b.Fatal(r.Findings)
		}
	}
}
