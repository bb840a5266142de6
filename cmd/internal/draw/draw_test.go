package draw

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/geom/star"
	"starwright/post/picture"
	"starwright/toolpath"
	"starwright/toolpath/planner"
)

// job is one batch that pictures are drawn of.
type job struct {
	name  string
	unit  geom.Unit
	order *star.Order
}

// jobs are stars of all numbers of points, from toys to stars as large as a
// house front, in both units, with slender and blunt tips.
func jobs(t testing.TB) []job {
	t.Helper()
	var out []job
	add := func(n int, width, tip float64, u geom.Unit) {
		spec := star.Spec{Unit: u, Points: n, BoardWidth: width, Thickness: math.Max(3, width/5), Count: 3,
			EndTrim: 8, RoundTo: 1, Kerf: 2.4, SplineFit: 0.1, GlueGap: 1, OffcutStar: true}
		if u == geom.Inch {
			spec.EndTrim, spec.RoundTo, spec.Kerf = 12.7, 3.175, 3.175
		}
		if tip != 0 {
			a := geom.Deg(tip)
			spec.Tip = &a
		}
		b, ps := star.NewOrder([]star.Spec{spec})
		if len(ps) > 0 { // too small for an off-cut star
			spec.OffcutStar = false
			b, ps = star.NewOrder([]star.Spec{spec})
		}
		if len(ps) > 0 {
			t.Fatalf("%d points of %g mm, tip %g: %v", n, width, tip, ps)
		}
		out = append(out, job{fmt.Sprintf("%d points of %g mm, tip %g, %s", n, width, tip, u), u, b})
	}
	for n := star.MinPoints; n <= star.MaxPoints; n++ {
		tip := 0.0
		if n == star.MinPoints {
			tip = 45
		}
		for _, w := range []float64{12, 96, 2500} {
			add(n, w, tip, geom.Millimetre)
		}
		add(n, 88.9, tip, geom.Inch)
		add(n, 120, 5, geom.Millimetre)
		add(n, 120, star.MaxTip(n).Degrees()-1, geom.Millimetre)
	}
	return out
}

// sheets returns all pictures of a batch.
func sheets(j job) map[string]*picture.Picture {
	b := j.order
	out := map[string]*picture.Picture{
		"star":    Star(b.Units[0], j.unit, "A star"),
		"segment": Segment(b.Units[0], j.unit, "Its segment", "Cut the facets first."),
	}
	if small := b.FromOffcuts(b.Units[0]); small != nil {
		out["off-cut star"] = Star(small, j.unit, "The off-cut star")
		out["off-cut segment"] = Segment(small, j.unit, "Its segment")
	}
	for _, mirror := range []bool{false, true} {
		if p, ok := slotProgram(b, mirror, 1); ok {
			out[fmt.Sprintf("slot, mirrored %t", mirror)] = Slots(p, j.unit)
		}
	}
	return out
}

// slotProgram plans a slot and hands it back as if it had been read.
func slotProgram(o *star.Order, mirror bool, stations int) (SlotProgram, bool) {
	u := o.Units[0]
	s := u.Slot
	if s == nil {
		return SlotProgram{}, false
	}
	plan, err := planner.Slot(planner.SlotJob{Start: s.Start, End: s.End, FromFace: s.FromFace, Width: s.Width, Depth: s.Depth,
		Mirror: mirror, Stations: stations, Pitch: 2 * u.Thickness(), Loads: 1,
		Cutting: planner.Cutting{CutterDiameter: o.Cutter, DepthPerPass: 2.5, Feed: 1200, PlungeFeed: 300, RampMax: 5 * geom.Degree, RPM: 18000, SafeZ: 10, Approach: 2}})
	if err != nil {
		return SlotProgram{}, false
	}
	return SlotProgram{Title: "Slot in the facet", File: "gcode/slot-left.nc", Verdict: "Nothing was found wrong.", Unit: u,
		Thickness: u.Thickness(), Mirror: mirror, Stations: stations, Pitch: 2 * u.Thickness(), Cutter: o.Cutter, Moves: read(plan)}, true
}

// read turns a plan's steps into moves.
func read(p toolpath.Program) []toolpath.Move {
	var out []toolpath.Move
	for i, s := range p.Steps {
		if s.Do != toolpath.StepMove {
			continue
		}
		m := toolpath.Move{Line: i + 1, Kind: s.Kind, From: s.To, To: s.To, Center: s.Center, Feed: s.Feed, RPM: p.RPM}
		if len(out) > 0 {
			m.From = out[len(out)-1].To
		}
		out = append(out, m)
	}
	return out
}

func TestNothingOverlapsOrRunsOffThePage(t *testing.T) {
	for _, j := range jobs(t) {
		for name, s := range sheets(j) {
			for _, f := range s.Faults() {
				t.Errorf("%s, %s: %s", j.name, name, f)
			}
			if w, h := s.Size(); w != picture.PictureWidth || h < 60 || h > 330 {
				t.Errorf("%s, %s: the picture is %g by %g mm", j.name, name, w, h)
			}
		}
	}
}

