package star

import (
	"slices"
	"strings"
)

// Unit is one kind of star of an order: so many of one size, with slots and
// splines or plain glued, and the wood that they come from. A star from tip
// off-cuts is a unit too, whose wood comes from another one.
type Unit struct {
	Star
	Spec   Spec // what the job asks of this star
	Slot   *Slot
	Spline *Spline
	Plate  *Plate // nil without one on the back
	Hang   *Hang  // nil without a hole to hang it by
	Blank  *Blank // that a segment is sawn from; nil where From is not
	From   *Unit  // whose pairs of tip off-cuts a segment is sawn from; nil where that is a blank
}

// Blank is the piece of board that a segment is cut from.
type Blank struct {
	Length float64 // mm
	Count  int     // for all stars of the unit
}

// Thickness returns that of the boards, mm.
func (u *Unit) Thickness() float64 { return u.Spec.Thickness }

// Count returns how many stars there are.
func (u *Unit) Count() int { return u.Spec.Count }

// Segments returns how many segments all stars of the unit have.
func (u *Unit) Segments() int { return u.Points * u.Spec.Count }

// IsOffcut reports whether the unit's wood comes from another one's off-cuts.
func (u *Unit) IsOffcut() bool { return u.From != nil }

// File names a file of the unit, or a part of a file's name: "segment" is that
// or offcut-segment, and where stars have names porch-segment or
// porch-offcut-segment. Without a part it is what stands before it.
func (u *Unit) File(part string) string { return u.join("-", "offcut", part) }

// Words names a part of the unit for people: "segment" is that, off-cut
// segment, porch segment or porch off-cut segment.
func (u *Unit) Words(part string) string { return u.join(" ", "off-cut", part) }

func (u *Unit) join(between, offcut, part string) string {
	words := []string{u.Spec.Name}
	if u.IsOffcut() {
		words = append(words, offcut)
	}
	words = slices.DeleteFunc(append(words, part), func(w string) bool { return w == "" })
	return strings.Join(words, between)
}

// Offcuts returns the two tip off-cuts of one of the unit's blanks, see
// [Offcuts].
func (u *Unit) Offcuts() (first, second Offcut) {
	return Offcuts(u.Segment, u.Blank.Length, u.Spec.Kerf)
}
