package backplot_test

import (
	"math"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/backplot"
)

// drawPoint draws a place on a raster of tenths within 20 mm, so that cuts
// meet exactly as often as they do in programs.
func drawPoint(t *rapid.T, name string) geom.Point {
	return geom.Pt(float64(rapid.IntRange(0, 200).Draw(t, name+"X"))/10, float64(rapid.IntRange(0, 200).Draw(t, name+"Y"))/10)
}

// drawMoves draws cuts: lines, plunges and arcs at a few depths, level or not.
func drawMoves(t *rapid.T, most int) []toolpath.Move {
	var out []toolpath.Move
	for range rapid.IntRange(0, most).Draw(t, "cuts") {
		a, b := drawPoint(t, "from"), drawPoint(t, "to")
		z := rapid.SampledFrom([]float64{-1, -2, -3})
		m := toolpath.Move{Kind: toolpath.Linear, From: geom.Point3{X: a.X, Y: a.Y, Z: z.Draw(t, "zFrom")}, To: geom.Point3{X: b.X, Y: b.Y, Z: z.Draw(t, "zTo")}}
		switch rapid.IntRange(0, 6).Draw(t, "kind") {
		case 0:
			m.To.X, m.To.Y = m.From.X, m.From.Y
		case 3: // a circle, mostly with an island inside
			m.To.X, m.To.Y = m.From.X, m.From.Y
			m.Kind, m.Sweep = toolpath.ArcCCW, 2*math.Pi
			m.Center = a.Add(geom.Pt(float64(rapid.IntRange(1, 50).Draw(t, "radius"))/10, 0))
		case 4: // once more along an earlier way, at other heights
			if len(out) == 0 {
				break
			}
			old := out[rapid.IntRange(0, len(out)-1).Draw(t, "again")]
			if !old.IsArc() && rapid.Bool().Draw(t, "back") {
				old.From, old.To = old.To, old.From
			}
			old.From.Z, old.To.Z = m.From.Z, m.To.Z
			out = append(out, old)
			continue
		case 1, 2:
			if a != b {
				bulge := rapid.SampledFrom([]float64{-1, -0.4142135623730951, 0.1, 0.4142135623730951, 1}).Draw(t, "bulge")
				c := geom.Curve{A: a, B: b, Bulge: bulge}
				m.Kind, m.Center, m.Sweep = toolpath.ArcCCW, c.Center(), c.Sweep()
				if bulge < 0 {
					m.Kind = toolpath.ArcCW
				}
			}
		}
		if rapid.Bool().Draw(t, "level") {
			m.To.Z = m.From.Z
		}
		out = append(out, m)
	}
	return out
}

// gap is the slow twin: how far p lies beyond the reach of every cut at or
// below z, from the definition, each cut looked at in hundreds of places.
func gap(ms []toolpath.Move, p geom.Point, r, z float64) float64 {
	d := math.Inf(1)
	for _, m := range ms {
		cs := m.Curves()
		for i, c := range cs {
			const n = 300
			for k := 0; k <= n; k++ {
				t := (float64(i) + float64(k)/n) / float64(len(cs))
				if h := m.From.Z + t*(m.To.Z-m.From.Z); h <= z+1e-12 {
					d = math.Min(d, c.At(float64(k)/n).Dist(p)-r)
				}
			}
		}
	}
	return d
}

// Whether a place on a curve is cut agrees with the slow twin.
func TestOpenAgreesWithTwin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.SampledFrom([]float64{1, 1.5, 3.175}).Draw(t, "radius")
		ms := drawMoves(t, 8)
		f := backplot.NewField(r)
		for _, m := range ms {
			f.Add(m)
		}
		c := geom.Curve{A: drawPoint(t, "a"), B: drawPoint(t, "b"), Bulge: rapid.SampledFrom([]float64{0, 0, 0.3, -0.7, 1}).Draw(t, "bend")}
		z := rapid.SampledFrom([]float64{-0.5, -1, -1.7, -2, -3}).Draw(t, "z")
		spans := f.Open(c, r, z)
		for k := 0; k <= 20; k++ {
			at := float64(k) / 20
			open := false
			edge := false
			for _, s := range spans {
				open = open || at > s[0] && at < s[1]
				edge = edge || math.Abs(at-s[0]) < 1e-9 || math.Abs(at-s[1]) < 1e-9
			}
			// The twin looks at cuts in places up to 0.1 mm apart, which are at
			// most half of that from the nearest; a gap moves by less.
			const twin = 0.05
			switch g := gap(ms, c.At(at), r, z); {
			case edge:
			case g > twin && !open:
				t.Fatalf("at part %g the curve lies %g mm beyond every cut, and is not open: %v", at, g, spans)
			case g < -twin && open:
				t.Fatalf("at part %g the curve lies %g mm within a cut, and is open: %v", at, -g, spans)
			}
		}
	})
}

