package jig

import (
	"fmt"
	"math"
	"strings"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/geom/star"
)

// tb is what both testing.T and rapid.T offer.
type tb interface {
	Helper()
	Errorf(format string, args ...any)
	Fatalf(format string, args ...any)
}

// drawOrder draws a job over the whole range of the model.
func drawOrder(t *rapid.T) (*star.Order, Params) {
	n := rapid.IntRange(star.MinPoints, star.MaxPoints).Draw(t, "points")
	tip := geom.Deg(float64(rapid.IntRange(10, int(2*star.MaxTip(n).Degrees())-2).Draw(t, "half degrees of tip")) / 2)
	no := false
	spec := star.Spec{
		Points: n, Tip: &tip, Count: 1, OffcutStar: true,
		BoardWidth: rapid.Float64Range(12, 600).Draw(t, "width"),
		Thickness:  rapid.Float64Range(6, 60).Draw(t, "thickness"),
		EndTrim:    rapid.Float64Range(0, 40).Draw(t, "trim"),
		RoundTo:    rapid.SampledFrom([]float64{0, 1, 5}).Draw(t, "round"),
		Kerf:       rapid.Float64Range(0, 3.5).Draw(t, "kerf"),
		Slot:       star.SlotSpec{Make: &no},
	}
	b, ps := star.NewOrder([]star.Spec{spec})
	if len(ps) > 0 {
		spec.OffcutStar = false
		if b, ps = star.NewOrder([]star.Spec{spec}); len(ps) > 0 {
			t.Fatalf("no order: %v", ps)
		}
	}
	return b, Params{
		Cutter:    rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(1.5, 8)).Draw(t, "cutter"),
		MaxMiter:  geom.Deg(rapid.Float64Range(30, 60).Draw(t, "saw")),
		MaxW:      rapid.Float64Range(300, 2500).Draw(t, "sheet width"),
		MaxH:      rapid.Float64Range(300, 1300).Draw(t, "sheet height"),
		Thickness: rapid.Float64Range(3, 18).Draw(t, "sheet"),
	}
}

// sound checks what every jig must be, whatever its kind.
func sound(t tb, j Jig, cutter float64) {
	t.Helper()
	fail := func(format string, args ...any) {
		t.Helper()
		t.Errorf("%s: %s", j.File, fmt.Sprintf(format, args...))
	}
	if j.Key == "" || j.File == "" || j.Title == "" || j.Quantity < 1 {
		fail("a field is empty: %q %q %q, quantity %d", j.Key, j.Title, j.Use, j.Quantity)
	}
	rings := []geom.Contour{j.Outline}
	rings = append(rings, contours(j.Holes)...)
	var lines []sf.LineString
	for i, c := range rings {
		if c.Area() <= 0 {
			fail("ring %d runs clockwise", i)
		}
		lines = append(lines, ring(c))
	}
	// The reference reader judges: rings simple, holes inside and apart.
	if err := sf.NewPolygon(lines).Validate(); err != nil {
		fail("not a valid polygon: %v", err)
	}
	const leastWeb = 3.0 // mm
	for i, a := range rings {
		for _, b := range rings[i+1:] {
			if !clear(a, b, leastWeb) {
				fail("less than %g mm of wood between ring %d and another", leastWeb, i)
			}
		}
	}
	for i, c := range rings {
		if i > 0 {
			c = c.Reversed()
		}
		if r := minInsideRadius(c); r < cutter/2 {
			fail("ring %d has an inside radius of %.4f mm", i, r)
		}
		if p, ok := reachable(c, cutter/2); !ok {
			fail("the cutter cannot reach ring %d at %v", i, p)
		}
	}
	if n := holesOf(j, "screw"); strings.Contains(strings.ToLower(j.Use), "screw") && (n < 2 || !j.Screwed) {
		fail("%d screws in a plate that is screwed down (known as such: %v)", n, j.Screwed)
	}
	if len(j.Text) == 0 {
		fail("no text")
	}
	for _, l := range j.Text {
		if !inside(textBox(l), j.Outline, j.Holes, 1) {
			fail("text %q leaves the wood", l.Text)
		}
	}
	for _, s := range j.Seats {
		seated(t, j, s)
	}
}

