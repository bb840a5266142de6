package fit

import (
	"math"

	"starwright/geom"
	"starwright/geom/bench"
	"starwright/geom/problem"
)

// Truing is the classical way out without a new saw cut: glue two halves, leave
// the last joint, and true it.
//
// With an even number of points both halves are trued to one straight edge
// across their two facets, a wedge of D/4 off each of four facets. With an odd
// number there is no straight edge: the smaller half is fitted to the larger,
// a wedge of D/2 off each of its two facets. The wedge runs out to nothing at
// one end of the facet; its wide end lies where the halves touched.
type Truing struct {
	Facets   int        // that are trued
	Straight bool       // each half's two facets become one straight edge
	WideEnd  End        // Valley where the angles are too large, Centre where too small
	Wedge    geom.Angle // angle of the wedge that comes off each facet
	Facet    float64    // its length
	TakeOff  float64    // mm at the wide end, from the old corner square to the new face

	// What it does to the star.
	Closer   float64    // how much closer the two halves' centres move; nothing where the angles were too large
	Inside   geom.Angle // between neighbouring tips within a half
	Across   geom.Angle // between neighbouring tips across a trued joint, by their axes
	TipDiff  float64    // longest less shortest distance between neighbouring tips
	Narrower float64    // how much the widest distance tip to tip differs from the star without an error, < 0 wider
}

// True returns what the last joint takes to be trued for an error of e of every
// facet.
func (s Ring) True(e geom.Angle) (Truing, error) {
	if _, err := s.Gap(e, Halves); err != nil {
		return Truing{}, err
	}
	if !bench.Finite(float64(s.Tip)) || s.Tip <= 0 || 2*s.half()+s.Tip >= math.Pi {
		return Truing{}, problem.List{{Key: "tip", Got: degrees(s.Tip),
			Why: "not the tip of a star with so many points", Would: "above 0 and below " + degrees(math.Pi-2*s.half())}}
	}
	tr := Truing{Facets: 2, Wedge: s.total(e) / 2, WideEnd: Valley, Facet: s.facet(e)}
	if s.Points%2 == 0 {
		tr.Facets, tr.Straight, tr.Wedge = 4, true, s.total(e)/4
	}
	tr.TakeOff = tr.Facet * tr.Wedge.Sin()
	tr.Inside = 2 * (s.half() + e)
	tr.Across = tr.Inside - geom.Angle(s.Points)*e
	if e < 0 {
		tr.WideEnd = Centre
		tr.Closer = s.closer(e)
	}
	tr.TipDiff, tr.Narrower = s.roundness(e, tr.Closer)
	return tr, nil
}

// closer returns how far the smaller half moves in when wedges are taken off
// at the centre: its facets turn about the valley corners by D/2 together with
// the other half's, and the new apex lies so far inside the old one. It is the
// triangle of [Ring.gapCentre] again; for even n it is 2f sin(D/4).
func (s Ring) closer(e geom.Angle) float64 {
	d := s.total(e)
	b := geom.Angle(s.smaller()) * (s.half() + e)
	return s.facet(e) * (d / 2).Sin() / (b + d/2).Sin()
}

// roundness lays the tips of both halves out after truing. The larger half's
// centre stays at the origin; the smaller, pointing to +x, has moved by closer
// to -x.
func (s Ring) roundness(e geom.Angle, closer float64) (diff, narrower float64) {
	tips := s.tips(e, s.smaller(), geom.Pt(-closer, 0), 0)
	tips = append(tips, s.tips(e, s.Points-s.smaller(), geom.Pt(0, 0), math.Pi)...)
	least, most, wide := math.Inf(1), 0.0, 0.0
	for i, p := range tips {
		d := p.Dist(tips[(i+1)%len(tips)])
		least, most = math.Min(least, d), math.Max(most, d)
		for _, q := range tips {
			wide = math.Max(wide, p.Dist(q))
		}
	}
	spread := geom.Deg(180 * float64(s.Points/2) / float64(s.Points)).Sin()
	return most - least, 2*s.length(0)*spread - wide
}

// tips returns the tips of a half of so many segments, counter-clockwise, its
// middle pointing in the direction mid from its centre at o.
func (s Ring) tips(e geom.Angle, segments int, o geom.Point, mid geom.Angle) []geom.Point {
	step := 2 * (s.half() + e)
	out := make([]geom.Point, segments)
	for i := range out {
		a := mid + step*geom.Angle(float64(i)-float64(segments-1)/2)
		out[i] = o.Add(geom.Polar(s.length(e), a))
	}
	return out
}

// length returns the segment's length O to tip with facets off by e, mm.
func (s Ring) length(e geom.Angle) float64 {
	return s.BoardWidth / 2 * ((s.half() + e).Cot() + (s.Tip / 2).Cot())
}
