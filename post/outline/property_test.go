package outline_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/cut/cuttest"
	"starwright/post/outline"
)

// Every move of one vertex by more than the tolerance is found, and named with
// its distance.
func TestEveryMoveIsFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := cuttest.Random(t)
		f := fileOf(d)
		c := &f.Contours[rapid.IntRange(0, len(f.Contours)-1).Draw(t, "contour")]
		i := rapid.IntRange(0, len(c.Contour)-1).Draw(t, "vertex")
		by := geom.Polar(rapid.Float64Range(0.0021, 2).Draw(t, "by"), geom.Deg(rapid.Float64Range(0, 360).Draw(t, "direction")))
		c.Contour[i].Point = c.Contour[i].Add(by)
		r := outline.Compare(f, d, cuttest.Tolerance)
		// A vertex moved along a straight side or along its arc leaves the
		// shape as it was; nothing else may pass.
		if len(r.Findings) == 0 {
			if off := apartByRows(c.Contour, wanted(d, f, c)); off > cuttest.Tolerance*1.01 {
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
func wanted(d cut.Drawing, f *cut.File, c *cut.FileContour) geom.Contour {
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

// file makes what a reader would have made of contours on OUTLINE.
func file(cs ...geom.Contour) *cut.File {
	d := cut.Drawing{UnitMM: 1}
	for _, c := range cs {
		d.Contours = append(d.Contours, cut.Contour{Layer: cut.Outline, Contour: c})
	}
	return fileOf(d)
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
		fs := outline.Judge(file(c))
		got := strings.Contains(cuttest.Rules(fs), "self-crossing")
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
		got := cuttest.Rules(outline.Judge(file(a, b)))
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

func BenchmarkJudge20k(b *testing.B) {
	f := fileOf(cuttest.Long())
	b.ReportAllocs()
	for b.Loop() {
		if fs := outline.Judge(f); len(fs) > 0 {
			b.Fatal(fmt.Sprint(fs))
		}
	}
}

func BenchmarkCompare20k(b *testing.B) {
	d := cuttest.Long()
	f := fileOf(d)
	b.ReportAllocs()
	for b.Loop() {
		if r := outline.Compare(f, d, cuttest.Tolerance); len(r.Findings) > 0 || r.Contours != 20000 {
			b.Fatal(r.Findings)
		}
	}
}
