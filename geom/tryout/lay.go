package tryout

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/geom/route"
)

// laid is work that lies at the blade: where it lies, and the line of cut in the
// machine's coordinates, from the fence towards the operator.
type laid struct {
	place geom.Place
	from  geom.Point // of the line of cut: the origin, but for work by hand
	dir   geom.Point
	left  bool // what stays lies to the left of the line
}

// lay solves where the work lies from what it touches. The kept side is where
// jigs and stops stand: nothing may hold what falls off.
func (b *bench) lay(s *route.Setup, work outline) (laid, error) {
	if s.Method == route.ByHand {
		return b.line(s, work)
	}
	l := laid{dir: b.blade(s), left: s.Cut.KeepLeft}
	kept := -1.0 // of X
	if s.Cut.KeepLeft {
		kept = 1 // looking towards the operator, left is to the right of the picture
	}
	if t := touching(s, route.TouchCradle); len(t) > 0 {
		place, err := b.inCradle(s, work, t, kept)
		l.place = place
		return l, err
	}
	if t := touching(s, route.TouchBlock); len(t) > 0 {
		place, err := b.onBlock(s, work, t[0], kept)
		l.place = place
		return l, err
	}
	place, err := b.onFence(s, work, kept)
	l.place = place
	return l, err
}

// blade returns the direction in which the blade leaves the fence, from the
// printed setting and the side to which the arm swings. Seen from above by the
// operator, who stands at negative Y, an arm that swings to the left comes out
// at negative X.
func (b *bench) blade(s *route.Setup) geom.Point {
	a := b.degrees(s, route.ReadSaw) + b.slips.of(s).Saw
	switch s.Swing {
	case route.Left:
		a = -a
	case route.Right:
	default:
		if math.Abs(float64(b.degrees(s, route.ReadSaw))) > float64(angleTol) {
			b.fault("contact", s.Name, "the saw is turned, and nothing says which way its arm goes")
		}
	}
	return geom.Pt(a.Sin(), -a.Cos())
}

// touching returns the contacts of one kind.
func touching(s *route.Setup, what string) []route.Touch {
	var out []route.Touch
	for _, t := range s.Touches {
		if t.What == what {
			out = append(out, t)
		}
	}
	return out
}

// edgeOf returns the work's edge that a contact names by its index in the piece
// as the route has it.
func edgeOf(s *route.Setup, work outline, i int) (p, q geom.Point, err error) {
	before := s.Piece.Before
	if i < 0 || i >= len(before) {
		return p, q, fmt.Errorf("the contact names edge %d of a piece with %d", i, len(before))
	}
	p, q, ok := work.edgeLike(before[i], before[(i+1)%len(before)])
	if !ok {
		return p, q, fmt.Errorf("the work has no edge any more where edge %d should be", i)
	}
	return p, q, nil
}

// cornerOf returns the work's corner that a contact names.
func cornerOf(s *route.Setup, work outline, i int) (geom.Point, error) {
	before := s.Piece.Before
	if i < 0 || i >= len(before) {
		return geom.Point{}, fmt.Errorf("the contact names corner %d of a piece with %d", i, len(before))
	}
	k, d := work.nearest(before[i])
	if d > sameCorner {
		return geom.Point{}, fmt.Errorf("the work has no corner any more where corner %d should be", i)
	}
	return work[k], nil
}

// atStop returns the corners of the work that may meet the stop: the one that the
// route names, or the ends of the edge that it names.
func atStop(s *route.Setup, work outline, t route.Touch) ([]geom.Point, error) {
	if t.Corner >= 0 {
		p, err := cornerOf(s, work, t.Corner)
		return []geom.Point{p}, err
	}
	p, q, err := edgeOf(s, work, t.Edge)
	return []geom.Point{p, q}, err
}

// against returns the placement that lays the work's edge from p to q along a
// straight face which runs in direction face from faceAt, the work on the face's
// right. Of the corners at the stop the one that comes first meets it, along so
// far on the face; the stop stands on the side of kept.
func against(s *route.Setup, p, q geom.Point, stop []geom.Point, faceAt, face geom.Point, along, kept float64) geom.Place {
	t := geom.Place{Mirror: s.Hold.ShowFaceDown}
	d := t.Point(q).Sub(t.Point(p)) // the work is on the left of p to q, mirrored on the right
	want := face.Mul(-1)
	if t.Mirror {
		want = face
	}
	t.Turn = want.Angle() - d.Angle()
	off := face.Unit().Cross(t.Point(p).Sub(faceAt))
	have := math.Inf(-1)
	for _, c := range stop {
		have = math.Max(have, kept*t.Point(c).Sub(faceAt).Dot(face.Unit()))
	}
	t.Move = face.Unit().Left().Mul(-off).Add(face.Unit().Mul(along - kept*have))
	return t
}

// onFence lays an edge against the fence and a corner against the stop.
func (b *bench) onFence(s *route.Setup, work outline, kept float64) (geom.Place, error) {
	fence, stop := touching(s, route.TouchFence), touching(s, route.TouchStop)
	if len(fence) != 1 || len(stop) != 1 {
		return geom.Place{}, fmt.Errorf("work that lies against the fence needs one edge there and one stop; it has %d and %d", len(fence), len(stop))
	}
	p, q, err := edgeOf(s, work, fence[0].Edge)
	if err != nil {
		return geom.Place{}, err
	}
	ends, err := atStop(s, work, stop[0])
	if err != nil {
		return geom.Place{}, err
	}
	t := against(s, p, q, ends, geom.Point{}, geom.Pt(1, 0), kept*b.mm(s, route.ReadStop), kept)
	return b.shimmed(s, t, work), nil
}

