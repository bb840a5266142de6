package star

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/geom/problem"
)

// Offcut is one of the two tip off-cuts of a blank, as it leaves the saw, in
// the blank's coordinates: segment as [Segment.Outline], blank ending at
// x = blank length.
type Offcut struct {
	Wood geom.Contour // counter-clockwise
	Apex geom.Point   // where the tip cut meets the board's edge, on the off-cut's side of the kerf
	End  geom.Point   // the corner of board edge and blank end
}

// Offcuts returns both off-cuts. The first cut runs across the whole blank
// along the upper edge of the segment and takes, beyond the tip, a corner of
// what will be the second off-cut; the second cut then frees that one. Each
// cut's kerf lies on the off-cut's side.
func Offcuts(s Segment, blank, kerf float64) (first, second Offcut) {
	v := s.Valley()
	h := s.Tip / 2
	shift := kerf / h.Sin() // of a tip cut along the board's edge, for a kerf across it
	apexX := v.X + shift
	end, half := blank, s.Width/2
	top := Offcut{Apex: geom.Pt(apexX, half), End: geom.Pt(end, half)}
	// The first cut's line on the off-cut's side reaches the blank's end at:
	yEnd := half - (end-apexX)*h.Tan()
	if yEnd < -half { // it leaves through the lower board edge instead
		top.Wood = geom.Polygon(top.Apex, geom.Pt(apexX+s.Width/h.Tan(), -half), geom.Pt(end, -half), top.End)
	} else {
		top.Wood = geom.Polygon(top.Apex, geom.Pt(end, yEnd), top.End)
	}
	low := Offcut{Apex: geom.Pt(apexX, -half), End: geom.Pt(end, -half)}
	low.Wood = lowerOffcut(s, low, end)
	return top, low
}

// lowerOffcut returns what is left of the lower corner: below the second cut
// (with its kerf) and below the first cut's line on the segment's side.
func lowerOffcut(s Segment, low Offcut, end float64) geom.Contour {
	tan := (s.Tip / 2).Tan()
	second := func(x float64) float64 { return low.Apex.Y + (x-low.Apex.X)*tan }
	first := func(x float64) float64 { return -(x - s.Length) * tan }
	// The two lines, of slopes +tan and -tan, cross where second = first.
	x := (first(0) - second(0)) / (2 * tan)
	if x >= end {
		return geom.Polygon(low.Apex, low.End, geom.Pt(end, second(end)))
	}
	yEnd := first(end)
	if yEnd <= low.Apex.Y { // the first cut came out through the lower board edge
		xOut := s.Length - low.Apex.Y/tan
		return geom.Polygon(low.Apex, geom.Pt(xOut, low.Apex.Y), geom.Pt(x, second(x)))
	}
	return geom.Polygon(low.Apex, low.End, geom.Pt(end, yEnd), geom.Pt(x, second(x)))
}

// offcutLength returns the length of the largest segment, of the same
// proportions, that fits a pair of off-cuts glued along their board edges, tip
// at the apex: the whole length of the glue line, unless the corner that the
// first cut took from the second off-cut forces it smaller. Of the glue line
// spare is left over behind the star's centre. 0 where nothing is left.
func offcutLength(s Segment, blank, kerf, spare float64) float64 {
	_, low := Offcuts(s, blank, kerf)
	if low.Wood.Area() <= 0 {
		return 0
	}
	line := low.End.X - low.Apex.X
	if x := low.Wood.Bounds().Max.X; x < low.End.X {
		line = x - low.Apex.X
	}
	line -= spare
	if line <= 0 {
		return 0
	}
	// The half kite scaled to length l has its valley at apex + l·q, with q
	// that of a kite of length one; its other corners lie on the board edge.
	// Only the first cut's line, y = (L-x)·tan(t/2), can be in the way.
	unit := newSegment(1, s.Center, s.Tip)
	v := unit.Valley()
	q := geom.Pt((unit.Length-v.X)/unit.Length, v.Y/unit.Length)
	tan := (s.Tip / 2).Tan()
	room := (s.Length-low.Apex.X)*tan - low.Apex.Y // at the apex, up to the first cut's line
	return math.Min(line, room/(q.X*tan+q.Y))
}

// widestKerf returns the widest kerf below one that does, of those that a saw blade
// has, in the steps of a rule; 0 where none does.
func widestKerf(in geom.Unit, than float64, does func(float64) bool) float64 {
	const thinnest = 0.5 // mm; of the saws of which a job may tell
	step := in.Ceil(0.1)
	for k := in.Floor(than); k >= thinnest; k = in.Round(k - step) {
		if k < than && does(k) {
			return k
		}
	}
	return 0
}

// minOffcutWidth is the least width of a segment of the second star, mm: each is
// glued up of two halves first. Common practice, no source.
const minOffcutWidth = 6.0

// offcuts settles the star from the off-cuts of another.
func (o *Order) offcuts(from *Unit) problem.List {
	s, kerf := from.Segment, from.Spec.Kerf
	spare := from.Spec.OffcutSpare
	l := offcutLength(s, from.Blank.Length, kerf, spare)
	one := newSegment(1, s.Center, s.Tip)
	w := l / one.Length
	if w < minOffcutWidth && spare > 0 {
		if most := math.Max(0, spare-(minOffcutWidth*one.Length-l)); offcutLength(s, from.Blank.Length, kerf, most)/one.Length >= minOffcutWidth-eps {
			in := from.Spec.Unit
			return problem.List{{Key: "star.offcut_spare", Got: in.Format(spare),
				Why:   "so much to spare leaves too little of the tip off-cuts for a second star",
				Would: fmt.Sprintf("offcut_spare = %q", floor(in, most))}}
		}
	}
	if w < minOffcutWidth {
		in := from.Spec.Unit
		p := problem.Problem{
			Key: "saw.kerf", Got: in.Format(kerf),
			Why:   "the kerf leaves too little of the tip off-cuts for a second star",
			Would: "offcut_star = false under [star]",
		}
		if most := widestKerf(in, kerf, func(k float64) bool {
			return offcutLength(s, from.Blank.Length, k, spare)/one.Length >= minOffcutWidth
		}); most > 0 {
			p.Would = fmt.Sprintf("kerf = %q, or offcut_star = false under [star]", in.Format(most))
		}
		return problem.List{p}
	}
	spec := from.Spec
	spec.OffcutStar, spec.Slot, spec.OffcutSlot = false, spec.OffcutSlot, SlotSpec{}
	spec.HangHole, spec.HangAt, spec.OffcutHang = spec.OffcutHang, nil, 0
	u := &Unit{Star: Star{from.Points, newSegment(w, s.Center, s.Tip)}, Spec: spec, From: from}
	o.Units = append(o.Units, u)
	if ps := o.offcutSlots(u); len(ps) > 0 {
		return ps
	}
	return o.hang(u)
}
