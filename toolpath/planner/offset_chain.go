package planner

import (
	"cmp"
	"math"
	"slices"

	"starwright/geom"
)

// split cuts the pieces wherever two of them meet.
func (g *rolling) split() {
	raw, out := g.pieces, g.others[:0]
	boxes := g.wayBoxes[:0]
	for i := range raw {
		boxes = append(boxes, raw[i].Bounds().Grow(keepTol))
	}
	g.wayBoxes = boxes
	g.ways.Pack(boxes)
	for i, p := range raw {
		ts := append(g.cuts[:0], 0, 1)
		g.ways.Each(boxes[i], func(j int) bool {
			if j != i {
				for _, q := range geom.Intersections(p.Curve, raw[j].Curve) {
					ts = append(ts, p.Param(q))
				}
			}
			return true
		})
		slices.Sort(ts)
		l, from := p.Length(), 0.0
		for _, t := range ts[1:] {
			if (t-from)*l < keepTol && t < 1 {
				continue
			}
			if (1-t)*l < keepTol {
				t = 1
			}
			out = append(out, rolled{p.Part(from, t), p.src, from, t})
			if from = t; t == 1 {
				break
			}
		}
		g.cuts = ts
	}
	g.pieces, g.others = out, raw
}

// keep drops the pieces on which the disc would cut into the contour.
func (g *rolling) keep() {
	out := g.pieces[:0]
	for _, p := range g.pieces {
		if !g.clear(p.At(0.5)) {
			continue
		}
		if p.src >= 0 {
			g.reached[p.src] = append(g.reached[p.src], stretch{p.from, p.to})
		}
		if p.Length() > keepTol {
			out = append(out, p)
		}
	}
	g.pieces = out
}

// prune drops pieces that lead nowhere or come from nowhere, and then those
// that led only to them. Where two pieces cross at a very flat angle, their
// ends beyond the crossing come nearer to the contour by less than keepTol.
func (g *rolling) prune() {
	g.pieces = single(g.pieces)
	for {
		pieces, out := g.pieces, g.others[:0]
		for i := range pieces {
			p := &pieces[i]
			from, to := false, false
			for j := range pieces {
				q := &pieces[j]
				from = from || (i != j || len(pieces) == 1) && q.B.Dist(p.A) <= chainTol
				to = to || (i != j || len(pieces) == 1) && q.A.Dist(p.B) <= chainTol
			}
			if from && to {
				out = append(out, *p)
			}
		}
		g.pieces, g.others = out, pieces
		if len(out) == len(pieces) {
			return
		}
	}
}

// single drops pieces that run along another within chainTol: two curves that
// meet at an angle of nearly nothing share a stretch.
func single(pieces []rolled) []rolled {
	out := pieces[:0]
	for i := range pieces {
		p, twin := &pieces[i], false
		for j := range out {
			q := &out[j]
			twin = twin || p.A.Dist(q.A) <= chainTol && p.B.Dist(q.B) <= chainTol && p.At(0.5).Dist(q.At(0.5)) <= chainTol
		}
		if !twin {
			out = append(out, *p)
		}
	}
	return out
}

// chain joins the pieces to closed loops. It fails where a loop stays open.
func chain(pieces []rolled) ([]geom.Contour, bool) {
	used := make([]bool, len(pieces))
	var loops []geom.Contour
	for first := range pieces {
		if used[first] {
			continue
		}
		used[first] = true
		loop := []geom.Curve{pieces[first].Curve}
		at := first
		for loop[0].A.Dist(loop[len(loop)-1].B) > chainTol || len(loop) == 1 {
			next := nextPiece(pieces, used, at, loop[len(loop)-1].B)
			if next < 0 {
				return nil, false
			}
			used[next], at = true, next
			p := pieces[next].Curve
			p.A = loop[len(loop)-1].B
			loop = append(loop, p)
		}
		loop[len(loop)-1].B = loop[0].A
		if loop = Tidy(loop); len(loop) > 1 {
			loops = append(loops, contourOf(loop))
		}
	}
	return loops, true
}

// nextPiece returns the unused piece that starts where the last one ended,
// and of several the next in the order of the contour; -1 where none does.
func nextPiece(pieces []rolled, used []bool, at int, end geom.Point) int {
	n := len(pieces)
	for k := 1; k < n; k++ {
		i := (at + k) % n
		if !used[i] && pieces[i].A.Dist(end) <= chainTol {
			return i
		}
	}
	return -1
}