// Where the cover leaves no wood the twin finds none, and where it leaves some the
// twin finds it.
func TestStandingAgreesWithTwin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const r = 3.0
		ms := drawMoves(t, 14)
		f := backplot.NewField(r)
		for _, m := range ms {
			f.Add(m)
		}
		o := drawPoint(t, "corner")
		// Often about the middle of a circle, so that the region's edge is cut
		// and its inside is not.
		if n := len(ms); n > 0 && ms[n-1].IsArc() && rapid.Bool().Draw(t, "inside") {
			o = ms[n-1].Center.Sub(geom.Pt(1, 1))
		}
		b := geom.Box{Min: o, Max: o.Add(geom.Pt(float64(rapid.IntRange(1, 40).Draw(t, "w"))/10, float64(rapid.IntRange(1, 40).Draw(t, "h"))/10))}
		const z = -1.5
		at, stands := f.Standing(geom.Rect(b), z, 0)
		const twin = 0.05
		if stands {
			if g := gap(ms, at, r, z); g < -twin || !b.Grow(1e-6).Overlaps(geom.Box{Min: at, Max: at}) {
				t.Fatalf("wood is said to stand at %v, which is %g mm within a cut", at, -g)
			}
			return
		}
		const n = 16
		for i := 0; i <= n; i++ {
			for k := 0; k <= n; k++ {
				p := geom.Pt(b.Min.X+b.W()*float64(i)/n, b.Min.Y+b.H()*float64(k)/n)
				if g := gap(ms, p, r, z); g > twin {
					t.Fatalf("no wood is said to stand, and %v is %g mm beyond every cut", p, g)
				}
			}
		}
	})
}

// Islands: the cutter leads round wood that no edge of the region meets.
func TestStandingFindsIslands(t *testing.T) {
	const r, z = 3.0, -1.0
	rows := []struct {
		name   string
		path   float64 // radius of the cutter's way
		grow   float64
		stands bool
	}{
		{"an island of 1 mm", 4, 0, true},
		{"an island of 0.02 mm", 3.02, 0, true},
		{"it is gone once cuts count as 0.03 wider", 3.02, 0.03, false},
		{"none where the way is as narrow as the cutter", 2.99, 0, false},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			f := backplot.NewField(r)
			o := geom.Pt(10, 10)
			from := geom.Point3{X: o.X + row.path, Y: o.Y, Z: -2}
			f.Add(toolpath.Move{Kind: toolpath.ArcCW, From: from, To: from, Center: o, Sweep: -2 * math.Pi})
			if _, got := f.Standing(geom.Rect(geom.Box{Min: geom.Pt(7, 7), Max: geom.Pt(13, 13)}), z, row.grow); got != row.stands {
				t.Errorf("stands %t", got)
			}
		})
	}
}

// Splitting cuts, turning them round, repeating them and cutting in another
// order leaves the same wood.
func TestStandingKeepsUnderRewriting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const r, z = 3.0, -1.5
		ms := drawMoves(t, 10)
		a, b := backplot.NewField(r), backplot.NewField(r)
		for _, m := range ms {
			a.Add(m)
		}
		for i := len(ms) - 1; i >= 0; i-- {
			m := ms[i]
			if m.IsArc() {
				m.From, m.To, m.Sweep = m.To, m.From, -m.Sweep
				m.Kind = toolpath.ArcCW + toolpath.ArcCCW - m.Kind
				b.Add(m)
				continue
			}
			mid := geom.Point3{X: (m.From.X + m.To.X) / 2, Y: (m.From.Y + m.To.Y) / 2, Z: (m.From.Z + m.To.Z) / 2}
			b.Add(toolpath.Move{Kind: m.Kind, From: m.To, To: mid})
			b.Add(toolpath.Move{Kind: m.Kind, From: mid, To: m.From})
			b.Add(m)
		}
		o := drawPoint(t, "corner")
		region := geom.Rect(geom.Box{Min: o, Max: o.Add(geom.Pt(2.5, 1.5))})
		// Grown a little either way, so that rounding at a touch decides nothing.
		_, less := a.Standing(region, z, 1e-4)
		_, more := b.Standing(region, z, -1e-4)
		if less && !more {
			t.Fatal("wood stands, and none when the same is cut in other pieces")
		}
		_, less = b.Standing(region, z, 1e-4)
		_, more = a.Standing(region, z, -1e-4)
		if less && !more {
			t.Fatal("no wood stands, and some when the same is cut in other pieces")
		}
	})
}