// onBlock lays an edge against the sloping face of an angle block that stands on
// the fence, its nose at the printed distance from the line of cut, and a corner
// against the stop on the block.
func (b *bench) onBlock(s *route.Setup, work outline, touch route.Touch, kept float64) (geom.Place, error) {
	if touch.Jig == "" { // the maker's own block, which nobody can read
		return s.Hold.Place(), nil
	}
	plate, ok := b.want.Plates[touch.Jig]
	if !ok {
		return geom.Place{}, fmt.Errorf("the packet has no jig %s", touch.Jig)
	}
	wedge, ok := wedgeOf(plate, b.degrees(s, route.ReadBlock))
	if !ok {
		return geom.Place{}, fmt.Errorf("no two edges of %s stand at the %s that the sheet prints", touch.Jig, degrees(b.degrees(s, route.ReadBlock)))
	}
	p, q, err := edgeOf(s, work, touch.Edge)
	if err != nil {
		return geom.Place{}, err
	}
	stop := touching(s, route.TouchStop)
	if len(stop) != 1 {
		return geom.Place{}, fmt.Errorf("work on a block needs one stop, and has %d", len(stop))
	}
	ends, err := atStop(s, work, stop[0])
	if err != nil {
		return geom.Place{}, err
	}
	nose := geom.Pt(kept*b.mm(s, route.ReadNose), -wedge.nose)
	a := wedge.angle + b.slips.of(s).Block
	face := geom.Pt(kept*a.Cos(), -a.Sin())
	// The face runs away from the blade; seen along it the work is on its right
	// where it runs to the right, else on its left.
	along, from := face, nose
	d := b.mm(s, route.ReadStop)
	if kept < 0 {
		along, d = face.Mul(-1), -d
	}
	t := against(s, p, q, ends, from, along, d, kept)
	return b.shimmedJig(s, t, nose.X, nose.X+kept*wedge.foot), nil
}

// wedge is what the bench sees of an angle block.
type wedge struct {
	angle geom.Angle // between fence edge and sloping face
	nose  float64    // from the fence to the near end of the sloping face, mm
	foot  float64    // how far along the fence from the nose the block stands on it, mm
}

// wedgeOf finds the fence edge and the sloping face of a block: the two longest
// straight edges that stand at about the printed angle to each other.
func wedgeOf(plate Plate, printed geom.Angle) (wedge, bool) {
	best, found := wedge{}, 0.0
	lines := straight(plate.Outline)
	for i, f := range lines { // counter-clockwise, wood on the left
		for k, g := range lines {
			if i == k {
				continue
			}
			// The fence edge runs in direction u; the face comes back at 180 - angle.
			turn := (g.B.Sub(g.A).Angle() - f.B.Sub(f.A).Angle()).Normal()
			for _, a := range [2]geom.Angle{180*geom.Degree - turn, turn - 180*geom.Degree} {
				a = a.Normal()
				if math.Abs(float64(a-printed)) > float64(blockTol) {
					continue
				}
				if size := math.Min(f.Length(), g.Length()); size > found {
					w, ok := measure(f, g, a)
					if ok {
						best, found = w, size
					}
				}
			}
		}
	}
	return best, found > 0
}

// blockTol is how far apart a block's angle as read and as printed may be to be
// taken for the same thing at all, radians: half a degree. The figure that is
// judged is what the cut makes of it.
const blockTol = 0.5 * geom.Degree

// measure takes the nose and foot of a block with the fence edge f and the face
// g at the angle a.
func measure(f, g geom.Curve, a geom.Angle) (wedge, bool) {
	u := f.B.Sub(f.A).Unit()
	depth := func(p geom.Point) float64 { return u.Cross(p.Sub(f.A)) }
	near, far := g.A, g.B
	if depth(near) > depth(far) {
		near, far = far, near
	}
	if depth(near) < -speck || depth(far) <= speck { // the wood is on the fence edge's left
		return wedge{}, false
	}
	reach := math.Max(math.Abs(f.A.Sub(near).Dot(u)), math.Abs(f.B.Sub(near).Dot(u)))
	return wedge{angle: a, nose: depth(near), foot: reach}, true
}

// straight returns a contour's straight pieces, those that run on merged.
func straight(c geom.Contour) []geom.Curve {
	const runOn = 1e-4 // radians
	var out []geom.Curve
	for _, e := range c.Curves() {
		if e.IsArc() || e.Length() < speck {
			continue
		}
		if n := len(out); n > 0 && out[n-1].B.Dist(e.A) < speck &&
			math.Abs(out[n-1].B.Sub(out[n-1].A).Unit().Cross(e.B.Sub(e.A).Unit())) < runOn {
			out[n-1].B = e.B
			continue
		}
		out = append(out, e)
	}
	return out
}

func degrees(a geom.Angle) string { return fmt.Sprintf("%.2f°", a.Degrees()) }
