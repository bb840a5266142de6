package jig

import (
	"starwright/geom"
	"starwright/geom/problem"
	"starwright/geom/star"
)

// makeTipCradles makes the cradles in which the tips are cut: the segment lies
// with both facets in the notch, its tip end still square.
func makeTipCradles(u *star.Unit, p Params) ([]Jig, problem.List) {
	const key, name = "tip-cradle", "tip cradle"
	s := u.Segment
	v, half := s.Valley(), s.Width/2
	c := cradle{
		seat: s.Center / 2, other: s.Tip / 2, edge: s.Facet, long: s.Length, meat: meat(s.Width), bit: p.Cutter, kerf: u.Spec.Kerf,
		work: geom.Polygon(geom.Pt(0, 0), geom.Pt(v.X, -half), geom.Pt(u.Blank.Length, -half),
			geom.Pt(u.Blank.Length, half), geom.Pt(v.X, half)),
	}
	if ps := entry(u, p.Cutter, name, key, hold{c.edge, []geom.Angle{2 * c.seat}}); ps != nil {
		return nil, ps
	}
	return c.set(u, p, key, name, "segment")
}

// offcutCradles makes the cradles of all stars from off-cuts, or says that there
// are none.
func offcutCradles(units []*star.Unit, p Params) ([]Jig, problem.List) {
	const key = "offcut-cradle"
	if len(of(units, p, isOffcut)) == 0 {
		return nil, problem.List{{Key: "jigs.make", Got: key,
			Why:   "the job makes no second star from the off-cuts",
			Would: without(key) + ", or offcut_star = true under [star]"}}
	}
	return each(isOffcut, makeOffcutCradles)(units, p)
}

// makeOffcutCradles makes the cradles in which the glued-up off-cuts get their
// facets: they lie with the tip, which the tip cuts of the star that they come
// from have made, in the notch.
func makeOffcutCradles(u *star.Unit, p Params) ([]Jig, problem.List) {
	const key, name = "offcut-cradle", "off-cut cradle"
	s := u.Segment
	c := cradle{
		seat: s.Tip / 2, other: s.Center / 2, edge: s.Edge, long: s.Length, meat: meat(s.Width), bit: p.Cutter, kerf: u.From.Spec.Kerf,
		work: gluedOffcuts(u.From),
	}
	if ps := entry(u, p.Cutter, name, key, hold{c.edge, []geom.Angle{2 * c.seat}}); ps != nil {
		return nil, ps
	}
	return c.set(u, p, key, name, "glued off-cuts")
}

// gluedOffcuts returns the two off-cuts of a unit's blank glued along their board
// edges, apex at the origin, glue line on +x.
func gluedOffcuts(u *star.Unit) geom.Contour {
	first, second := u.Offcuts()
	var out []geom.Point
	add := func(p geom.Point) {
		if n := len(out); n == 0 || out[n-1].Dist(p) > geom.Rounding {
			out = append(out, p)
		}
	}
	for _, v := range first.Wood { // from the apex below the glue line to its far end
		add(v.Sub(first.Apex))
	}
	for _, v := range second.Wood[1:] { // from the far end above the line back
		add(v.Sub(second.Apex))
	}
	return geom.Polygon(out...)
}
