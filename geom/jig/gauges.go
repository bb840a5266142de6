package jig

import (
	"math"

	"starwright/geom"
	"starwright/geom/problem"
	"starwright/geom/star"
)

// Lengths of a gauge's arms, mm. Common practice, no source.
const (
	leastArm = 40.0
	mostArm  = 120.0
)

// arm returns how long a gauge's arms are for edges of a length: no longer than
// they need, and long enough to leave an edge beyond the relief.
func arm(edge, loss float64) float64 {
	return math.Max(math.Min(math.Max(edge, leastArm), mostArm), loss+leastArm/2)
}

// makeCentreGauge makes a bent strip. Its inner edges make a notch of exactly
// 360/n for the end of a segment, its outer edges a tongue of the same angle
// for the gap that is left for the last segment.
func makeCentreGauge(u *star.Unit, p Params) ([]Jig, problem.List) {
	const key, name = "centre-gauge", "centre gauge"
	s := u.Segment
	h := s.Center / 2
	if ps := entry(u, p.Cutter, name, key, hold{s.Facet, []geom.Angle{s.Center}}); ps != nil {
		return nil, ps
	}
	a := arm(s.Facet, biteLoss(s.Center, p.Cutter))
	// Notch at the origin, opening to +x; the tongue's corner lies behind it.
	band := bore(p.Cutter) + 2*leastMeat + 1
	end := geom.Polar(a, h)
	out := geom.Polar(band, h+90*geom.Degree)
	tongue := geom.Pt(-band/h.Sin(), 0)
	raw := geom.Polygon(geom.Point{}, end, end.Add(out), tongue,
		geom.Pt(end.X+out.X, -end.Y-out.Y), geom.Pt(end.X, -end.Y))
	j := Jig{
		Key: key, File: "jig-" + key, Title: name + " " + star.FormatAngle(s.Center),
		Angle:   s.Center,
		Outline: finish(raw, p.Cutter, []int{0}, easing, 3, 1, 5), Quantity: 1,
	}
	work := s.Outline()
	j.Seats = []Seat{{What: "segment", Work: work, Edges: against(work, j.Outline)}}
	beside := geom.Polar(a/2, h).Add(out.Mul(0.5))
	j.Holes = screws(j.Outline, nil, p.Cutter, leastMeat, geom.Polar(a-band/2, h).Add(out.Mul(0.5)))
	j.Text = inscribe(j.Outline, j.Holes, geom.Pt(beside.X, beside.Y), h, name+" "+star.FormatAngle(s.Center))
	if j.Text == nil {
		j.Text = inscribe(j.Outline, j.Holes, geom.Pt(beside.X, beside.Y), h, star.FormatAngle(s.Center))
	}
	return []Jig{j}, nil
}

// makeTipGauge makes a plate with a notch of exactly the tip angle.
func makeTipGauge(u *star.Unit, p Params) ([]Jig, problem.List) {
	const key, name = "tip-gauge", "tip gauge"
	s := u.Segment
	h := s.Tip / 2
	if ps := entry(u, p.Cutter, name, key, hold{s.Edge, []geom.Angle{s.Tip}}); ps != nil {
		return nil, ps
	}
	a := arm(s.Edge, biteLoss(s.Tip, p.Cutter))
	end := geom.Polar(a, h)
	x, y := -2*fullMeat, end.Y+1.5*fullMeat
	raw := geom.Polygon(geom.Pt(x, -y), geom.Pt(end.X, -y), geom.Pt(end.X, -end.Y),
		geom.Point{}, end, geom.Pt(end.X, y), geom.Pt(x, y))
	j := Jig{
		Key: key, File: "jig-" + key, Title: name + " " + star.FormatAngle(s.Tip),
		Angle:   s.Tip,
		Outline: finish(raw, p.Cutter, []int{3}, easing, 2, 4), Quantity: 1,
	}
	// The work as in the model has its tip on the right.
	work := geom.Place{Turn: 180 * geom.Degree, Move: geom.Pt(s.Length, 0)}.Contour(s.Outline())
	j.Seats = []Seat{{What: "segment", Work: work, Edges: against(work, j.Outline)}}
	j.Holes = screws(j.Outline, nil, p.Cutter, leastMeat, geom.Pt(x+fullMeat, y-fullMeat))
	j.Text = inscribe(j.Outline, j.Holes, geom.Pt(x, 0), 90*geom.Degree, name, star.FormatAngle(s.Tip))
	return []Jig{j}, nil
}
