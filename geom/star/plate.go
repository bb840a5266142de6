package star

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/geom/problem"
)

// Joint says what holds the segments of a star together beside the glue.
type Joint string

// The joints.
const (
	Splined  Joint = "spline" // a loose tongue in a slot of either facet
	PlainCut Joint = "plain"  // nothing
	Plated   Joint = "plate"  // a plate of sheet on the back
)

// Joint returns how the unit's segments are joined.
func (u *Unit) Joint() Joint {
	switch {
	case u.Slot != nil:
		return Splined
	case u.Plate != nil:
		return Plated
	}
	return PlainCut
}

// Plate is a plate that is screwed on the back of a star: as many corners as the
// star has points, each on the middle line of a segment, and its sides square
// across the joints. Two screws hold each segment, both on its middle line: along
// the grain wood hardly moves, so that the plate hinders nothing across it.
type Plate struct {
	Points int
	Half   geom.Angle // of a segment at the star's centre
	Side   float64    // from the star's centre to the middle of a side, mm
	Bore   float64    // diameter of the screw holes, mm
	Inner  float64    // from the star's centre to the two screws of a segment, mm
	Outer  float64

	// The keyhole in the top segment, on its middle line with its neck outwards: the
	// head of a screw enters the round end, and its shank hangs in the neck.
	KeyAt, KeyHead float64 // middle of the round end from the star's centre, and its diameter, mm
	Neck, Run      float64 // width of the neck, and from KeyAt to where the screw hangs, mm
}

// Sizes of a back plate, mm. Common practice, no source.
const (
	plateInside  = 8.0  // from a side to the valleys, so that nobody sees the plate
	plateShare   = 0.75 // of a facet that a plate covers where it has to cover no more
	plateEdge    = 6.0  // wood from a hole to the plate's edge
	plateWeb     = 5.0  // wood between two holes, and from a hole to the joint below it
	leastBore    = 5.0  // takes the screws that hold sheet
	boreSlack    = 0.5  // of a hole over the bit that mills it
	keyRun       = 8.0
	keyHead      = 5.0 // by which the round end is wider than the neck
	mostPlateBit = 8.0 // of a thicker one no screw's head stays in the neck
)

// plates settles the back plates of all units that have one, when the bit that cuts
// them is known.
func (o *Order) plates() (ps problem.List) {
	for _, u := range o.Units {
		if u.Spec.Joint != Plated {
			continue
		}
		bit := o.Cutter
		if u.Spec.SheetBit > 0 {
			bit = u.Spec.SheetBit
		}
		p, why := u.plate(bit)
		if p == nil && u.IsOffcut() { // no default: no key gives this star a joint of its own
			o.warn("star.joint", string(Plated), "glue the star from off-cuts without a back plate: "+why)
			o.Warnings[len(o.Warnings)-1].Star = u.Spec.Name
			continue
		}
		if p == nil {
			ps = append(ps, problem.List{u.tooSmall(bit, why)}.Of(u.Spec.Name)...)
			continue
		}
		u.Plate = p
	}
	return ps
}

// plate lays out the plate for a bit, or says why there is none.
func (u *Unit) plate(bit float64) (*Plate, string) {
	if bit > mostPlateBit+eps {
		return nil, fmt.Sprintf("a bit of %s cuts no keyhole that holds a screw's head", u.Spec.Unit.FormatSize(bit))
	}
	p := &Plate{Points: u.Points, Half: u.Segment.Center / 2, Bore: math.Max(leastBore, bit+boreSlack), Run: keyRun}
	p.Neck = p.Bore
	p.KeyHead = p.Neck + keyHead
	least, facet := p.least(), u.Segment.Facet
	if facet < least+plateInside-eps {
		return nil, fmt.Sprintf("its facets of %s are too short for a plate with a keyhole; %s is the least", u.Spec.Unit.Format(facet), ceil(u.Spec.Unit, least+plateInside))
	}
	p.Side = math.Min(facet-plateInside, math.Max(least, plateShare*facet))
	p.Outer = (p.Side - p.Bore/2 - plateEdge) / p.Half.Cos()
	p.KeyAt = p.Outer - p.Bore/2 - plateWeb - p.Neck/2 - p.Run
	// Near the centre a segment is narrow and splits, so further out where the
	// keyhole leaves room.
	p.Inner = math.Max(p.Inner, math.Min(p.Outer/2, p.KeyAt-p.KeyHead/2-plateWeb-p.Bore/2))
	return p, ""
}