// Against simplefeatures: what is left of a rectangle after cuts along lines,
// from unions two by two, each capsule a polygon of many sides.
func TestStandingAgreesWithSimplefeatures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const r = 3.0
		f := backplot.NewField(r)
		var caps []sf.Geometry
		for range rapid.IntRange(1, 8).Draw(t, "cuts") {
			a, b := drawPoint(t, "from"), drawPoint(t, "to")
			f.Add(toolpath.Move{Kind: toolpath.Linear, From: geom.Point3{X: a.X, Y: a.Y, Z: -2}, To: geom.Point3{X: b.X, Y: b.Y, Z: -2}})
			caps = append(caps, capsulePolygon(t, a, b, r))
		}
		for len(caps) > 1 {
			u, err := sf.Union(caps[0], caps[1])
			if err != nil {
				t.Skip("simplefeatures gives up: ", err)
			}
			caps = append(caps[2:], u)
		}
		o := drawPoint(t, "corner")
		w, h := float64(rapid.IntRange(5, 60).Draw(t, "w"))/10, float64(rapid.IntRange(5, 60).Draw(t, "h"))/10
		region := geom.Rect(geom.Box{Min: o, Max: o.Add(geom.Pt(w, h))})
		left, err := sf.Difference(polygon(t, region.Flatten(1)), caps[0])
		if err != nil {
			t.Skip("simplefeatures gives up: ", err)
		}
		// The polygon's sides lie up to 0.004 mm within the round ends, so
		// slivers of that width round the region are nothing.
		const sides = 0.004
		switch _, stands := f.Standing(region, -1, 0); {
		case stands:
			if _, much := f.Standing(region, -1, 2*sides); much && left.Area() < 1e-6 {
				t.Fatalf("wood is said to stand, simplefeatures leaves %g mm2", left.Area())
			}
		case left.Area() > sides*left.Length()/2+1e-6:
			t.Fatalf("no wood is said to stand, simplefeatures leaves %g mm2 with an edge of %g mm", left.Area(), left.Length())
		}
	})
}

func capsulePolygon(t *rapid.T, a, b geom.Point, r float64) sf.Geometry {
	const sides = 64 // of a half circle: chords up to 0.001 r within it
	var pts []geom.Point
	dir := b.Sub(a).Angle()
	for i := 0; i <= sides; i++ {
		pts = append(pts, b.Add(geom.Polar(r, dir-math.Pi/2+geom.Angle(math.Pi*float64(i)/sides))))
	}
	for i := 0; i <= sides; i++ {
		if a == b && (i == 0 || i == sides) {
			continue // the same point as the other half's end
		}
		pts = append(pts, a.Add(geom.Polar(r, dir+math.Pi/2+geom.Angle(math.Pi*float64(i)/sides))))
	}
	return polygon(t, pts)
}

func polygon(t *rapid.T, pts []geom.Point) sf.Geometry {
	var xy []float64
	for _, p := range append(pts, pts[0]) {
		xy = append(xy, p.X, p.Y)
	}
	ring := sf.NewLineString(sf.NewSequence(xy, sf.DimXY))
	poly := sf.NewPolygon([]sf.LineString{ring})
	if err := poly.Validate(); err != nil {
		t.Skip("no polygon: ", err)
	}
	return poly.AsGeometry()
}

// The fast distance agrees with geom's, which is tested for itself.
func TestCurveDistAgrees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bend := rapid.SampledFrom([]float64{0, 0, 0.01, 0.1, -0.4142135623730951, 1, -1, 1.7})
		a := geom.Curve{A: drawPoint(t, "a"), B: drawPoint(t, "b"), Bulge: bend.Draw(t, "ab")}
		b := geom.Curve{A: drawPoint(t, "c"), B: drawPoint(t, "d"), Bulge: bend.Draw(t, "cd")}
		if a.A == a.B {
			a.Bulge = 0
		}
		if b.A == b.B {
			b.Bulge = 0
		}
		const tol = 1e-6 // mm; geom counts as meeting what is 1e-7 apart
		if got, want := backplot.CurveDist(a, b), geom.CurveDist(a, b); math.Abs(got-want) > tol {
			t.Fatalf("%v and %v are %g apart, geom says %g", a, b, got, want)
		}
	})
}
