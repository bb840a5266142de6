package star

import "starwright/geom"

// Limits of the model. Wood and saws set none of them; they keep a slip of the
// pen (an inch mark on a metric number, a digit too many) out of the packet.
const (
	MinPoints     = 4
	MaxPoints     = 12
	MinBoardWidth = 4.0    // mm; a five-pointed star 17 mm wide
	MaxBoardWidth = 2500.0 // mm
	MinTip        = geom.Angle(5 * geom.Degree)
	tipSlack      = 1 * geom.Degree // least notch between two tips, see [MaxTip]
)

// Segment is one kite of a star.
type Segment struct {
	Length float64 // O to tip along the axis, mm: the star's circumradius
	Width  float64 // valley to valley, mm: the board's width
	Facet  float64 // O to valley, mm: one joint face
	Edge   float64 // valley to tip, mm: the outer edge
	Center geom.Angle
	Tip    geom.Angle
}

// newSegment returns the kite of width w with centre angle c and tip angle t.
// Plane trigonometry: each half is two right triangles of height w/2.
func newSegment(w float64, c, t geom.Angle) Segment {
	return Segment{
		Length: w / 2 * ((c / 2).Cot() + (t / 2).Cot()),
		Width:  w,
		Facet:  w / 2 / (c / 2).Sin(),
		Edge:   w / 2 / (t / 2).Sin(),
		Center: c, Tip: t,
	}
}

// Valley returns the valley on the left, seen with the tip to the right of O
// and up the page to the left: y is positive.
func (s Segment) Valley() geom.Point {
	return geom.Pt(s.Width/2*(s.Center/2).Cot(), s.Width/2)
}

// Outline returns the segment, counter-clockwise from the star's centre, tip
// on +x.
func (s Segment) Outline() geom.Contour {
	v := s.Valley()
	return geom.Polygon(geom.Pt(0, 0), geom.Pt(v.X, -v.Y), geom.Pt(s.Length, 0), v)
}

// Star is a whole star.
type Star struct {
	Points  int
	Segment Segment
}

// Width returns the widest distance from tip to tip in mm: 2R sin(180·⌊n/2⌋/n).
func (s Star) Width() float64 {
	return 2 * s.Segment.Length * spread(s.Points)
}

func spread(n int) float64 {
	return geom.Deg(180 * float64(n/2) / float64(n)).Sin()
}

// ValleyRadius returns the distance from the centre to each valley, mm. It is
// the length of a facet.
func (s Star) ValleyRadius() float64 { return s.Segment.Facet }

// Outline returns the star's outer outline counter-clockwise, starting at the
// tip on +x.
func (s Star) Outline() geom.Contour {
	pts := make([]geom.Point, 0, 2*s.Points)
	for i := 0; i < s.Points; i++ {
		a := geom.Deg(360 * float64(i) / float64(s.Points))
		pts = append(pts, geom.Polar(s.Segment.Length, a), geom.Polar(s.Segment.Facet, a+s.Segment.Center/2))
	}
	return geom.Polygon(pts...)
}

// Valleys returns the outer end of each joint, counter-clockwise.
func (s Star) Valleys() []geom.Point {
	o := s.Outline()
	out := make([]geom.Point, 0, s.Points)
	for i := 1; i < len(o); i += 2 {
		out = append(out, o[i].Point)
	}
	return out
}

// CenterMiter returns the saw setting for the facets, from a square cross-cut.
func (s Segment) CenterMiter() geom.Angle { return 90*geom.Degree - s.Center/2 }

// TipMiter returns the saw setting for the tip cuts, from a square cross-cut.
func (s Segment) TipMiter() geom.Angle { return 90*geom.Degree - s.Tip/2 }

// DefaultTip returns the tip angle of the sharpest regular star polygon {n/k}
// whose sides do not cross the centre: 180(1-2k/n) degrees for the largest
// k < n/2 (Coxeter, Regular Polytopes: {5/2} has 36 degrees), and false where
// none but the plain polygon exists (n 4).
func DefaultTip(n int) (geom.Angle, bool) {
	k := (n - 1) / 2
	if k < 2 {
		return 0, false
	}
	return geom.Deg(180 * float64(n-2*k) / float64(n)), true
}

// MaxTip returns the bound below which a tip angle makes a star: with
// c + t = 180 the edges of neighbours run straight into each other.
func MaxTip(n int) geom.Angle { return geom.Deg(180 - 360/float64(n)) }

// widthFor returns the board width that gives a star of the given width
// between tips, mm.
func widthFor(starWidth float64, n int, c, t geom.Angle) float64 {
	r := starWidth / (2 * spread(n))
	return 2 * r / ((c / 2).Cot() + (t / 2).Cot())
}
