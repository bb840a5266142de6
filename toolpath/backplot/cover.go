package backplot

import (
	"starwright/geom"
)

// region is an area to ask after: its boundary, and which points lie in it.
type region struct {
	edge   []geom.Curve
	bounds geom.Box
	holds  func(geom.Point) bool
}

func contourRegion(c geom.Contour) region {
	return region{c.Curves(), c.Bounds(), c.Contains}
}

// sweptRegion is the disc of radius r swept along axis.
func sweptRegion(axis geom.Curve, r float64) region {
	return region{capsule(nil, axis, r), axis.Bounds().Grow(r),
		func(p geom.Point) bool { return axis.DistTo(p) < r }}
}

// standing returns a piece of the boundary of the wood that stands within the
// region above height z, when every cut counts as grown by grow mm; false
// where none stands. Wood in the region would border on the region's own
// edge, or on the edge of some swept disc, just outside of it.
func (f *field) standing(g region, z, grow float64) (geom.Curve, bool) {
	r := f.r + grow
	for _, e := range g.edge {
		if piece, ok := f.firstOpen(e, r, z); ok {
			return piece, true
		}
	}
	var edges [6]geom.Curve
	for _, axis := range f.axesIn(g.bounds, r, z) {
		for _, e := range capsule(edges[:0], axis, r+coverSlack) {
			if piece, ok := f.openWithin(g, e, r, z); ok {
				return piece, true
			}
		}
	}
	return geom.Curve{}, false
}

// firstOpen returns the first piece of a curve that no cut covers.
func (f *field) firstOpen(e geom.Curve, r, z float64) (geom.Curve, bool) {
	for _, s := range f.open(e, r, z) {
		if longEnough(e, s) {
			return e.Part(s.From, s.To), true
		}
	}
	return geom.Curve{}, false
}

// openWithin returns the first uncovered piece of e that lies in the region.
func (f *field) openWithin(g region, e geom.Curve, r, z float64) (geom.Curve, bool) {
	if !roomBox(e).Overlaps(g.bounds) {
		return geom.Curve{}, false
	}
	q := newQuery(e)
	var buf [16]float64
	ts := buf[:0]
	for _, b := range g.edge {
		ts = q.cross(ts, carrierOf(b))
	}
	for _, s := range splitAt(ts) {
		piece := e.Part(s.From, s.To)
		if !g.holds(piece.At(0.5)) {
			continue
		}
		if open, ok := f.firstOpen(piece, r, z); ok {
			return open, true
		}
	}
	return geom.Curve{}, false
}

// longEnough drops spans that are an accident of rounding at a crossing: next
// to a tangency the parts of a curve are known to about the root of float64's
// precision.
func longEnough(c geom.Curve, s span) bool {
	const least = 1e-5 // mm
	return (s.To-s.From)*c.Length() > least
}

// covered reports whether no wood above z stands under the cutter anywhere
// along the axis.
func (f *field) covered(axis geom.Curve, z float64) bool {
	if s := f.retraced(&axis); s != nil && max(s.zA, s.zB) <= z {
		return true
	}
	// A way that was gone before, even in pieces, leaves nothing.
	if len(f.open(axis, sliver, z)) == 0 {
		return true
	}
	_, stands := f.standing(sweptRegion(axis, f.r-sliver), z, 0)
	return !stands
}
