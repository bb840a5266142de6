package outline

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/toolpath/finding"
)

// maxPerContour is how many vertices and arcs of one contour are named.
const maxPerContour = 5

// differ says where a contour of the file leaves the one that was wanted.
func (c *comparison) differ(g *cut.FileContour, w cut.Contour) {
	off, where, ok := c.work.apart(g.Contour, w.Contour)
	if !ok {
		off, where = math.Max(gap(g.Contour.Bounds().Min, w.Contour.Bounds().Min), gap(g.Contour.Bounds().Max, w.Contour.Bounds().Max)), g.Contour[0].Point
	}
	c.out.MaxDeviationMM = math.Max(c.out.MaxDeviationMM, off)
	if pos, ok := c.work.bestPosition(g.Contour, w.Contour); ok {
		if c.shifted(g, w, pos) || c.vertexByVertex(g, w, pos) {
			return
		}
	}
	i := nearestVertex(g.Contour, where)
	f := c.add(int(g.VertexLines[i]), "displaced", c.f.Vertex(g.Contour[i]), c.cutInWood(w, nearestOn(g.Contour, where), off),
		"the contour of %d vertices, wanted with %d, leaves its line by %.3m at %s", len(g.Contour), len(w.Contour), in(c.f, off), xy(c.f, where))
	f.ByMM, f.At = off, at(where)
}

// shifted names a contour that has its shape and not its place.
func (c *comparison) shifted(g *cut.FileContour, w cut.Contour, pos position) bool {
	d := g.Contour[0].Sub(pos.edgeOf(w.Contour, 0).A)
	if d.Len() <= c.tol || cornersOff(g.Contour, geom.Place{Move: d}.Contour(w.Contour), pos, c.tol) > c.tol {
		return false
	}
	f := c.add(g.Line, "displaced", g.Kind+" on "+g.Layer, fmt.Sprintf("it is cut %.3m from its place", in(c.f, d.Len())),
		"the whole contour is shifted by X %+.3f Y %+.3m", in(c.f, d.X), in(c.f, d.Y))
	f.ByMM, f.At = d.Len(), at(g.Contour[0].Point)
	return true
}

// vertexByVertex names the vertices and arcs that are wrong, and returns
// whether there were any.
func (c *comparison) vertexByVertex(g *cut.FileContour, w cut.Contour, pos position) bool {
	var fs []finding.Finding
	for i := range g.Contour {
		e, under := g.Contour.Curve(i), pos.edgeOf(w.Contour, i)
		if d := e.A.Dist(under.A); d > c.tol {
			fs = append(fs, c.detail(g, i, "displaced", d, e.A, c.cutInWood(w, e.A, w.Contour.DistTo(e.A)),
				fmt.Sprintf("vertex %d is %.3m from its place, %s", i+1, in(c.f, d), xy(c.f, under.A))))
		}
		if f, wrong := c.arc(g, w, i, e, under); wrong {
			fs = append(fs, f)
		}
	}
	for _, f := range fs[:min(len(fs), maxPerContour)] {
		c.put(f)
	}
	if n := len(fs) - maxPerContour; n > 0 {
		c.add(g.Line, "displaced", g.Kind+" on "+g.Layer, "", "%d more vertices and arcs of this contour are displaced", n)
	}
	return len(fs) > 0
}

// arc compares a piece of a contour with the one wanted in its stead, apart
// from its ends.
func (c *comparison) arc(g *cut.FileContour, w cut.Contour, i int, e, under geom.Curve) (finding.Finding, bool) {
	laid := geom.Curve{A: e.A, B: e.B, Bulge: under.Bulge}
	m := e.At(0.5)
	d := m.Dist(laid.At(0.5))
	if d <= c.tol {
		return finding.Finding{}, false
	}
	inWood := c.cutInWood(w, m, w.Contour.DistTo(m))
	// Reversed: the arc wanted, on the other side of its chord.
	if m.Dist(geom.Curve{A: e.A, B: e.B, Bulge: -under.Bulge}.At(0.5)) <= c.tol {
		return c.detail(g, i, "arc-reversed", d, m, inWood,
			fmt.Sprintf("arc reversed: from vertex %d it bulges to the wrong side, by %.3m in the middle", i+1, in(c.f, d))), true
	}
	what := fmt.Sprintf("the arc from vertex %d leaves its line by %.3m in the middle (bulge %.6f, wanted %.6f)", i+1, in(c.f, d), e.Bulge, under.Bulge)
	if e.Bulge == 0 {
		what = fmt.Sprintf("a straight cut from vertex %d in place of an arc: %.3m off in the middle", i+1, in(c.f, d))
	}
	return c.detail(g, i, "displaced", d, m, inWood, what), true
}

// detail makes a finding about vertex i of a contour.
func (c *comparison) detail(g *cut.FileContour, i int, rule string, by float64, p geom.Point, inWood, what string) finding.Finding {
	return finding.Finding{
		File: c.f.Name, Line: int(g.VertexLines[i]), Block: c.f.Vertex(g.Contour[i]),
		Rule: rule, What: what, ByMM: by, At: at(p), InWood: inWood,
	}
}

// cutInWood says what it means for the wood that the cut passes at p, off from
// the line that was wanted.
func (c *comparison) cutInWood(w cut.Contour, p geom.Point, off float64) string {
	if !cut.Cuts(w.Layer) {
		return ""
	}
	side := "leaves wood standing on the part"
	if w.Contour.Contains(p) == (w.Layer == cut.Outline) {
		side = "cuts into the part"
	}
	return fmt.Sprintf("the cut runs %.3m off the outline at %s and %s", in(c.f, off), xy(c.f, p), side)
}

// nearestVertex returns the vertex of a contour nearest to p.
func nearestVertex(c geom.Contour, p geom.Point) int {
	best := 0
	for i := range c {
		if c[i].Dist(p) < c[best].Dist(p) {
			best = i
		}
	}
	return best
}

// nearestOn returns the place on a contour nearest to p.
func nearestOn(c geom.Contour, p geom.Point) geom.Point {
	best, d := p, math.Inf(1)
	for _, e := range c.Curves() {
		if q := e.Nearest(p); q.Dist(p) < d {
			best, d = q, q.Dist(p)
		}
	}
	return best
}
