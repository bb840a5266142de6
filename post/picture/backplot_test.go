package picture

import (
	"bytes"
	"fmt"
	"image/png"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/finding"
)

// way makes moves along places; the first is a rapid there.
func way(kind toolpath.Kind, ps ...geom.Point3) []toolpath.Move {
	out := []toolpath.Move{{Line: 1, Kind: toolpath.Rapid, From: ps[0], To: ps[0]}}
	for i, p := range ps[1:] {
		out = append(out, toolpath.Move{Line: i + 2, Kind: kind, From: ps[i], To: p, RPM: 18000})
	}
	return out
}

func p3(x, y, z float64) geom.Point3 { return geom.Point3{X: x, Y: y, Z: z} }

func TestDepths(t *testing.T) {
	many := []geom.Point3{p3(0, 0, 1)}
	for k := 1; k <= 25; k++ {
		z := -0.4 * float64(k)
		many = append(many, p3(0, 0, z), p3(10, 0, z))
	}
	tests := []struct {
		name  string
		moves []toolpath.Move
		want  string
	}{
		{"ramp, level, ramp, level", way(toolpath.Linear, p3(0, 0, 1), p3(0, 0, 0), p3(50, 0, -2.5), p3(0, 0, -2.5), p3(50, 0, -5), p3(0, 0, -5)), "[2.5 5]"},
		{"the same depth within rounding of a file", way(toolpath.Linear, p3(0, 0, -3), p3(5, 0, -3), p3(5, 0, -3.0005), p3(9, 0, -3.0005)), "[3]"},
		{"above the wood", way(toolpath.Linear, p3(0, 0, 1), p3(5, 0, 1)), "[]"},
		{"no level cut", way(toolpath.Linear, p3(0, 0, 0), p3(5, 0, -1)), "[]"},
		{"rapids do not count", way(toolpath.Rapid, p3(0, 0, -3), p3(5, 0, -3)), "[]"},
		{"more than can be told apart", way(toolpath.Linear, many...), "[1.2 2.8 4 5.6 6.8 8.4 10]"},
		{"nothing", nil, "[]"},
	}
	for _, tt := range tests {
		if got := fmt.Sprint(depths(tt.moves)); got != tt.want {
			t.Errorf("%s: %s, want %s", tt.name, got, tt.want)
		}
	}
}

// TestShades: wood is shaded as deep as the cutter went all along a stretch.
func TestShades(t *testing.T) {
	moves := way(toolpath.Linear, p3(0, 0, 0), p3(40, 0, -5), p3(0, 0, -5), p3(0, 10, -5), p3(40, 10, -10), p3(0, 10, -10), p3(0, 20, 2), p3(10, 20, -10))
	c := newCuts(moves, geom.Box{Min: geom.Pt(-100, -100), Max: geom.Pt(100, 100)})
	got := ""
	for _, p := range c.pieces {
		got += fmt.Sprintf("%d:%.4g,%.4g-%.4g,%.4g ", p.shade, p.A.X, p.A.Y, p.B.X, p.B.Y)
	}
	// The ramps along y 0 and y 10 are run along again at their full depth.
	// The way up from 0,10 passes 5 mm at 5/12 and the surface at 10/12; the
	// last ramp passes the surface at 2/12 and 5 mm at 7/12.
	want := "1:40,0-0,0 1:0,0-0,10 2:40,10-0,10 1:0,10-0,14.17 0:0,14.17-0,18.33 0:1.667,20-5.833,20 1:5.833,20-10,20 "
	if got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// TestClip holds clipping against many points of the curve.
func TestClip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string) float64 { return rapid.Float64Range(-20, 20).Draw(t, name) }
		e := geom.Curve{A: geom.Pt(f("ax"), f("ay")), B: geom.Pt(f("bx"), f("by"))}
		if rapid.Bool().Draw(t, "arc") {
			e.Bulge = rapid.Float64Range(-1, 1).Draw(t, "bulge")
		}
		box := geom.Box{Min: geom.Pt(-10, -8), Max: geom.Pt(10, 8)}
		parts, whole := clip(e, box)
		const tol = 0.1 // mm, twice that of the chords
		for _, p := range parts {
			if !box.Grow(1e-9).Holds(p.Bounds()) && !whole {
				t.Fatalf("%v leaves the box", p)
			}
		}
		for i := range 101 {
			q := e.At(float64(i) / 100)
			near := math.Inf(1)
			for _, p := range parts {
				near = math.Min(near, p.DistTo(q))
			}
			at := geom.Box{Min: q, Max: q}
			if box.Grow(-tol).Holds(at) && near > tol {
				t.Fatalf("%v lies in the box, %g mm from what was kept", q, near)
			}
			if !box.Grow(tol).Holds(at) && near < 1e-9 {
				t.Fatalf("%v lies outside and was kept", q)
			}
		}
	})
}

