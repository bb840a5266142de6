package nest_test

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/nest"
)

func rect(name string, w, h float64) nest.Item {
	return nest.Item{Part: toolpath.Part{Name: name, Outline: geom.Rect(geom.Box{Max: geom.Pt(w, h)})}}
}

// kite is the segment of a star: valley to valley w, centre and tip angles in
// degrees.
func kite(name string, w, c, t float64) nest.Item {
	x := w / 2 * geom.Deg(c/2).Cot()
	l := x + w/2*geom.Deg(t/2).Cot()
	return nest.Item{Part: toolpath.Part{Name: name,
		Outline: geom.Polygon(geom.Pt(0, 0), geom.Pt(x, -w/2), geom.Pt(l, 0), geom.Pt(x, w/2))}}
}

func wedge(name string, long, deg float64) nest.Item {
	return nest.Item{Part: toolpath.Part{Name: name,
		Outline: geom.Polygon(geom.Pt(0, 0), geom.Pt(long, 0), geom.Pt(long, long*geom.Deg(deg).Tan()))}}
}

func sheet300() nest.Options {
	return nest.Options{W: 300, H: 300, Margin: 10, Spacing: 8, Cutter: 6.35}
}

// fail is what rapid and testing share.
type fail interface {
	Helper()
	Fatalf(string, ...any)
}

// prove looks at a layout by exact distances of the true outlines: the slow
// twin of the shapes that the search uses.
func prove(t fail, items []nest.Item, o nest.Options, r nest.Result) {
	t.Helper()
	const tol = 3e-6 // mm: rounding of turned outlines
	seen := make([]int, len(items))
	for si, sh := range r.Sheets {
		if len(sh.Parts) == 0 {
			t.Fatalf("sheet %d is empty", si+1)
		}
		for i, p := range sh.Parts {
			seen[p.Item]++
			if got, want := p.Part.Outline.Area(), items[p.Item].Part.Outline.Area(); math.Abs(got-want) > 1e-6*math.Abs(want) {
				t.Fatalf("part %s changed its area from %g to %g", p.Part.Name, want, got)
			}
			b := p.Part.Outline.Bounds()
			in := geom.Box{Min: geom.Pt(o.Margin, o.Margin), Max: geom.Pt(o.W-o.Margin, o.H-o.Margin)}
			if !in.Grow(tol).Holds(b) {
				t.Fatalf("sheet %d: %s at %v leaves the margins", si+1, p.Part.Name, b)
			}
			for _, z := range o.Zones {
				// The cutter, and a millimetre to spare.
				if d := apart(p.Part.Outline, geom.Rect(z)); d < math.Min(o.Spacing, o.Cutter+1)-tol {
					t.Fatalf("sheet %d: %s is %.6f from a screw zone", si+1, p.Part.Name, d)
				}
			}
			for _, q := range sh.Parts[i+1:] {
				if !b.Grow(o.Spacing).Overlaps(q.Part.Outline.Bounds()) {
					continue
				}
				if d := apart(p.Part.Outline, q.Part.Outline); d < o.Spacing-tol {
					t.Fatalf("sheet %d: %s and %s are %.6f apart", si+1, p.Part.Name, q.Part.Name, d)
				}
			}
		}
	}
	for i, n := range seen {
		if n != 1 {
			t.Fatalf("item %d lies on %d sheets", i, n)
		}
	}
	if len(r.Sheets) < r.Bound {
		t.Fatalf("%d sheets, fewer than the bound of %d", len(r.Sheets), r.Bound)
	}
}

// apart is the distance of two areas, 0 where they overlap.
func apart(a, b geom.Contour) float64 {
	if a.Contains(b[0].Point) || b.Contains(a[0].Point) {
		return 0
	}
	d := math.Inf(1)
	for _, e := range a.Curves() {
		for _, f := range b.Curves() {
			d = math.Min(d, geom.CurveDist(e, f))
		}
	}
	return d
}

func copies(n int, items ...nest.Item) []nest.Item {
	var out []nest.Item
	for i := range n {
		it := items[i%len(items)]
		it.Part.Name = fmt.Sprintf("%s-%d", it.Part.Name, i+1)
		out = append(out, it)
	}
	return out
}

