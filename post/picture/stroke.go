package picture

import (
	"math"

	"starwright/geom"
)

// shape collects closed pieces that all run counter-clockwise: painted
// together they cover their union, however they overlap.
type shape struct {
	pieces [][]geom.Point
	room   []geom.Point // for the points of pieces, used again and again
	used   int
	ring   []geom.Point // of the disc, about its middle
}

// points returns room for the n points of a piece.
func (s *shape) points(n int) []geom.Point {
	const block = 256
	if s.used+n > len(s.room) {
		s.room, s.used = make([]geom.Point, max(n, block, 2*len(s.room))), 0
	}
	s.used += n
	return s.room[s.used-n : s.used : s.used]
}

// stroke makes the shape what a pen covers along the runs, arcs flattened to
// tol (mm). The general way, which merges the pieces to one outline first, comes
// out wrong and slow on lines that cross themselves many times.
func (s *shape) stroke(runs []run, p Pen, tol float64) {
	s.pieces, s.ring, s.used = s.pieces[:0], s.ring[:0], 0
	for _, r := range runs {
		pts := flatten(r.curves, tol)
		if len(p.Dash) > 0 {
			for _, d := range dash(pts, p.Dash) {
				s.line(d, false, p, tol)
			}
			continue
		}
		s.line(pts, r.closed, p, tol)
	}
}

func flatten(cs []geom.Curve, tol float64) []geom.Point {
	if len(cs) == 0 {
		return nil
	}
	pts := append(make([]geom.Point, 0, len(cs)+1), cs[0].A)
	for _, c := range cs {
		n := c.Chords(tol)
		for i := 1; i <= n; i++ {
			pts = append(pts, c.At(float64(i)/float64(n)))
		}
	}
	return pts
}

// line adds a bar for each straight piece and a disc for each corner between
// two of them, at the ends too for a round pen.
func (s *shape) line(pts []geom.Point, closed bool, p Pen, tol float64) {
	h := p.Width / 2
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		n := b.Sub(a).Unit().Left().Mul(h)
		bar := s.points(4)
		bar[0], bar[1], bar[2], bar[3] = a.Sub(n), b.Sub(n), b.Add(n), a.Add(n)
		s.pieces = append(s.pieces, bar)
	}
	for i, q := range pts {
		end := i == 0 || i == len(pts)-1
		if end && !closed && !p.Round || i == 0 && closed {
			continue
		}
		if !end && straight(pts[i-1], q, pts[i+1], h, tol) {
			continue
		}
		s.disc(q, h, tol)
	}
}

// straight reports whether the gap at a corner between two bars of half width
// h is too small to be seen.
func straight(a, b, c geom.Point, h, tol float64) bool {
	u, v := b.Sub(a).Unit(), c.Sub(b).Unit()
	return u.Dot(v) > 0 && math.Abs(u.Cross(v))*h < tol
}

func (s *shape) disc(o geom.Point, r, tol float64) {
	if len(s.ring) == 0 { // of all discs of a shape: they are of one pen
		n := 8
		if r > tol {
			n = max(n, int(math.Ceil(math.Pi/math.Acos(1-tol/r))))
		}
		for i := range n {
			s.ring = append(s.ring, geom.Polar(r, geom.Deg(360*float64(i)/float64(n))))
		}
	}
	pts := s.points(len(s.ring))
	for i, p := range s.ring {
		pts[i] = o.Add(p)
	}
	s.pieces = append(s.pieces, pts)
}

// maxDashes bounds the pieces one line may be cut into.
const maxDashes = 20000

// dash cuts a line into its dashes. The pattern holds lengths of dash and gap
// in turn.
func dash(pts []geom.Point, pattern []float64) [][]geom.Point {
	total := 0.0
	for _, d := range pattern {
		total += d
	}
	if total <= 0 || len(pts) < 2 {
		return [][]geom.Point{pts}
	}
	var out [][]geom.Point
	k, left := 0, pattern[0]
	cur := []geom.Point{pts[0]}
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		for a.Dist(b) > left && len(out) < maxDashes {
			a = a.Lerp(b, left/a.Dist(b))
			if k%2 == 0 {
				out = append(out, append(cur, a))
			}
			k++
			left = pattern[k%len(pattern)]
			cur = []geom.Point{a}
		}
		left -= a.Dist(b)
		cur = append(cur, b)
	}
	if k%2 == 0 && len(cur) > 1 {
		out = append(out, cur)
	}
	return out
}
