package star

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/geom/problem"
)

// Hang is a hole to hang a star by: through the thickness, on the middle line of
// the segment that points up.
type Hang struct {
	Diameter float64 // mm
	At       float64 // from the star's centre to its middle, mm
	Wood     float64 // round it, to the nearest joint, outer edge, slot or spline, mm
}

// Wood round a hanging hole: so many diameters, and so many mm at least. Common
// practice, no source.
const (
	hangDiameters = 1.5
	hangLeast     = 6.0
)

// hang settles the hole to hang a unit by, where the job asks for one.
func (o *Order) hang(u *Unit) problem.List {
	d := u.Spec.HangHole
	if d == 0 {
		return nil
	}
	key := "hang_hole"
	if u.IsOffcut() {
		key = "offcut_hang_hole"
	}
	in := u.Spec.Unit
	least := math.Max(hangLeast, hangDiameters*d)
	at, most := 0.0, -1.0
	// From the tip inwards: as far out as leaves wood enough, so that the star hangs
	// quietly; where nothing does, where most is left.
	step := in.Ceil(0.5) // mm; so that the place that is found is printed as it is
	for k := math.Floor(u.Segment.Length / step); k > 0; k-- {
		x := in.Round(k * step)
		if w := u.woodRound(x, d); w > most {
			at, most = x, w
		}
		if most >= least {
			break
		}
	}
	if most < least {
		lo, hi := 0.0, d // the largest that finds a place lies between
		for range 30 {
			if mid := (lo + hi) / 2; u.roomFor(mid) {
				lo = mid
			} else {
				hi = mid
			}
		}
		small := in.Floor(lo)
		p := problem.Problem{Key: "star." + key, Got: in.FormatSize(d), Would: "leaving " + key + " out",
			Why: fmt.Sprintf("no place on the middle line leaves %s of wood to joints, edges and slots; the best leaves %s", in.Format(least), in.Format(math.Max(0, most)))}
		if small >= 2 && u.roomFor(small) {
			p.Would = fmt.Sprintf("%s = %q", key, in.Format(small))
		}
		return problem.List{p}
	}
	if u.Spec.HangAt != nil {
		x := *u.Spec.HangAt
		if w := u.woodRound(x, d); w < least-eps {
			return problem.List{{Key: "star.hang_at", Got: in.Format(x), Why: fmt.Sprintf("there it leaves %s of wood to the nearest joint, edge or slot; the least is %s",
				in.Format(math.Max(0, w)), in.Format(least)), Would: fmt.Sprintf("hang_at = %q", in.Format(at))}}
		}
		at = x
	} else {
		at0 := "star.hang_at"
		if u.IsOffcut() {
			at0 = "star.offcut_hang_at"
		}
		o.note(at0, in.Format(at), "as far out as leaves wood enough round it")
	}
	u.Hang = &Hang{d, at, u.woodRound(at, d)}
	return nil
}

// roomFor reports whether a hole of a diameter finds a place.
func (u *Unit) roomFor(d float64) bool {
	least := math.Max(hangLeast, hangDiameters*d)
	for x := 0.0; x < u.Segment.Length; x++ {
		if u.woodRound(x, d) >= least {
			return true
		}
	}
	return false
}

// woodRound returns the wood between a hole on the middle line and what is nearest
// to it: the joints at both facets, the outer edges, and the slots with the
// splines in them.
func (u *Unit) woodRound(x, d float64) float64 {
	s := u.Segment
	p := geom.Pt(x, 0)
	near := math.Inf(1)
	for _, e := range s.Outline().Curves() {
		near = math.Min(near, toLine(p, e.A, e.B))
	}
	if k := u.Slot; k != nil {
		// The slot seen on the show face: a band along the facet, as deep as it is.
		along := geom.Polar(1, s.Center/2)
		in := along.Left().Mul(-1)
		a, b := along.Mul(k.Start), along.Mul(k.End)
		c, e := a.Add(in.Mul(k.Depth)), b.Add(in.Mul(k.Depth))
		for _, side := range [][2]geom.Point{{a, b}, {b, e}, {e, c}, {c, a}} {
			near = math.Min(near, toLine(p, side[0], side[1]))
		}
		if t, n := p.Dot(along), p.Dot(in); t > k.Start && t < k.End && n > 0 && n < k.Depth {
			return -d
		}
	}
	return near - d/2
}

// toLine returns the distance of a point from a straight piece.
func toLine(p, a, b geom.Point) float64 {
	ab := b.Sub(a)
	t := math.Max(0, math.Min(1, p.Sub(a).Dot(ab)/ab.Dot(ab)))
	return p.Dist(a.Add(ab.Mul(t)))
}
