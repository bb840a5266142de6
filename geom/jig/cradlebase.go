package jig

import (
	"math"

	"starwright/geom"
)

// base makes the plate below: as wide, with the same holes, and so long along
// the line of cut.
func (c cradle) base(j Jig, long float64) Jig {
	box := geom.Box{Max: j.Outline.Bounds().Max}
	box.Max.Y = math.Max(box.Max.Y, long) // of the notched plate, or beyond it
	j.Outline = ease(geom.Rect(box), easing, 0, 3)
	j.Seats = []Seat{fenceSeat(j.Outline)}
	return j
}

// bed makes the plate that carries a piece cut off, at the height of the base
// and right up to the line of cut.
func (c cradle) bed(j Jig, piece geom.Contour, wide, long float64) Jig {
	box := geom.Box{Min: geom.Pt(-wide, 0), Max: geom.Pt(0, long)}
	j.Outline = ease(geom.Rect(box), easing, 1, 2)
	screw, first := c.row()
	y := c.zone() / 2
	j.Holes = clampSlot(j.Outline, nil, geom.Pt(-wide+first, y), geom.Pt(-first, y), leastMeat)
	j.Holes, j.Screwed = screws(j.Outline, j.Holes, c.bit, leastMeat, geom.Pt(-wide+screw, y), geom.Pt(-screw, y)), true
	j.Seats = []Seat{fenceSeat(j.Outline)}
	j.Marks = []geom.Contour{piece}
	return j
}

// beds makes base and bed. The base reaches as far along the line of cut as
// severs the off-cut, and the bed as far as the off-cut reaches either way, or
// where the sheet has no room for that, well beyond its middle. It is false
// where there is no room for so much either.
func (c cradle) beds(left Jig, p Params) (base, bed Jig, ok bool) {
	name := left.Title[:len(left.Title)-len(", left")]
	base, bed = left, Jig{Key: left.Key, Quantity: 2}
	base.Quantity, base.Hand = 2, ""
	base.File, base.Title = "jig-"+left.Key+"-base", name+", base"
	bed.File, bed.Title = "jig-"+left.Key+"-base-offcut", name+", off-cut base"
	piece := leftOf(c.place().Contour(c.work), -c.kerf)
	if len(piece) == 0 {
		return base, bed, false
	}
	far, top := -piece.Bounds().Min.X, piece.Bounds().Max.Y
	mid, end := centroid(piece), c.severed()
	const steps = 10
	for i := range steps + 1 {
		t := float64(i) / steps
		wide := math.Max(far+(-mid.X*bedOver-far)*t, c.leastBase())
		base.Outline = left.Outline
		base = c.base(base, end-math.Max(0, end-mid.Y)*bedShort*t)
		bed = c.bed(bed, piece, wide, math.Max(end, top)-(math.Max(end, top)-mid.Y)*bedShort*t)
		if p.fits(base.Outline) && p.fits(bed.Outline) {
			return base, bed, true
		}
	}
	return base, bed, false
}

// severed returns how far from the fence the saw must cut until the off-cut
// falls: to the end of the work along either side of the kerf.
func (c cradle) severed() float64 {
	work := c.place().Contour(c.work)
	y := c.place().Point(geom.Pt(c.long, 0)).Y
	for _, x := range [...]float64{0, -c.kerf} {
		for _, e := range work.Curves() {
			if (e.A.X-x)*(e.B.X-x) <= 0 && e.A.X != e.B.X {
				y = math.Max(y, e.At((x-e.A.X)/(e.B.X-e.A.X)).Y)
			}
		}
	}
	return y
}

// leftOf returns the part of a convex polygon to the left of a line along Y.
func leftOf(c geom.Contour, x float64) geom.Contour {
	var out []geom.Point
	for _, e := range c.Curves() {
		if e.A.X <= x {
			out = append(out, e.A)
		}
		if (e.A.X-x)*(e.B.X-x) < 0 {
			out = append(out, e.At((x-e.A.X)/(e.B.X-e.A.X)))
		}
	}
	if len(out) < 3 {
		return nil
	}
	return geom.Polygon(out...)
}

// centroid returns the middle of the area of a polygon.
func centroid(c geom.Contour) geom.Point {
	var sum geom.Point
	area := 0.0
	for _, e := range c.Curves() {
		x := e.A.Cross(e.B)
		sum, area = sum.Add(e.A.Add(e.B).Mul(x/3)), area+x
	}
	return sum.Mul(1 / area)
}