func TestNestSheets(t *testing.T) {
	// A seat with an inside corner, as angle blocks and cradles have.
	ell := nest.Item{Part: toolpath.Part{Name: "ell", Outline: geom.Polygon(geom.Pt(0, 0), geom.Pt(120, 0), geom.Pt(120, 40), geom.Pt(40, 40), geom.Pt(40, 120), geom.Pt(0, 120))}}
	round := nest.Item{Part: toolpath.Part{Name: "disc", Outline: geom.Circle(geom.Pt(7, 9), 30)}}
	tests := []struct {
		name  string
		items []nest.Item
		edit  func(*nest.Options)
		most  int // sheets
	}{
		{"nothing", nil, nil, 0},
		{"one that just fits", []nest.Item{rect("a", 280, 280)}, nil, 1},
		{"four that just fit", copies(4, rect("a", 136, 136)), nil, 1},
		{"five of them", copies(5, rect("a", 136, 136)), nil, 2},
		{"one too long for its own turning", []nest.Item{rect("a", 280, 30)}, func(o *nest.Options) { o.W = 60; o.H = 300 }, 1},
		// Two right triangles of 270 by 180 with their long sides together.
		{"triangles in pairs", copies(2, wedge("w", 250, 36)), nil, 1},
		{"ells into each other", copies(3, ell), nil, 1},
		// In rows that lie in each other's gaps, 59 mm apart: 4, 3, 4, 3.
		{"discs", copies(14, round), nil, 1},
		{"screw zones", copies(4, rect("a", 100, 100)), func(o *nest.Options) { o.Zones = nest.CornerZones(300, 300, 25) }, 1},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			o := sheet300()
			if tt.edit != nil {
				tt.edit(&o)
			}
			r, err := nest.NewBatch(tt.items).Nest(t.Context(), o)
			if err != nil {
				t.Fatal(err)
			}
			prove(t, tt.items, o, r)
			if len(r.Sheets) > tt.most {
				t.Errorf("%d sheets, %d are enough", len(r.Sheets), tt.most)
			}
		})
	}
}

func TestNestMany(t *testing.T) {
	for _, tt := range []struct {
		name  string
		items []nest.Item
	}{
		{"200 of five shapes", copies(200, kite("kite", 80, 72, 36), wedge("block-18", 120, 18), wedge("block-36", 110, 36), rect("gauge", 60, 40), rect("spline", 50, 19))},
		{"200 different", func() []nest.Item {
			var out []nest.Item
			for i := range 200 {
				f := float64(i)
				out = append(out, []nest.Item{kite("k", 30+f/5, 72, 36), wedge("w", 60+f/4, 18+f/20), rect("r", 20+f/4, 30+f/6)}[i%3])
			}
			return out
		}()},
	} {
		t.Run(tt.name, func(t *testing.T) {
			o := sheet300()
			o.Zones = nest.CornerZones(300, 300, 20)
			r, err := nest.NewBatch(tt.items).Nest(t.Context(), o)
			if err != nil {
				t.Fatal(err)
			}
			prove(t, tt.items, o, r)
			t.Logf("%d sheets, bound %d, used %.0f %%", len(r.Sheets), r.Bound, 100*r.Used)
			again, err := nest.NewBatch(tt.items).Nest(t.Context(), o)
			if err != nil || !reflect.DeepEqual(r, again) {
				t.Error("the same parts lie differently the second time")
			}
		})
	}
}

func TestNestProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := sheet300()
		o.Spacing = rapid.Float64Range(3, 15).Draw(t, "spacing")
		o.Cutter = 3
		o.Margin = rapid.Float64Range(3, 20).Draw(t, "margin")
		o.Zones = nest.CornerZones(300, 300, rapid.Float64Range(0, 30).Draw(t, "zone"))
		var items []nest.Item
		for i := range rapid.IntRange(1, 7).Draw(t, "parts") {
			n := rapid.IntRange(3, 8).Draw(t, "corners")
			c := make(geom.Contour, n)
			for k := range c {
				a := geom.Deg(360 * (float64(k) + rapid.Float64Range(-0.3, 0.3).Draw(t, "turn")) / float64(n))
				c[k].Point = geom.Polar(rapid.Float64Range(12, 80).Draw(t, "reach"), a)
				if rapid.IntRange(0, 3).Draw(t, "arc") == 0 {
					c[k].Bulge = rapid.SampledFrom([]float64{-0.12, 0.12, 0.05}).Draw(t, "bulge")
				}
			}
			if !valid(c) {
				t.Skip("crosses itself")
			}
			items = append(items, nest.Item{Part: toolpath.Part{Name: fmt.Sprint(i), Outline: c}})
		}
		r, err := nest.NewBatch(items).Nest(t.Context(), o)
		if err != nil {
			var big *nest.TooLarge
			if !errors.As(err, &big) {
				t.Fatal(err)
			}
			return
		}
		prove(t, items, o, r)
	})
}