// filled returns the corners of the first area painted in a colour, as the SVG
// has them: mm, Y down.
func filled(t *testing.T, s *picture.Picture, c picture.Color) []geom.Point {
	t.Helper()
	b, err := s.SVG()
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range strings.Split(string(b), "<path ")[1:] {
		d, rest, ok := strings.Cut(strings.TrimPrefix(part, `d="`), `"`)
		if !ok || !strings.Contains(rest, fmt.Sprintf("#%06x", c)) || strings.Contains(rest, "stroke:") {
			continue
		}
		return pathCorners(t, d)
	}
	t.Fatalf("no area of colour %06x", c)
	return nil
}

// pathCorners reads the corners of SVG path data of straight lines.
func pathCorners(t *testing.T, d string) []geom.Point {
	t.Helper()
	var out []geom.Point
	var at geom.Point
	for len(d) > 0 {
		op := d[0]
		d = strings.TrimLeft(d[1:], " ")
		end := strings.IndexAny(d, "MLHVz")
		if end < 0 {
			end = len(d)
		}
		args := d[:end]
		d = d[end:]
		switch op {
		case 'z':
			continue
		case 'H':
			fmt.Sscan(args, &at.X)
		case 'V':
			fmt.Sscan(args, &at.Y)
		default:
			// "12-3" is two numbers.
			args = strings.ReplaceAll(args[:1]+strings.ReplaceAll(args[1:], "-", " -"), ",", " ")
			if _, err := fmt.Sscan(args, &at.X, &at.Y); err != nil {
				t.Fatalf("%q: %v", args, err)
			}
		}
		out = append(out, at)
	}
	return out
}

// TestTrueProportions reads the star's outline back from the SVG and holds it
// against the model, which has its own proof: every corner, at one scale.
func TestTrueProportions(t *testing.T) {
	for _, j := range jobs(t) {
		got := filled(t, Star(j.order.Units[0], j.unit, "A star"), picture.Wood)
		want := upright().Contour(j.order.Units[0].Outline())
		if len(got) != len(want) {
			t.Fatalf("%s: %d corners, want %d", j.name, len(got), len(want))
		}
		scale := got[0].Dist(got[1]) / want[0].Dist(want[1].Point)
		const tol = 0.01 // mm on the page: coordinates are written to 0.001
		for i := range got {
			for k := range got {
				g := got[k].Sub(got[i])
				w := want[k].Sub(want[i].Point).Mul(scale)
				if off := g.Dist(geom.Pt(w.X, -w.Y)); off > tol*2 {
					t.Errorf("%s: corner %d lies %.4f mm wrong from corner %d", j.name, k, off, i)
				}
			}
		}
	}
}

// TestNumbersOfAFivePointStar: a star from 96 mm boards, worked by hand from
// the kite: facet 48/sin 36 = 81.7, length 48(cot 36 + cot 18) = 213.8, edge
// 48/sin 18 = 155.3, width 2 x 213.8 x sin 72 = 406.7; saw 90-36 and 90-18.
func TestNumbersOfAFivePointStar(t *testing.T) {
	b, ps := star.NewOrder([]star.Spec{{Points: 5, BoardWidth: 96, Thickness: 19, Count: 2, EndTrim: 8, RoundTo: 1, Kerf: 2.4, SplineFit: 0.1, GlueGap: 1, OffcutStar: true}})
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	tests := []struct {
		name  string
		sheet *picture.Picture
		want  []string
	}{
		{"star", Star(b.Units[0], geom.Millimetre, "x"), []string{"406.7 mm", "213.8 mm", "facet 81.7 mm", "155.3 mm", "96 mm", "36°", "72°"}},
		{"segment", Segment(b.Units[0], geom.Millimetre, "x"), []string{"blank 222 mm", "board 96 mm", "kerf 2.4 mm", "54°", "72°", "to the valleys 66.1 mm", "slot 10 mm deep", "9.5 mm"}},
		{"inches", Star(b.Units[0], geom.Inch, "x"), []string{"16 in", "3 25/32 in"}},
	}
	for _, tt := range tests {
		said := map[string]bool{}
		for _, w := range tt.sheet.Words() {
			said[w.Text] = true
		}
		for _, want := range tt.want {
			if !said[want] {
				t.Errorf("%s: nowhere says %q", tt.name, want)
			}
		}
	}
}

func TestStationsAreAllShown(t *testing.T) {
	b := jobs(t)[1].order
	for _, n := range []int{1, 2, 6} {
		p, ok := slotProgram(b, false, n)
		if !ok {
			t.Fatal("no slot program")
		}
		s := Slots(p, geom.Millimetre)
		for _, f := range s.Faults() {
			t.Errorf("%d stations: %s", n, f)
		}
	}
}
