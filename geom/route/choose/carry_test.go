package choose

import (
	"fmt"
	"math"
	"testing"

	"starwright/geom"
	"starwright/geom/route"
)

// What a set-up makes when it is done as its numbers say, with code of this test
// alone: points are turned by hand, polygons cut corner by corner.

// machine returns where a hold puts a point.
func machine(h *route.Hold, p geom.Point) geom.Point {
	if h.ShowFaceDown {
		p.Y = -p.Y
	}
	s, c := math.Sincos(float64(h.Turn))
	return geom.Pt(p.X*c-p.Y*s+h.X, p.X*s+p.Y*c+h.Y)
}

// back returns where a point of the machine lies on the piece.
func back(h *route.Hold, p geom.Point) geom.Point {
	s, c := math.Sincos(float64(h.Turn))
	x, y := p.X-h.X, p.Y-h.Y
	q := geom.Pt(x*c+y*s, -x*s+y*c)
	if h.ShowFaceDown {
		q.Y = -q.Y
	}
	return q
}

// sideOfCut is positive where a point of the machine is kept.
func sideOfCut(c *route.Cut, p geom.Point) float64 {
	d := c.To.Sub(c.From)
	v := (d.X*(p.Y-c.From.Y) - d.Y*(p.X-c.From.X)) / math.Hypot(d.X, d.Y)
	if !c.KeepLeft {
		v = -v
	}
	return v
}

// carryOut returns what a set-up leaves of its piece, in the piece's plane, and
// how far the saw has to reach on the line and on the far side of the kerf.
func carryOut(s *route.Setup) (kept []geom.Point, reach float64) {
	poly := s.Piece.Before
	d := s.Cut.To.Sub(s.Cut.From)
	along := func(p geom.Point) float64 { return (p.Sub(s.Cut.From)).Dot(d) / d.Len() }
	for i := range poly {
		p, q := machine(s.Hold, poly[i]), machine(s.Hold, poly[(i+1)%len(poly)])
		sp, sq := sideOfCut(s.Cut, p), sideOfCut(s.Cut, q)
		if sp >= 0 {
			kept = append(kept, poly[i])
		}
		for _, level := range []float64{0, -s.Cut.Kerf} {
			if (sp-level)*(sq-level) < 0 {
				t := (sp - level) / (sp - sq)
				x := geom.Pt(p.X+(q.X-p.X)*t, p.Y+(q.Y-p.Y)*t)
				reach = math.Max(reach, along(x))
				if level == 0 {
					kept = append(kept, back(s.Hold, x))
				}
			}
		}
	}
	return kept, reach
}

// apart returns the largest distance from a corner of one outline to the other
// outline's edges, both ways.
func apart(a, b []geom.Point) float64 {
	worst := 0.0
	for _, w := range [][2][]geom.Point{{a, b}, {b, a}} {
		for _, p := range w[0] {
			least := math.Inf(1)
			for i, q := range w[1] {
				r := w[1][(i+1)%len(w[1])]
				d := r.Sub(q)
				t := 0.0
				if l := d.Dot(d); l > 0 {
					t = math.Max(0, math.Min(1, p.Sub(q).Dot(d)/l))
				}
				least = math.Min(least, p.Dist(q.Add(d.Mul(t))))
			}
			worst = math.Max(worst, least)
		}
	}
	return worst
}

// carry does every set-up of a route and reports what is wrong with it.
func carry(r *route.Route, fail func(string, ...any)) (worst float64) {
	const limit = 0.2 // mm, so near has an outline to come that is done as printed
	names := map[string]bool{}
	last := map[string][][]geom.Point{} // what set-ups have left of a kind of piece
	for i := range r.Setups {
		s := &r.Setups[i]
		if names[s.Name] {
			fail("two set-ups are called %q", s.Name)
		}
		names[s.Name] = true
		if s.Count <= 0 || s.Of == "" {
			fail("%s: %d %s", s.Name, s.Count, s.Of)
		}
		if s.Join != nil && s.Join.After != nil {
			key := fmt.Sprint(s.Unit, s.Join.Makes)
			last[key] = append(last[key], s.Join.After)
		}
		if s.Cut == nil {
			continue
		}
		key := fmt.Sprint(s.Unit, s.Piece.Kind)
		found := len(last[key]) == 0
		for _, a := range last[key] {
			found = found || apart(a, s.Piece.Before) < 1e-6
		}
		if !found {
			fail("%s: no set-up before leaves such a piece", s.Name)
		}
		last[key] = append(last[key], s.Piece.After)
		kept, reach := carryOut(s)
		if d := apart(kept, s.Piece.After); d > limit {
			fail("%s: done as printed it is %.3f mm off", s.Name, d)
		} else {
			worst = math.Max(worst, d)
		}
		if have := s.Cut.To.Dist(s.Cut.From); reach > have+1e-6 {
			fail("%s: the cut reaches %.2f mm and must reach %.2f", s.Name, have, reach)
		}
		touches(s, fail)
	}
	return worst
}

// touches holds the contacts of a set-up against where its work lies.
func touches(s *route.Setup, fail func(string, ...any)) {
	stop, far := 0.0, math.Inf(-1)
	for _, r := range s.Readings {
		if r.Name == route.ReadStop {
			stop = *r.MM
		}
	}
	for _, t := range s.Touches {
		var ps []geom.Point
		b := s.Piece.Before
		if t.Edge >= 0 {
			ps = []geom.Point{machine(s.Hold, b[t.Edge]), machine(s.Hold, b[(t.Edge+1)%len(b)])}
		}
		if t.Corner >= 0 {
			ps = []geom.Point{machine(s.Hold, b[t.Corner])}
		}
		for _, p := range ps {
			if t.What == route.TouchFence && math.Abs(p.Y) > 1e-6 {
				fail("%s: the edge at the fence lies %.3f mm from it", s.Name, p.Y)
			}
			if t.What == route.TouchStop && s.Method != route.OnBlock {
				far = math.Max(far, math.Abs(p.X))
				if sideOfCut(s.Cut, p) < 0 {
					fail("%s: the stop is on the side that falls off", s.Name)
				}
			}
		}
	}
	if !math.IsInf(far, 0) && math.Abs(far-stop) > 1e-6 {
		fail("%s: the work lies at %.3f mm and the stop at %.3f", s.Name, far, stop)
	}
	if s.Machine != route.MitreSaw {
		return
	}
	for _, p := range s.Piece.Before {
		if y := machine(s.Hold, p).Y; y > 1e-6 {
			fail("%s: the work reaches %.3f mm into the fence", s.Name, y)
		}
	}
}

func TestCarriedOut(t *testing.T) {
	worst, n := 0.0, 0
	for _, j := range testJobs(t) {
		t.Run(j.name, func(t *testing.T) {
			r, ps := New(j.Given)
			if len(ps) > 0 {
				t.Fatalf("%+v", ps)
			}
			n++
			worst = math.Max(worst, carry(&r.Route, t.Errorf))
			for _, s := range r.Route.Setups {
				if j.shop != "" && s.Machine != route.Hand && !has(j.Shop, s.Machine) {
					t.Errorf("%s: is made on a %s, which the shop lacks", s.Name, s.Machine)
				}
			}
		})
	}
	t.Logf("%d routes, the worst outline %.3f mm off", n, worst)
}

func has(s Shop, m route.Machine) bool {
	return map[route.Machine]bool{route.MitreSaw: s.MitreSaw, route.RouterTable: s.RouterTable, route.CNC: s.CNC, route.Laser: s.Laser}[m]
}
