package tryout

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/geom/route"
)

// inCradle lays two edges of the work against the two sides of a notch. The
// plate's edges at x = 0 and y = 0 of its drawing are the line of cut and the
// one on the fence; the drawing's face is up, so that a plate drawn above its
// fence edge is turned by half a turn.
func (b *bench) inCradle(s *route.Setup, work outline, touch []route.Touch, kept float64) (geom.Place, error) {
	if len(touch) != 2 {
		return geom.Place{}, fmt.Errorf("work in a notch lies against two sides; the route names %d", len(touch))
	}
	if touch[0].Jig == "" { // the maker's own
		return s.Hold.Place(), nil
	}
	plate, ok := b.want.Plates[touch[0].Jig]
	if !ok {
		return geom.Place{}, fmt.Errorf("the packet has no jig %s", touch[0].Jig)
	}
	var edges [2][2]geom.Point
	for i, t := range touch {
		p, q, err := edgeOf(s, work, t.Edge)
		if err != nil {
			return geom.Place{}, err
		}
		edges[i] = [2]geom.Point{p, q}
	}
	box := plate.Outline.Bounds()
	stand := geom.Place{}
	if box.Max.Y > -box.Min.Y {
		stand.Turn = 180 * geom.Degree
	}
	lies := stand.Contour(plate.Outline)
	if side := lies.Bounds().Center().X; side*kept < 0 {
		return geom.Place{}, fmt.Errorf("%s lies on the side of the blade that falls off", touch[0].Jig)
	}
	if err := edgesOfCradle(lies, touch[0].Jig); err != nil {
		return geom.Place{}, err
	}
	t, notch, ok := b.seat(s, work, lies, edges)
	if !ok {
		return geom.Place{}, fmt.Errorf("%s has no notch that the work fits", touch[0].Jig)
	}
	// A notch that is off its angle turns the work about its corner, in the right
	// cradle as in a mirror of the left one.
	t = spun(t, notch, b.slips.of(s).Block*geom.Angle(kept))
	near, far := footing(lies)
	return b.shimmedJig(s, t, near, far), nil
}

// edgesOfCradle looks whether a plate really has an edge on the fence and one on
// the line of cut.
func edgesOfCradle(lies geom.Contour, name string) error {
	const long = 5 // mm, the least that guides
	fence, blade := 0.0, 0.0
	for _, e := range straight(lies) {
		if math.Abs(e.A.Y) < speck && math.Abs(e.B.Y) < speck {
			fence = math.Max(fence, e.Length())
		}
		if math.Abs(e.A.X) < speck && math.Abs(e.B.X) < speck {
			blade = math.Max(blade, e.Length())
		}
	}
	if fence < long || blade < long {
		return fmt.Errorf("%s has no straight edge for the fence or none for the line of cut", name)
	}
	return nil
}

// footing returns the stretch of the fence on which a plate stands. Where its
// corner is rounded it has left the fence before its farthest place.
func footing(lies geom.Contour) (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	for _, e := range straight(lies) {
		if math.Abs(e.A.Y) < speck && math.Abs(e.B.Y) < speck {
			from, to = min(from, e.A.X, e.B.X), max(to, e.A.X, e.B.X)
		}
	}
	return from, to
}

// notchTol is how far a notch's angle may be from the work's, radians: work that
// fits worse rocks. A tenth of a degree over a facet of 100 mm is 0.17 mm.
const notchTol = 0.1 * geom.Degree

// seat finds the two sides of the notch and lays the work into it. Of several
// pairs of sides that stand at the right angle the one counts in which the work
// touches no wood.
func (b *bench) seat(s *route.Setup, work outline, plate geom.Contour, edges [2][2]geom.Point) (lies geom.Place, notch geom.Point, ok bool) {
	base := geom.Place{Mirror: s.Hold.ShowFaceDown}
	var dir [2]geom.Point
	for i, e := range edges {
		dir[i] = base.Point(e[1]).Sub(base.Point(e[0]))
		if base.Mirror { // so that the work is on the left of its edges again
			dir[i] = dir[i].Mul(-1)
		}
	}
	corner, ok := meet(base.Point(edges[0][0]), dir[0], base.Point(edges[1][0]), dir[1])
	if !ok {
		return geom.Place{}, notch, false
	}
	turn := (dir[1].Angle() - dir[0].Angle()).Normal()
	best, hit := geom.Place{}, math.Inf(1)
	for _, f := range straight(plate) {
		for _, g := range straight(plate) {
			u, v := f.B.Sub(f.A), g.B.Sub(g.A) // wood on the left, so that work lies on the right
			if off := math.Abs(signed(v.Angle() - u.Angle() - turn)); off > float64(notchTol) {
				continue
			}
			at, ok := meet(f.A, u, g.A, v)
			if !ok {
				continue
			}
			t := base
			t.Turn = u.Mul(-1).Angle() - dir[0].Angle()
			t.Move = at.Sub(geom.Place{Turn: t.Turn}.Point(corner))
			if d := b.inWood(work.placed(t), plate); d < hit && touchesBoth(work.placed(t), f, g) {
				best, notch, hit = t, at, d
			}
		}
	}
	return best, notch, hit < seatTol
}

// seatTol is how deep work may reach into a jig's wood when it is laid there by
// its contacts, mm.
const seatTol = 0.15

// inWood returns how deep a corner of the work lies within the plate's wood or a
// corner of the plate within the work, mm.
func (b *bench) inWood(work outline, plate geom.Contour) float64 {
	deep := 0.0
	for i, p := range work {
		q := work[(i+1)%len(work)]
		for k := range 9 { // along each edge, its ends included
			at := p.Lerp(q, float64(k)/8)
			if plate.Contains(at) {
				deep = math.Max(deep, plate.DistTo(at))
			}
		}
	}
	for _, v := range plate {
		if work.contains(v.Point) {
			deep = math.Max(deep, work.dist(v.Point))
		}
	}
	return deep
}

// touchesBoth reports whether the work lies along both edges for some length: of a
// off-cut star's edge a cutter's rounded corners leave little.
func touchesBoth(work outline, f, g geom.Curve) bool {
	const least, part = 3.0, 0.15 // mm, and of the work's edge
	for _, e := range [2]geom.Curve{f, g} {
		lies := false
		for i, p := range work {
			q := work[(i+1)%len(work)]
			if toLine(p, e.A, e.B) < seatTol && toLine(q, e.A, e.B) < seatTol {
				lies = lies || overlap(p, q, e.A, e.B) >= math.Min(least, part*p.Dist(q))
			}
		}
		if !lies {
			return false
		}
	}
	return true
}

// meet returns where two lines cross.
func meet(a, u, b, v geom.Point) (geom.Point, bool) {
	d := u.Unit().Cross(v.Unit())
	const sideBySide = 1e-6 // radians; such lines hold nothing
	if math.Abs(d) < sideBySide {
		return geom.Point{}, false
	}
	return a.Add(u.Unit().Mul(b.Sub(a).Cross(v.Unit()) / d)), true
}

// signed brings an angle into (-180, 180] degrees, as radians.
func signed(a geom.Angle) float64 {
	r := float64(a.Normal())
	if r > math.Pi {
		r -= 2 * math.Pi
	}
	return r
}