// plot is a small back-plot that a test changes.
func plot(moves []toolpath.Move) BackPlotInput {
	return BackPlotInput{
		Title: "A slot", Sub: "Read back.", Say: geom.Millimetre.Format, Moves: moves, Cutter: 6, Side: true, Depth: 5,
		Shapes:  []Shape{{Contour: geom.Rect(geom.Box{Max: geom.Pt(80, 20)}), Look: Facet}},
		Targets: []geom.Contour{geom.RoundedRect(geom.Box{Min: geom.Pt(17, 7), Max: geom.Pt(63, 13)}, 3)},
		Target:  "slot as asked for",
		Levels:  []Level{{0, "Z0: the facet"}},
		Dims:    []Dim{{A: geom.Pt(0, 0), B: geom.Pt(17, 10), Side: Below}},
	}
}

func goodMoves() []toolpath.Move {
	return way(toolpath.Linear, p3(20, 10, 10), p3(20, 10, 0), p3(60, 10, -2.5), p3(20, 10, -2.5), p3(60, 10, -5), p3(20, 10, -5), p3(20, 10, 10))
}

func wordsOf(s *Picture) string {
	var out []string
	for _, w := range s.Words() {
		out = append(out, w.Text)
	}
	return strings.Join(out, "\n")
}

func TestBackPlotSaysWhatItShows(t *testing.T) {
	in := plot(goodMoves())
	at := p3(40, 12, -5)
	in.Findings = []finding.Finding{
		{File: "gcode/slot-left.nc", Line: 14, What: "cuts 0.100 mm outside the slot", Block: "G1 X40 Y12", At: &at},
		{File: "gcode/slot-left.nc", What: "the program has no end"},
	}
	s := BackPlot(in)
	for _, f := range s.Faults() {
		t.Error(f)
	}
	got := wordsOf(s)
	for _, want := range []string{"cut 2.5 mm deep", "cut 5 mm deep", "start and end", "Z0: the facet", "5 mm deep", "heights to the same scale", "17 mm",
		"Findings: 2", "line 14: cuts 0.100 mm outside the slot [G1 X40 Y12]", "the program has no end", "slot as asked for"} {
		if !strings.Contains(got, want) {
			t.Errorf("the picture does not say %q:\n%s", want, got)
		}
	}
}

func TestStretchedHeightsAreSaid(t *testing.T) {
	in := plot(goodMoves())
	// 5 mm deep at 1 : 4.1 would be 1.2 mm on the page.
	in.Shapes[0].Contour = geom.Rect(geom.Box{Max: geom.Pt(800, 20)})
	if got := wordsOf(BackPlot(in)); !strings.Contains(got, "heights drawn 10 times as large as lengths") {
		t.Errorf("nothing says that heights are stretched:\n%s", got)
	}
}

// TestLongLists: findings beyond a dozen are counted, not listed.
func TestLongLists(t *testing.T) {
	in := plot(goodMoves())
	for i := range 200 {
		at := p3(20+float64(i%40), 10, -5)
		in.Findings = append(in.Findings, finding.Finding{Line: i + 1, What: "takes too much wood at once", At: &at})
	}
	s := BackPlot(in)
	if got := wordsOf(s); !strings.Contains(got, "and 188 more") || strings.Contains(got, "line 13:") {
		t.Errorf("not a dozen findings are listed:\n%s", got)
	}
	if _, h := s.Size(); h > 300 {
		t.Errorf("the picture is %g mm high", h)
	}
}

