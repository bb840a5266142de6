package jig

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
)

func TestBitePassesTheCornerAndCanBeCut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		phi := geom.Deg(rapid.Float64Range(5, 175).Draw(t, "opening"))
		d := rapid.Float64Range(1.5, 8).Draw(t, "cutter")
		// A notch of the opening in a block large enough for it.
		a := biteLoss(phi, d) + 30
		end := geom.Polar(a, phi/2)
		c := geom.Polygon(geom.Pt(-40, -end.Y-40), geom.Pt(end.X, -end.Y-40), geom.Pt(end.X, -end.Y), geom.Point{},
			end, geom.Pt(end.X, end.Y+40), geom.Pt(-40, end.Y+40))
		cut := relieve(c, []int{3}, d)
		if cut.Contains(geom.Point{}) || cut.DistTo(geom.Point{}) < 1e-3 {
			t.Fatalf("wood touches the corner: %g mm", cut.DistTo(geom.Point{}))
		}
		if p, ok := reachable(cut, d/2); !ok {
			t.Fatalf("the cutter cannot reach %v", p)
		}
		if r := minInsideRadius(cut); r < d/2 {
			t.Fatalf("inside radius %g mm", r)
		}
		if cut.Area() >= c.Area() {
			t.Fatal("a relief takes wood away")
		}
		// What is left of each edge is what biteLoss says.
		if left := cut.DistTo(geom.Polar(biteLoss(phi, d), phi/2)); left > 1e-9 {
			t.Fatalf("the relief ends %g mm from where it should", left)
		}
	})
}

func TestReliefInAHoleIsOutsideOfIt(t *testing.T) {
	sq := geom.Rect(geom.Box{Max: geom.Pt(40, 30)})
	h := relieveHole(sq, []int{0, 2}, 6)
	if h.Area() <= sq.Area() {
		t.Errorf("area %g of a relieved opening, %g before", h.Area(), sq.Area())
	}
	for i, p := range sq {
		if want := i%2 == 0; h.Contains(p.Point) != want {
			t.Errorf("corner %d relieved: %v, want %v", i, !want, want)
		}
	}
	if got := relieveHole(sq, []int{0, 2}, 0); got.Area() != sq.Area() {
		t.Error("a laser needs no relief")
	}
}

// The area that rounding a right corner changes: r²(1-π/4), plane geometry.
func TestRoundingTakesAndGivesItsArea(t *testing.T) {
	const r = 3.0
	l := geom.Polygon(geom.Pt(0, 0), geom.Pt(40, 0), geom.Pt(40, 20), geom.Pt(20, 20), geom.Pt(20, 40), geom.Pt(0, 40))
	piece := r * r * (1 - math.Pi/4)
	for _, c := range []struct {
		name string
		got  geom.Contour
		want float64
	}{
		{"one inside corner rounded", roundInside(l, r), 1200 + piece},
		{"five outside corners eased", ease(l, r), 1200 - 5*piece},
		{"one kept sharp", ease(l, r, 0), 1200 - 4*piece},
		{"all but the bite", finish(l, 0, nil, r, 3), 1200 - 5*piece},
	} {
		if math.Abs(c.got.Area()-c.want) > 1e-9 {
			t.Errorf("%s: area %.9f, want %.9f", c.name, c.got.Area(), c.want)
		}
	}
}

func TestMinInsideRadius(t *testing.T) {
	l := geom.Polygon(geom.Pt(0, 0), geom.Pt(40, 0), geom.Pt(40, 20), geom.Pt(20, 20), geom.Pt(20, 40), geom.Pt(0, 40))
	for _, c := range []struct {
		name string
		c    geom.Contour
		want float64
	}{
		{"sharp inside corner", l, 0},
		{"rounded inside corner", roundInside(l, 3), 3},
		{"outside corners only", geom.Rect(geom.Box{Max: geom.Pt(10, 10)}), math.Inf(1)},
		{"eased outside corners", ease(geom.Rect(geom.Box{Max: geom.Pt(10, 10)}), 2), math.Inf(1)},
		{"round hole", geom.Circle(geom.Pt(3, 4), 2.5).Reversed(), 2.5},
	} {
		if got := minInsideRadius(c.c); got != c.want && math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %g, want %g", c.name, got, c.want)
		}
	}
}