// least settles the inner screws and returns the least distance from the centre to
// a side that leaves room for the keyhole between them and the outer ones.
func (p *Plate) least() float64 {
	sin, cos := p.Half.Sin(), p.Half.Cos()
	p.Inner = (p.Bore/2 + plateWeb) / sin
	key := math.Max(p.Inner+p.Bore/2+plateWeb+p.KeyHead/2, (p.KeyHead/2+plateWeb)/sin)
	outer := key + p.Run + p.Neck/2 + plateWeb + p.Bore/2
	return outer*cos + p.Bore/2 + plateEdge
}

// tooSmall says which star takes a plate.
func (u *Unit) tooSmall(bit float64, why string) problem.Problem {
	in := u.Spec.Unit
	p := problem.Problem{Key: "star.joint", Got: string(Plated), Why: why, Would: fmt.Sprintf("joint = %q", PlainCut)}
	if bit > mostPlateBit+eps {
		return p
	}
	q := &Plate{Points: u.Points, Half: u.Segment.Center / 2, Bore: math.Max(leastBore, bit+boreSlack), Run: keyRun}
	q.Neck, q.KeyHead = q.Bore, q.Bore+keyHead
	by := (q.least() + plateInside) / u.Segment.Facet
	larger := fmt.Sprintf("board_width = %q", ceil(in, u.Segment.Width*by))
	if u.Spec.StarWidth > 0 {
		larger = fmt.Sprintf("star_width = %q", ceil(in, u.Spec.StarWidth*by))
	}
	p.Would += ", or " + larger
	return p
}

// Across returns the plate's widest size, mm: twice from the centre to a corner.
func (p *Plate) Across() float64 { return 2 * p.Side / p.Half.Cos() }

// Outline returns the plate as it lies on the star, see [Star.Outline];
// counter-clockwise. From behind it is the same: it is its own mirror image.
func (p *Plate) Outline() geom.Contour {
	pts := make([]geom.Point, p.Points)
	for i := range pts {
		pts[i] = geom.Polar(p.Side/p.Half.Cos(), 2*p.Half*geom.Angle(i))
	}
	return geom.Polygon(pts...)
}

// Screws returns the outlines of the screw holes, counter-clockwise.
func (p *Plate) Screws() []geom.Contour {
	var out []geom.Contour
	for i := range p.Points {
		for _, r := range []float64{p.Inner, p.Outer} {
			out = append(out, geom.Circle(geom.Polar(r, 2*p.Half*geom.Angle(i)), p.Bore/2))
		}
	}
	return out
}

// Keyhole returns the outline of the keyhole, counter-clockwise.
func (p *Plate) Keyhole() geom.Contour {
	head, neck := p.KeyHead/2, p.Neck/2
	end := p.KeyAt + p.Run
	x := p.KeyAt + math.Sqrt(head*head-neck*neck)
	round := math.Tan((math.Pi - math.Asin(neck/head)) / 4)
	return geom.Contour{
		{Point: geom.Pt(x, -neck)}, {Point: geom.Pt(end, -neck), Bulge: 1}, {Point: geom.Pt(end, neck)},
		{Point: geom.Pt(x, neck), Bulge: round}, {Point: geom.Pt(p.KeyAt-head, 0), Bulge: round},
	}
}

// Holes returns all that is cut out of the plate.
func (p *Plate) Holes() []geom.Contour { return append(p.Screws(), p.Keyhole()) }