// seated checks one seat.
func seated(t tb, j Jig, s Seat) {
	t.Helper()
	if len(s.Edges) == 0 {
		t.Errorf("%s: nothing holds the %s", j.File, s.What)
	}
	overlap, play := SeatTest(j.Outline, contours(j.Holes), s)
	if overlap > 0 || play > s.Play+touch {
		t.Errorf("%s: %s overlaps by %g mm, has %g mm of play, %g stated", j.File, s.What, overlap, play, s.Play)
	}
	for _, e := range s.Edges {
		if _, ok := carrying(j, e); !ok {
			t.Errorf("%s: seat %v is no part of the outline", j.File, e)
		}
	}
}

// carrying returns the piece of the jig's contours that a seat's edge lies on.
func carrying(j Jig, e geom.Curve) (geom.Curve, bool) {
	for _, c := range append([]geom.Contour{j.Outline}, contours(j.Holes)...) {
		for _, o := range c.Curves() {
			if o.DistTo(e.A) < touch && o.DistTo(e.B) < touch && o.DistTo(e.At(0.5)) < touch {
				return o, true
			}
		}
	}
	return geom.Curve{}, false
}

// ring flattens a contour for the reference reader.
func ring(c geom.Contour) sf.LineString {
	var xy []float64
	pts := c.Flatten(0.01)
	for _, p := range append(pts, pts[0]) {
		xy = append(xy, p.X, p.Y)
	}
	return sf.NewLineString(sf.NewSequence(xy, sf.DimXY))
}

// reachable rolls a disc of radius r along the outside of a contour with its
// wood on the left, and reports where it first runs into wood.
func reachable(c geom.Contour, r float64) (geom.Point, bool) {
	if r == 0 {
		return geom.Point{}, true
	}
	for _, e := range c.Curves() {
		for i := 0; i <= 12; i++ {
			p := e.At(float64(i) / 12)
			n := tangent(e, false).Unit().Left().Mul(-1)
			if e.IsArc() {
				n = p.Sub(e.Center()).Unit()
				if e.Bulge < 0 {
					n = n.Mul(-1)
				}
			}
			if o := p.Add(n.Mul(r)); c.DistTo(o) < r-touch {
				return p, false
			}
		}
	}
	return geom.Point{}, true
}

// between returns the angle between two straight pieces, 0 to 180 degrees.
func between(a, b geom.Curve) geom.Angle {
	d, e := a.B.Sub(a.A), b.B.Sub(b.A)
	return geom.Angle(math.Abs(math.Atan2(d.Cross(e), d.Dot(e))))
}

// sameAngle checks an angle measured on an outline.
func sameAngle(t tb, what string, got, want geom.Angle) {
	t.Helper()
	const tol = 1e-9 // degrees
	if math.Abs(got.Degrees()-want.Degrees()) > tol {
		t.Errorf("%s: %.12f degrees, want %.12f", what, got.Degrees(), want.Degrees())
	}
}

// on returns the outline's piece under a seat's edge.
func on(t tb, j Jig, e geom.Curve) geom.Curve {
	t.Helper()
	o, ok := carrying(j, e)
	if !ok {
		t.Fatalf("%s: seat %v is no part of the outline", j.File, e)
	}
	return o
}

func TestReachableFindsATightCorner(t *testing.T) {
	notch := geom.Polygon(geom.Pt(0, 0), geom.Pt(40, 0), geom.Pt(40, 30), geom.Pt(20, 10), geom.Pt(0, 30))
	if _, ok := reachable(notch, 3); ok {
		t.Error("a disc of radius 3 cannot reach a sharp notch")
	}
	if p, ok := reachable(relieve(notch, []int{3}, 6), 3); !ok {
		t.Errorf("the relieved notch cannot be cut at %v", p)
	}
}

// contours returns the outlines of holes.
func contours(holes []Hole) []geom.Contour {
	out := make([]geom.Contour, len(holes))
	for i, h := range holes {
		out[i] = h.Contour
	}
	return out
}