// TestHostileMoves: whatever a file holds, the picture stays on its page.
func TestHostileMoves(t *testing.T) {
	far := func(v float64) []toolpath.Move {
		return way(toolpath.Linear, p3(20, 10, 10), p3(v, 10, -5), p3(20, v, -v), p3(v, v, v))
	}
	turn := toolpath.Move{Kind: toolpath.ArcCCW, From: p3(20, 10, -5), To: p3(20, 10, -5), Center: geom.Pt(20, 1e7), Sweep: 360 * geom.Degree}
	var maze []geom.Point3
	for i := range 20000 {
		maze = append(maze, p3(math.Mod(float64(i)*37.7, 80), math.Mod(float64(i)*11.3, 20), -5))
	}
	tests := []struct {
		name  string
		moves []toolpath.Move
	}{
		{"no moves", nil},
		{"far away", far(9e5)},
		{"farther", far(-1e12)},
		{"not a number", far(math.NaN())},
		{"endless", far(math.Inf(1))},
		{"a circle of ten kilometres", []toolpath.Move{turn}},
		{"an arc about its own start", []toolpath.Move{{Kind: toolpath.ArcCW, From: p3(20, 10, -5), To: p3(30, 10, -5), Center: geom.Pt(20, 10), Sweep: -1}}},
		{"twenty thousand crossing lines", way(toolpath.Linear, maze...)},
	}
	for _, tt := range tests {
		for _, side := range []bool{true, false} {
			in := plot(tt.moves)
			in.Side = side
			s := BackPlot(in)
			b, err := s.SVG()
			if err != nil {
				t.Errorf("%s: %v", tt.name, err)
			}
			if strings.Contains(string(b), "NaN") || strings.Contains(string(b), "Inf") {
				t.Errorf("%s: the SVG holds what is no number", tt.name)
			}
			if e := s.Extent(); !s.Page().Grow(1e-6).Holds(e) {
				t.Errorf("%s: %v is drawn on a page of %v", tt.name, e, s.Page())
			}
		}
	}
	if got := wordsOf(BackPlot(plot(far(9e5)))); !strings.Contains(got, "moves lead out of the picture") {
		t.Errorf("nothing says that moves lead out of the picture:\n%s", got)
	}
}

// TestFlagMarksGouge: the cross of a finding lies where the finding says, by
// the facet that is drawn in the same picture, in red, and its ring beside it.
func TestFlagMarksGouge(t *testing.T) {
	for _, at := range []geom.Point3{p3(60, 5.5, -5), p3(20, 14.25, -2.5), p3(41, 13.1, -5)} {
		in := plot(goodMoves())
		in.Findings = []finding.Finding{{Line: 14, Rule: "gouge", What: "cuts 1.500 mm outside the slot", At: &at}}
		s := BackPlot(in)
		// The facet is 80 by 20 mm: the largest filled shape four times as wide
		// as high.
		var facet geom.Box
		for _, it := range s.items {
			b := geom.EmptyBox()
			for _, r := range it.runs {
				for _, c := range r.Curves {
					b = b.Union(c.Bounds())
				}
			}
			if it.fill && math.Abs(b.W()-4*b.H()) < 0.01 && b.W() > facet.W() {
				facet = b
			}
		}
		if facet.W() < 40 {
			t.Fatalf("no facet is drawn: %v", facet)
		}
		k := facet.W() / 80
		want := facet.Min.Add(at.XY().Mul(k))
		crossed := 0
		for _, it := range s.items {
			if it.fill || it.pen.Color != Red || len(it.runs) != 1 || len(it.runs[0].Curves) != 1 {
				continue
			}
			if c := it.runs[0].Curves[0]; c.A.Lerp(c.B, 0.5).Dist(want) < 0.01 {
				crossed++
			}
		}
		if crossed != 2 {
			t.Errorf("finding at %v: %d strokes of a red cross at %v on the page, want 2", at, crossed, want)
		}
		img, err := s.PNG(DPI)
		if err != nil {
			t.Fatal(err)
		}
		pic, err := png.Decode(bytes.NewReader(img))
		if err != nil {
			t.Fatal(err)
		}
		px := DPI / geom.MMPerInch
		x, y := int((want.X-s.page.Min.X)*px), int((s.page.Max.Y-want.Y)*px)
		r, g, b, _ := pic.At(x, y).RGBA()
		if got := Color(r>>8<<16 | g>>8<<8 | b>>8); got != Red {
			t.Errorf("finding at %v: the pixel there is %d %d %d, not red", at, r>>8, g>>8, b>>8)
		}
	}
}