func TestSeatTestMeasures(t *testing.T) {
	block := geom.Rect(geom.Box{Max: geom.Pt(100, 50)})
	window := geom.Rect(geom.Box{Min: geom.Pt(20, 10), Max: geom.Pt(80, 40)})
	in := func(d float64) geom.Contour {
		return geom.Rect(geom.Box{Min: geom.Pt(20+d, 10+d), Max: geom.Pt(80-d, 40-d)})
	}
	lying := geom.Rect(geom.Box{Min: geom.Pt(0, 50), Max: geom.Pt(60, 70)})
	top := geom.Curve{A: geom.Pt(60, 50), B: geom.Pt(0, 50)}
	for _, c := range []struct {
		name          string
		holes         []geom.Contour
		seat          Seat
		overlap, play float64
	}{
		{"lies on the edge", nil, Seat{Work: lying, Edges: []geom.Curve{top}}, 0, 0},
		{"hangs above it", nil, Seat{Work: geom.Place{Move: geom.Pt(0, 0.5)}.Contour(lying), Edges: []geom.Curve{top}}, 0, 0.5},
		{"sunk into it", nil, Seat{Work: geom.Place{Move: geom.Pt(0, -0.5)}.Contour(lying)}, 0.5, 0},
		{"a window with play", []geom.Contour{window}, Seat{Work: in(0.1), Edges: window.Curves(), Play: 0.2}, 0, 0.2 * math.Sqrt2},
		{"a window too small", []geom.Contour{window}, Seat{Work: in(-0.25)}, 0.25 * math.Sqrt2, 0},
		{"fills the block itself", nil, Seat{Work: block}, 1e-3, 0},
		{"far inside the wood", nil, Seat{Work: geom.Rect(geom.Box{Min: geom.Pt(30, 20), Max: geom.Pt(40, 25)})}, 25, 0},
	} {
		o, p := SeatTest(block, c.holes, c.seat)
		if math.Abs(o-c.overlap) > 1e-6 || math.Abs(p-c.play) > 1e-9 {
			t.Errorf("%s: overlap %g, play %g; want %g, %g", c.name, o, p, c.overlap, c.play)
		}
	}
}

func TestTextFindsRoomBesideHoles(t *testing.T) {
	plate := geom.Rect(geom.Box{Max: geom.Pt(80, 40)})
	holes := []Hole{{"window", geom.Rect(geom.Box{Min: geom.Pt(5, 5), Max: geom.Pt(75, 25)})}}
	text := inscribe(plate, holes, geom.Pt(40, 10), 0, "plate")
	if len(text) != 1 || !inside(textBox(text[0]), plate, holes, 1) {
		t.Fatalf("no room found: %v", text)
	}
	if text[0].Height != 8 { // 15 mm less two margins of 2 leave 11; a line of 8 mm takes 10
		t.Errorf("height %g mm, want 8", text[0].Height)
	}
	if got := inscribe(plate, holes, geom.Pt(40, 10), 0, "a line of text that is far too long for so small a plate"); got != nil {
		t.Errorf("text found room where there is none: %v", got)
	}
}

// roundInside rounds all sharp inside corners of a contour with its wood on
// the left by r.
func roundInside(c geom.Contour, r float64) geom.Contour {
	how := make([]corner, len(c))
	for i := range c {
		if a, _ := turnAt(c, i); a < 0 {
			how[i].round = r
		}
	}
	return dress(c, how, 0)
}

// minInsideRadius returns the least radius in mm that a cutter must have room
// for along a contour with its wood on the left: that of its roundest inside
// arc, 0 where it has a sharp inside corner, +Inf where it has no inside
// corner at all. Ask it of an opening's Reversed contour.
func minInsideRadius(c geom.Contour) float64 {
	const smooth = 1e-6 // radians; arcs that join within this are tangent
	least := math.Inf(1)
	es := c.Curves()
	for i, e := range es {
		if e.Bulge < 0 {
			least = math.Min(least, e.Radius())
		}
		d, g := tangent(es[(i+len(es)-1)%len(es)], true), tangent(e, false)
		if math.Atan2(d.Cross(g), d.Dot(g)) < -smooth {
			return 0
		}
	}
	return least
}
