package outline

import (
	"fmt"
	"math"

	"starwright/geom"
)

// wrongAsAWhole reports whether the drawing is the one wanted but for its
// scale, place or side, and says so. It is asked when hardly anything matches.
func (c *comparison) wrongAsAWhole() bool {
	n := len(c.want.Contours)
	if n == 0 || c.out.Contours*2 > n {
		return false
	}
	want, got := geom.EmptyBox(), geom.EmptyBox()
	for _, w := range c.want.Contours {
		want = want.Union(w.Contour.Bounds())
	}
	for i := range c.f.Contours {
		got = got.Union(c.f.Contours[i].Contour.Bounds())
	}
	if want.Empty() || got.Empty() {
		return false
	}
	return c.scaled(want, got) || len(c.f.Contours) == n && c.placed(want, got)
}

// scaled names a drawing that is 25.4 times too large or too small.
func (c *comparison) scaled(want, got geom.Box) bool {
	size := want.Min.Dist(want.Max)
	ratio := got.Min.Dist(got.Max) / size
	word, factor := "large", geom.MMPerInch
	switch {
	case near(ratio, geom.MMPerInch):
	case near(ratio, 1/geom.MMPerInch):
		word, factor = "small", 1/geom.MMPerInch
	default:
		return false
	}
	unit := ""
	if c.f.UnitLine > 0 {
		unit = fmt.Sprintf(" for the unit that line %d states", c.f.UnitLine)
	}
	f := c.add(c.f.UnitLine, "scale", "", fmt.Sprintf("a part of %.1m comes out %.1m large", in(c.f, size), in(c.f, size*factor)),
		"the drawing is 25.4 times too %s%s", word, unit)
	f.ByMM = math.Abs(size*factor - size)
	c.out.MaxDeviationMM = f.ByMM
	return true
}

// placed names a drawing that was moved, mirrored or turned as a whole.
func (c *comparison) placed(want, got geom.Box) bool {
	for _, t := range []struct {
		rule, name, inWood string
		geom.Place
	}{
		{"shifted", "shifted", "every cut lands that far from its place on the sheet", geom.Place{}},
		{"mirrored", "mirrored top to bottom", "left and right parts are exchanged", geom.Place{Mirror: true}},
		{"mirrored", "mirrored left to right", "left and right parts are exchanged", geom.Place{Mirror: true, Turn: geom.Deg(180)}},
		{"turned", "turned by 90 degrees", "the parts lie across the grain", geom.Place{Turn: geom.Deg(90)}},
		{"turned", "turned by 180 degrees", "every cut lands in another place on the sheet", geom.Place{Turn: geom.Deg(180)}},
		{"turned", "turned by 270 degrees", "the parts lie across the grain", geom.Place{Turn: geom.Deg(270)}},
	} {
		move := got.Min.Sub(placedBox(t.Place, want).Min)
		t.Move = move
		clear(c.used)
		clear(c.met)
		dev := c.out.MaxDeviationMM
		c.out.MaxDeviationMM = 0
		if c.match(t.Place) == len(c.want.Contours) {
			c.out.Contours = 0
			c.out.MaxDeviationMM = c.farthestMove(t.Place)
			f := c.add(0, t.rule, "", t.inWood, "the drawing as a whole is %s%s", t.name, c.moved(move))
			f.ByMM = c.out.MaxDeviationMM
			return true
		}
		c.out.MaxDeviationMM = dev
	}
	clear(c.used)
	clear(c.met)
	c.match(geom.Place{})
	return false
}

// moved says by how much, where that is more than nothing.
func (c *comparison) moved(p geom.Point) string {
	if p.Len() <= c.tol {
		return ""
	}
	return fmt.Sprintf(" by X %+.3f Y %+.3m", in(c.f, p.X), in(c.f, p.Y))
}

// placedBox returns the box of what a placement makes of a box; all turns here
// are quarters.
func placedBox(t geom.Place, b geom.Box) geom.Box {
	out := geom.EmptyBox()
	for _, v := range t.Contour(geom.Rect(b)) {
		out = out.With(v.Point)
	}
	return out
}

// farthestMove returns how far a placement moves the vertex that it moves most.
func (c *comparison) farthestMove(t geom.Place) float64 {
	d := 0.0
	for _, w := range c.want.Contours {
		for _, v := range w.Contour {
			d = math.Max(d, t.Point(v.Point).Dist(v.Point))
		}
	}
	return d
}
