package fit

import (
	"fmt"
	"math"
	"strings"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"

	"starwright/geom"
)

// The independent construction: segments are laid out as polygons, each one
// turned and moved like the wood, and what is free and how far apart corners
// are is asked of simplefeatures. No formula of the package is used here.

// farEnough is how many board widths clear every construction here.
const farEnough = 4

// kite is one segment as it lies: its corners in the plane.
type kite struct{ o, right, tip, left geom.Point }

// newKite returns a segment from a board of width w whose facets stand c/2+e to
// the axis, centre corner at the origin, tip on +x.
func newKite(s Ring, e geom.Angle) kite {
	half := math.Pi/float64(s.Points) + float64(e)
	x := s.BoardWidth / 2 / math.Tan(half)
	l := x + s.BoardWidth/2/math.Tan(float64(s.Tip)/2)
	return kite{geom.Pt(0, 0), geom.Pt(x, -s.BoardWidth/2), geom.Pt(l, 0), geom.Pt(x, s.BoardWidth/2)}
}

// step is the angle that one segment takes up.
func step(s Ring, e geom.Angle) float64 { return 2*math.Pi/float64(s.Points) + 2*float64(e) }

// turned returns the kite turned about the origin by a radians, then moved.
func (k kite) turned(a float64, by geom.Point) kite {
	t := func(p geom.Point) geom.Point {
		return geom.Pt(p.X*math.Cos(a)-p.Y*math.Sin(a)+by.X, p.X*math.Sin(a)+p.Y*math.Cos(a)+by.Y)
	}
	return kite{t(k.o), t(k.right), t(k.tip), t(k.left)}
}

// fan returns so many segments, facet on facet, their middle in direction mid.
func fan(s Ring, e geom.Angle, segments int, mid float64, at geom.Point) []kite {
	out := make([]kite, segments)
	for i := range out {
		out[i] = newKite(s, e).turned(mid+step(s, e)*(float64(i)-float64(segments-1)/2), at)
	}
	return out
}

func (k kite) polygon(t testing.TB) sf.Geometry {
	var b strings.Builder
	for _, p := range []geom.Point{k.o, k.right, k.tip, k.left, k.o} {
		fmt.Fprintf(&b, ",%.17g %.17g", p.X, p.Y)
	}
	return wkt(t, "POLYGON(("+b.String()[1:]+"))")
}

func wkt(t testing.TB, s string) sf.Geometry {
	t.Helper()
	g, err := sf.UnmarshalWKT(s)
	if err != nil {
		t.Fatalf("%s: %v", s, err)
	}
	return g
}

func point(t testing.TB, p geom.Point) sf.Geometry {
	return wkt(t, fmt.Sprintf("POINT(%.17g %.17g)", p.X, p.Y))
}

// line returns a line through p and q that reaches far beyond both.
func line(t testing.TB, p, q geom.Point) sf.Geometry {
	d := q.Sub(p).Unit().Mul(1e4)
	a, b := p.Sub(d), q.Add(d)
	return wkt(t, fmt.Sprintf("LINESTRING(%.17g %.17g,%.17g %.17g)", a.X, a.Y, b.X, b.Y))
}

func distance(t testing.TB, a, b sf.Geometry) float64 {
	t.Helper()
	d, ok := sf.Distance(a, b)
	if !ok {
		t.Fatal("simplefeatures gives no distance")
	}
	return d
}

// apart reports whether no kite of a meets one of b.
func apart(t testing.TB, a, b []kite) bool {
	for _, p := range a {
		for _, q := range b {
			if sf.Intersects(p.polygon(t), q.polygon(t)) {
				return false
			}
		}
	}
	return true
}

// slide returns the least way at which free holds, found by halving; free is
// false at nothing and true at most.
func slide(t testing.TB, most float64, free func(way float64) bool) float64 {
	t.Helper()
	if free(0) || !free(most) {
		t.Fatalf("the construction does not touch between 0 and %v mm", most)
	}
	lo, hi := 0.0, most
	for hi-lo > 1e-7 {
		if mid := (lo + hi) / 2; free(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

// built is the gap of a test, measured on laid-out polygons.
func built(t *testing.T, s Ring, e geom.Angle, test Test) float64 {
	n := s.Points
	if test == Straightedge {
		return builtStraightedge(t, s, e)
	}
	if e <= 0 {
		return builtValley(t, s, e, test)
	}
	switch test {
	case LastJoint:
		// All but one shut round the origin; the last lies on the upper facet
		// of the fan and slides out along it until it is clear of the first.
		all := fan(s, e, n-1, 0, geom.Pt(0, 0))
		top := all[n-2]
		along := top.left.Sub(top.o).Unit()
		last := func(way float64) kite {
			return newKite(s, e).turned(step(s, e)*(float64(n-1)-float64(n-2)/2), along.Mul(way))
		}
		way := slide(t, farEnough*s.BoardWidth, func(way float64) bool { return apart(t, []kite{last(way)}, all[:1]) })
		if !apart(t, []kite{last(way + 1e-6)}, all[:n-2]) {
			t.Error("the last segment strikes more than the first")
		}
		return distance(t, point(t, last(way).o), point(t, all[0].o))
	case Halves:
		h := n / 2
		big := fan(s, e, n-h, math.Pi, geom.Pt(0, 0))
		small := func(way float64) []kite { return fan(s, e, h, 0, geom.Pt(way, 0)) }
		way := slide(t, farEnough*s.BoardWidth, func(way float64) bool { return apart(t, small(way), big) })
		return distance(t, point(t, small(way)[0].o), point(t, big[0].o))
	default:
		// Evenly spread, all moved out alike until neighbours are clear.
		even := func(i int, way float64) kite {
			a := 2 * math.Pi * float64(i) / float64(n)
			return newKite(s, e).turned(a, geom.Pt(way*math.Cos(a), way*math.Sin(a)))
		}
		way := slide(t, farEnough*s.BoardWidth, func(way float64) bool {
			return apart(t, []kite{even(0, way)}, []kite{even(1, way)})
		})
		return distance(t, point(t, even(0, way).o), point(t, even(1, way).o))
	}
}

func builtValley(t *testing.T, s Ring, e geom.Angle, test Test) float64 {
	n := s.Points
	var a, b kite // the neighbours across an open joint, a counter-clockwise before b
	switch test {
	case LastJoint:
		all := fan(s, e, n, 0, geom.Pt(0, 0))
		a, b = all[n-1], all[0]
	case Halves:
		small, big := fan(s, e, n/2, 0, geom.Pt(0, 0)), fan(s, e, n-n/2, math.Pi, geom.Pt(0, 0))
		a, b = small[n/2-1], big[0]
	default:
		a, b = newKite(s, e), newKite(s, e).turned(2*math.Pi/float64(n), geom.Pt(0, 0))
	}
	if d := distance(t, a.polygon(t), b.polygon(t)); d > 1e-9 {
		t.Errorf("the segments do not meet at the centre: %v mm", d)
	}
	return distance(t, point(t, a.left), point(t, b.right))
}

func builtStraightedge(t *testing.T, s Ring, e geom.Angle) float64 {
	half := fan(s, e, s.Points/2, 0, geom.Pt(0, 0))
	first, last := half[0], half[len(half)-1]
	if e <= 0 {
		return distance(t, point(t, last.left), line(t, first.o, first.right))
	}
	return distance(t, point(t, first.o), line(t, first.right, last.left))
}