// A batch laid out again, with other options, lies as one that is laid out for the
// first time.
func TestNestAgain(t *testing.T) {
	items := append(copies(3, kite("kite", 60, 72, 36), wedge("wedge", 80, 25)), rect("plate", 120, 90))
	batch := nest.NewBatch(items)
	for i, spacing := range []float64{8, 16, 8, 30, 9} { // a wide spacing fills larger bays
		o := sheet300()
		o.Spacing = spacing
		want, err := nest.NewBatch(items).Nest(t.Context(), o)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := batch.Nest(t.Context(), o); err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("look %d, %g mm apart: %v, or laid in another way", i+1, spacing, err)
		}
	}
}

// valid asks the reference geometry whether an outline is one. Chords hide an arc that
// leaves its corner on the wrong side of the next piece, by less than they are exact: such
// a pair meets twice.
func valid(c geom.Contour) bool {
	for i := range c {
		if len(geom.Intersections(c.Curve(i), c.Curve((i+1)%len(c)))) > 1 {
			return false
		}
	}
	pts := c.Flatten(0.01)
	var xy []float64
	for _, p := range append(pts, pts[0]) {
		xy = append(xy, p.X, p.Y)
	}
	return sf.NewPolygon([]sf.LineString{sf.NewLineString(sf.NewSequence(xy, sf.DimXY))}).Validate() == nil
}

func TestNestRefuses(t *testing.T) {
	tests := []struct {
		name  string
		items []nest.Item
		edit  func(*nest.Options)
		want  []string // words of the message
	}{
		{"too wide", []nest.Item{rect("board", 281.3, 279)}, nil, []string{"sheet.width = 300 mm", "board is 281.3 mm by 279 mm", "1.3 mm too wide", `width = "301.3 mm"`}},
		// 290 by 30 fits neither way on 250 by 250, 30 + 20 less.
		{"too long both ways", []nest.Item{rect("board", 290, 30)}, func(o *nest.Options) { o.W, o.H = 250, 250 }, []string{"60 mm too"}},
		{"too large all over", []nest.Item{rect("board", 500, 500)}, nil, []string{"220 mm too wide and 220 mm too high"}},
		{"not between the zones", []nest.Item{rect("board", 280, 280)}, func(o *nest.Options) { o.Zones = nest.CornerZones(300, 300, 30) }, []string{"sheet.screw_zones", "board"}},
		{"no spacing", nil, func(o *nest.Options) { o.Spacing = 0 }, []string{"sheet.spacing = 0 mm", `"6.4 mm"`}},
		{"spacing below the cutter", nil, func(o *nest.Options) { o.Spacing = 6 }, []string{"sheet.spacing = 6 mm", "6.4 mm wide", `"6.4 mm"`}},
		{"spacing no number", nil, func(o *nest.Options) { o.Spacing = math.NaN() }, []string{"sheet.spacing"}},
		{"no margin", nil, func(o *nest.Options) { o.Margin = 0 }, []string{"sheet.margin = 0 mm", `"6.4 mm"`}},
		{"margins eat the sheet", nil, func(o *nest.Options) { o.Margin = 150 }, []string{"sheet.margin = 150 mm", "leave nothing"}},
		{"no sheet", nil, func(o *nest.Options) { o.W = -1 }, []string{"sheet.width = -1 mm"}},
		{"no outline", []nest.Item{{Part: toolpath.Part{Name: "ghost"}}}, nil, []string{"ghost"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			o := sheet300()
			if tt.edit != nil {
				tt.edit(&o)
			}
			_, err := nest.NewBatch(tt.items).Nest(t.Context(), o)
			if err == nil {
				t.Fatal("was not refused")
			}
			for _, w := range tt.want {
				if !strings.Contains(err.Error(), w) {
					t.Errorf("message %q lacks %q", err, w)
				}
			}
		})
	}
}

func BenchmarkNest200(b *testing.B) {
	b.ReportAllocs()
	items := copies(200, kite("kite", 80, 72, 36), wedge("block-18", 120, 18), wedge("block-36", 110, 36), rect("gauge", 60, 40), rect("spline", 50, 19))
	for b.Loop() {
		if _, err := nest.NewBatch(items).Nest(b.Context(), sheet300()); err != nil {
			b.Fatal(err)
		}
	}
}
