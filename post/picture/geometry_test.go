package picture

import (
	"bytes"
	"image/png"
	"math"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"starwright/geom"
)

func drawPlate(t *rapid.T, name string) plate {
	f := func(part string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name+part) }
	return plate{geom.Pt(f("x", 0, 40), f("y", 0, 40)), geom.Polar(1, geom.Deg(f("turn", -180, 180))), f("hw", 0.5, 20), f("hh", 0.5, 5)}
}

func (p plate) polygon() sf.Geometry {
	var xy []float64
	c := p.contour()
	for i := range len(c) + 1 {
		xy = append(xy, c[i%len(c)].X, c[i%len(c)].Y)
	}
	ring := sf.NewLineString(sf.NewSequence(xy, sf.DimXY))
	return sf.NewPolygon([]sf.LineString{ring}).AsGeometry()
}

// TestPlatesOverlap holds the test for overlap against simplefeatures.
func TestPlatesOverlap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := drawPlate(t, "p "), drawPlate(t, "q ")
		got, want := p.overlaps(q), sf.Intersects(p.polygon(), q.polygon())
		if got != want {
			// Plates that touch within rounding may go either way.
			if sf.Intersects(p.grow(1e-4).polygon(), q.polygon()) != sf.Intersects(p.grow(-1e-4).polygon(), q.polygon()) {
				return
			}
			t.Fatalf("overlap %t, simplefeatures says %t", got, want)
		}
	})
}

// TestPlateMeetsLine holds the test of a line against simplefeatures.
func TestPlateMeetsLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlate(t, "p ")
		f := func(name string) float64 { return rapid.Float64Range(-10, 50).Draw(t, name) }
		a, b := geom.Pt(f("ax"), f("ay")), geom.Pt(f("bx"), f("by"))
		line := sf.NewLineString(sf.NewSequence([]float64{a.X, a.Y, b.X, b.Y}, sf.DimXY)).AsGeometry()
		got, want := p.meets(a, b, 0), sf.Intersects(p.polygon(), line)
		if got != want && sf.Intersects(p.grow(1e-4).polygon(), line) == sf.Intersects(p.grow(-1e-4).polygon(), line) {
			t.Fatalf("meets %t, simplefeatures says %t", got, want)
		}
	})
}

// TestInkFindsWhatTheLongWayFinds holds the look-up by squares against a look
// at every line.
func TestInkFindsWhatTheLongWayFinds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := newInk(geom.Box{Max: geom.Pt(60, 60)})
		f := func(name string) float64 { return rapid.Float64Range(-20, 80).Draw(t, name) }
		for range rapid.IntRange(0, 20).Draw(t, "lines") {
			k.add(inkSeg{geom.Pt(f("ax"), f("ay")), geom.Pt(f("bx"), f("by")), 0.1, 0})
		}
		p := drawPlate(t, "p ")
		want := false
		for _, s := range k.segs {
			want = want || p.meets(s.a, s.b, s.half+clearLine)
		}
		if got := k.hits(p); got != want {
			t.Fatalf("hit %t, the long way says %t", got, want)
		}
	})
}

// TestHatchCoversTheArea: lines a gap apart are together as long as the area
// divided by the gap, up to what happens at the rim (Cavalieri).
func TestHatchCoversTheArea(t *testing.T) {
	tests := []struct {
		name string
		area []geom.Contour
		want float64 // mm²
	}{
		{"square", []geom.Contour{geom.Rect(geom.Box{Max: geom.Pt(40, 40)})}, 1600},
		{"circle", []geom.Contour{geom.Circle(geom.Pt(20, 20), 18)}, math.Pi * 18 * 18},
		{"square with a hole", []geom.Contour{geom.Rect(geom.Box{Max: geom.Pt(40, 40)}), geom.Circle(geom.Pt(20, 20), 10).Reversed()}, 1600 - math.Pi*100},
	}
	for _, tt := range tests {
		for _, deg := range []float64{0, 45, 90, 135} {
			s := NewPage(100, 100, "")
			const gap = 0.25
			s.Hatch(geom.Deg(deg), gap, Thin(Ink), tt.area...)
			sum := 0.0
			for _, it := range s.items {
				for _, r := range it.runs {
					for _, c := range r.Curves {
						sum += c.Length() * gap
					}
				}
			}
			if math.Abs(sum-tt.want) > 0.02*tt.want {
				t.Errorf("%s at %g degrees: lines stand for %.1f mm², want %.1f", tt.name, deg, sum, tt.want)
			}
		}
	}
}