func contourOf(loop []geom.Curve) geom.Contour {
	c := make(geom.Contour, len(loop))
	for i, e := range loop {
		c[i] = geom.Vertex{Point: e.A, Bulge: e.Bulge}
	}
	return c
}

// Tidy returns the closed way with pieces joined that carry on in the same
// line or circle, so that no block of a program is spent on them. Arcs grow to
// half a turn at most.
func Tidy(loop []geom.Curve) []geom.Curve {
	var out []geom.Curve
	for _, e := range loop {
		if n := len(out); n > 0 {
			if m, ok := joined(out[n-1], e); ok {
				out[n-1] = m
				continue
			}
		}
		out = append(out, e)
	}
	for len(out) > 2 {
		m, ok := joined(out[len(out)-1], out[0])
		if !ok {
			break
		}
		out[0] = m
		out = out[:len(out)-1]
	}
	return out
}

// joined returns a and b as one curve where they are pieces of one.
func joined(a, b geom.Curve) (geom.Curve, bool) {
	m := geom.Curve{A: a.A, B: b.B}
	if a.IsArc() != b.IsArc() {
		return m, false
	}
	if a.IsArc() {
		sweep := float64(a.Sweep() + b.Sweep())
		if (a.Bulge > 0) != (b.Bulge > 0) || math.Abs(sweep) > math.Pi+geom.Rounding {
			return m, false
		}
		m.Bulge = math.Tan(sweep / 4)
	} else if a.B.Sub(a.A).Dot(b.B.Sub(b.A)) <= 0 {
		return m, false
	}
	for _, p := range [3]geom.Point{a.At(0.5), a.B, b.At(0.5)} {
		if m.DistTo(p) > keepTol {
			return m, false
		}
	}
	return m, true
}

// missed returns the places of the contour that no piece of the way touches
// and that lie farther than reachTol from what the disc sweeps.
func (g *rolling) missed(loops []geom.Contour) []Miss {
	way, boxes := g.way[:0], g.wayBoxes[:0]
	for _, l := range loops {
		for i := range l {
			e := l.Curve(i)
			way, boxes = append(way, e), append(boxes, e.Bounds())
		}
	}
	g.way, g.wayBoxes = way, boxes
	tree := &g.ways
	tree.Pack(boxes)
	beyond := func(p geom.Point) float64 {
		// The way is looked for within the radius first, which is where it
		// nearly always is.
		d := math.Inf(1)
		tree.Each(geom.EmptyBox().With(p).Grow(g.r+reachTol), func(i int) bool {
			d = math.Min(d, way[i].DistTo(p))
			return d > g.r
		})
		if d <= g.r+reachTol {
			return d - g.r
		}
		for _, e := range way {
			d = math.Min(d, e.DistTo(p))
		}
		return d - g.r
	}
	var out []Miss
	carry := false // whether the last miss runs up to the end of its curve
	for i, e := range g.src {
		before := carry
		carry = false
		for _, s := range gaps(g.reached[i]) {
			m := worst(e, s, beyond)
			if m.By <= reachTol {
				continue
			}
			if n := len(out); before && s.from == 0 && n > 0 {
				if m.By > out[n-1].By {
					out[n-1] = m
				}
			} else {
				out = append(out, m)
			}
			carry = s.to == 1
		}
	}
	if n := len(out); n > 1 && carry && out[0].At.Dist(out[n-1].At) < g.r {
		if out[n-1].By > out[0].By {
			out[0] = out[n-1]
		}
		out = out[:n-1]
	}
	return out
}

// worst returns the place of a stretch of e that is farthest out of reach. The
// ends are tried, among them the corner where it is one, and places between.
func worst(e geom.Curve, s stretch, beyond func(geom.Point) float64) Miss {
	const tries = 16
	m := Miss{By: math.Inf(-1)}
	for k := 0; k <= tries; k++ {
		p := e.At(s.from + (s.to-s.from)*float64(k)/tries)
		if by := beyond(p); by > m.By {
			m = Miss{p, by}
		}
	}
	return m
}

// gaps returns what the stretches leave of the whole.
func gaps(covered []stretch) []stretch {
	slices.SortFunc(covered, func(a, b stretch) int { return cmp.Compare(a.from, b.from) })
	const least = geom.Rounding // of the length
	var out []stretch
	at := 0.0
	for _, s := range covered {
		if s.from > at+least {
			out = append(out, stretch{at, s.from})
		}
		at = math.Max(at, s.to)
	}
	if at < 1-least {
		out = append(out, stretch{at, 1})
	}
	return out
}
