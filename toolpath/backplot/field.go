package backplot

import (
	"math"

	"starwright/geom"
)

// field is all that the cutter has swept so far below the wood's surface,
// filed by place.
type field struct {
	r      float64 // cutter radius, mm
	sweeps []sweep
	cell   float64
	grid   map[[2]int32][]int32
	seen   []uint32 // stamp per sweep, so that a search meets each once
	stamp  uint32
}

// newField returns an empty field for a cutter of radius r. Cells are two
// cutter diameters wide: a cutter's disc touches at most four.
func newField(r float64) *field {
	return &field{r: r, cell: 4 * r, grid: map[[2]int32][]int32{}}
}

// add files a sweep. Sweeps wholly above the surface are left out.
func (f *field) add(s sweep) {
	if s.low() >= 0 {
		return
	}
	i := int32(len(f.sweeps))
	f.sweeps = append(f.sweeps, s)
	f.seen = append(f.seen, 0)
	f.cells(s.axis, f.r, func(k [2]int32) { f.grid[k] = append(f.grid[k], i) })
}

// cells calls visit for each cell that the disc of radius r swept along axis
// may touch.
func (f *field) cells(axis geom.Curve, r float64, visit func([2]int32)) {
	n := 1
	if l := axis.Length(); l > f.cell {
		n = int(math.Ceil(l / f.cell))
	}
	for i := 0; i < n; i++ {
		b := axis.Part(float64(i)/float64(n), float64(i+1)/float64(n)).Bounds().Grow(r)
		for x := f.index(b.Min.X); x <= f.index(b.Max.X); x++ {
			for y := f.index(b.Min.Y); y <= f.index(b.Max.Y); y++ {
				visit([2]int32{x, y})
			}
		}
	}
}

func (f *field) index(v float64) int32 { return int32(math.Floor(v / f.cell)) }

// near calls visit with the axis of each sweep filed before index limit that
// is at or below z and may come within reach of the curve, deepest part only.
// It stops where visit returns false.
func (f *field) near(c geom.Curve, reach, z float64, limit int, visit func(i int, axis geom.Curve) bool) {
	f.stamp++
	stamp, going := f.stamp, true
	f.cells(c, reach, func(k [2]int32) {
		for _, i := range f.grid[k] {
			if !going {
				return
			}
			if int(i) >= limit || f.seen[i] == stamp {
				continue
			}
			f.seen[i] = stamp
			if axis, ok := f.sweeps[i].below(z); ok {
				going = visit(int(i), axis)
			}
		}
	})
}

// open returns the spans of the curve that lie farther than r from every axis
// at or below z, of the sweeps filed before limit.
func (f *field) open(c geom.Curve, r, z float64, limit int) []span {
	q := newQuery(c)
	left := []span{{0, 1}}
	// The sweeps that may reach the curve are filed with the cutter's radius;
	// a larger r asks for a little more room.
	f.near(c, math.Max(0, r-f.r)+coverSlack, z, limit, func(_ int, axis geom.Curve) bool {
		left = q.subtract(left, axis, r)
		return len(left) > 0
	})
	return left
}

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
	return region{capsule(axis, r), axis.Bounds().Grow(r),
		func(p geom.Point) bool { return axis.DistTo(p) < r }}
}

// rest is a place where wood stands that should be gone.
type rest struct {
	curve geom.Curve // a piece of the standing wood's boundary
}

// standing returns pieces of the boundary of the wood that stands within the
// region above height z, when every cut of the sweeps filed before limit
// counts as grown by grow mm. An empty answer means that none stands: wood in
// the region would border on the region's own edge, or on the edge of some
// swept disc, just outside of it.
func (f *field) standing(g region, z, grow float64, limit int) []rest {
	r := f.r + grow
	var out []rest
	for _, e := range g.edge {
		for _, s := range f.open(e, r, z, limit) {
			if longEnough(e, s) {
				out = append(out, rest{e.Part(s.From, s.To)})
			}
		}
	}
	if len(out) > 0 {
		return out
	}
	for _, axis := range f.within(g.bounds, r, z, limit) {
		for _, e := range capsule(axis, r+coverSlack) {
			out = append(out, f.openWithin(g, e, r, z, limit)...)
		}
	}
	return out
}

// within returns the axes whose swept discs may touch the box.
func (f *field) within(b geom.Box, r, z float64, limit int) []geom.Curve {
	var out []geom.Curve
	f.stamp++
	b = b.Grow(r - f.r + coverSlack)
	for x := f.index(b.Min.X); x <= f.index(b.Max.X); x++ {
		for y := f.index(b.Min.Y); y <= f.index(b.Max.Y); y++ {
			for _, i := range f.grid[[2]int32{x, y}] {
				if int(i) >= limit || f.seen[i] == f.stamp {
					continue
				}
				f.seen[i] = f.stamp
				if axis, ok := f.sweeps[i].below(z); ok {
					out = append(out, axis)
				}
			}
		}
	}
	return out
}

// openWithin returns the uncovered pieces of e that lie in the region.
func (f *field) openWithin(g region, e geom.Curve, r, z float64, limit int) []rest {
	if !e.Bounds().Overlaps(g.bounds) {
		return nil
	}
	q := newQuery(e)
	var ts []float64
	for _, b := range g.edge {
		ts = q.cross(ts, carrierOf(b))
	}
	var out []rest
	for _, s := range splitAt(ts) {
		piece := e.Part(s.From, s.To)
		if !g.holds(piece.At(0.5)) {
			continue
		}
		for _, o := range f.open(piece, r, z, limit) {
			if longEnough(piece, o) {
				out = append(out, rest{piece.Part(o.From, o.To)})
			}
		}
	}
	return out
}

// longEnough drops spans that are an accident of rounding at a crossing: next
// to a tangency the parts of a curve are known to about the root of float64's
// precision.
func longEnough(c geom.Curve, s span) bool {
	const least = 1e-5 // mm
	return (s.To-s.From)*c.Length() > least
}