// TestRasterCoversArea counts the dark of shapes whose area is known.
func TestRasterCoversArea(t *testing.T) {
	bulge := math.Tan(math.Pi / 8) // a quarter circle
	tests := []struct {
		name string
		draw func(s *Picture)
		want float64 // mm²
	}{
		{"disc", func(s *Picture) { s.Fill(Ink, geom.Circle(geom.Pt(20, 20), 15)) }, math.Pi * 225},
		{"ring", func(s *Picture) {
			s.Fill(Ink, geom.Circle(geom.Pt(20, 20), 15), geom.Circle(geom.Pt(20, 20), 5).Reversed())
		}, math.Pi * 200},
		{"round bar", func(s *Picture) { s.Line(geom.Pt(10, 10), geom.Pt(30, 25), Pen{Color: Ink, Width: 6, Round: true}) }, 25*6 + math.Pi*9},
		{"square bar", func(s *Picture) { s.Line(geom.Pt(10, 10), geom.Pt(30, 25), Pen{Color: Ink, Width: 6}) }, 25 * 6},
		{"bar to and fro", func(s *Picture) {
			s.Curves([]geom.Curve{{A: geom.Pt(10, 10), B: geom.Pt(30, 25)}, {A: geom.Pt(30, 25), B: geom.Pt(10, 10)}}, Pen{Color: Ink, Width: 6, Round: true})
		}, 25*6 + math.Pi*9},
		{"arc", func(s *Picture) {
			s.Curves([]geom.Curve{{A: geom.Pt(30, 10), B: geom.Pt(10, 30), Bulge: bulge}}, Pen{Color: Ink, Width: 2})
		}, math.Pi / 2 * 20 * 2},
		{"dashed line", func(s *Picture) {
			s.Line(geom.Pt(5, 5), geom.Pt(35, 5), Pen{Color: Ink, Width: 4, Dash: []float64{2, 1}})
		}, 80},
	}
	for _, tt := range tests {
		s := NewPage(40, 40, "")
		tt.draw(s)
		b, err := s.PNG(254) // 100 pixels a mm²
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(bytes.NewReader(b))
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for y := range img.Bounds().Dy() {
			for x := range img.Bounds().Dx() {
				r, _, _, _ := img.At(x, y).RGBA()
				sum += (0xff - float64(r>>8)) / (0xff - 0x1a)
			}
		}
		// Where two pieces share an edge its smoothing counts twice.
		if got := sum / 100; math.Abs(got-tt.want) > 0.01*tt.want {
			t.Errorf("%s: %.2f mm² are dark, want %.2f", tt.name, got, tt.want)
		}
	}
}

func TestTidyScale(t *testing.T) {
	tests := []struct {
		in, want float64
		words    string
	}{
		{1, 1, "1 : 1"}, {2.26, 2.2, "2.2 : 1"}, {11.9, 11, "11 : 1"}, {0.5, 0.5, "1 : 2"}, {0.349, 1 / 2.9, "1 : 2.9"},
		{0.3401, 1 / 3.0, "1 : 3"}, {0.1, 0.1, "1 : 10"}, {0.0061, 1 / 170.0, "1 : 170"}, {2.3, 2.3, "2.3 : 1"}, {1 / 2.3, 1 / 2.3, "1 : 2.3"},
	}
	for _, tt := range tests {
		got := tidyScale(tt.in)
		if math.Abs(got-tt.want) > 1e-9 || scaleWords(got) != tt.words || got > tt.in+1e-9 {
			t.Errorf("%g: %g (%s), want %g (%s)", tt.in, got, scaleWords(got), tt.want, tt.words)
		}
	}
	for _, k := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if got := tidyScale(k); got != 1 {
			t.Errorf("%g: %g", k, got)
		}
	}
}

func TestBarLength(t *testing.T) {
	tests := []struct {
		scale float64
		unit  geom.Unit
		want  string
	}{
		{1, geom.Millimetre, "20 mm"}, {1.0 / 3, geom.Millimetre, "50 mm"}, {2.2, geom.Millimetre, "10 mm"},
		{1, geom.Inch, "1 in"}, {1.0 / 3, geom.Inch, "4 in"}, {1.0 / 40, geom.Inch, "48 in"},
	}
	for _, tt := range tests {
		if got := tt.unit.Format(barLength(tt.scale, 100, tt.unit.Format)); got != tt.want {
			t.Errorf("scale %g: a bar of %s, want %s", tt.scale, got, tt.want)
		}
	}
	if got := barLength(1, 10, geom.Millimetre.Format); got != 0 {
		t.Errorf("a bar of %g mm where there is no room", got)
	}
}

func TestUpright(t *testing.T) {
	for deg := -180.0; deg <= 180; deg += 7.5 {
		a := upright(geom.Polar(1, geom.Deg(deg))).Degrees()
		if a <= -90 || a > 90+1e-9 {
			t.Errorf("along %g degrees text stands at %g", deg, a)
		}
		if math.Abs(math.Sin((a-deg)*math.Pi/180)) > 1e-9 {
			t.Errorf("along %g degrees text is not along: %g", deg, a)
		}
	}
}
