package jig

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/geom/problem"
)

// fits reports whether a plate finds room on the job's sheet within the
// margins and clear of the screws in its corners, as drawn, a quarter turned,
// or with one of its long sides along the sheet's.
func (p Params) fits(c geom.Contour) bool {
	if p.MaxW <= 0 || p.MaxH <= 0 {
		return true
	}
	const half, least = 180 * geom.Degree, 0.5 // least length of a side that is tried, of the longest
	turns := []geom.Angle{0}
	longest := 0.0
	for _, e := range c.Curves() {
		if !e.IsArc() {
			longest = math.Max(longest, e.Length())
		}
	}
	for _, e := range c.Curves() {
		if !e.IsArc() && e.Length() >= least*longest {
			turns = append(turns, -e.B.Sub(e.A).Angle())
		}
	}
	for _, t := range turns {
		for _, a := range [...]geom.Angle{t, t + half/2, t + half, t - half/2} {
			if p.lies(geom.Place{Turn: a}.Contour(c)) {
				return true
			}
		}
	}
	return false
}

// lies is [Params.fits] for a plate that is not turned.
func (p Params) lies(c geom.Contour) bool {
	const rounding, steps = geom.Touch, 4
	if p.MaxW <= 0 || p.MaxH <= 0 {
		return true
	}
	box := c.Bounds()
	dx, dy := p.MaxW-box.W(), p.MaxH-box.H()
	if dx < -rounding || dy < -rounding {
		return false
	}
	if p.Corner <= 0 {
		return true
	}
	for i := range steps + 1 {
		for k := range steps + 1 {
			at := geom.Pt(dx*float64(i)/steps, dy*float64(k)/steps).Sub(box.Min)
			if p.offCorners(geom.Place{Move: at}.Contour(c)) {
				return true
			}
		}
	}
	return false
}

// offCorners reports whether a plate that lies in the room keeps off the squares
// in its corners.
func (p Params) offCorners(c geom.Contour) bool {
	const rounding = geom.Touch
	box := c.Bounds()
	z := p.Corner - rounding
	for _, at := range [...]geom.Point{{}, {X: p.MaxW - z}, {Y: p.MaxH - z}, {X: p.MaxW - z, Y: p.MaxH - z}} {
		square := geom.Box{Min: at, Max: at.Add(geom.Pt(z, z))}
		if !box.Overlaps(square) {
			continue
		}
		r := geom.Rect(square)
		if c.Contains(square.Center()) || r.Contains(c[0].Point) || !clear(r, c, rounding/2) {
			return false
		}
	}
	return true
}

// tooLarge says that a jig finds no room on the sheet even in its smallest
// form, whose plate is c, and which sheet takes it.
func (p Params) tooLarge(u geom.Unit, key, name string, c geom.Contour) problem.Problem {
	w, h := p.MaxW+2*p.Margin, p.MaxH+2*p.Margin
	box := c.Bounds()
	out := problem.Problem{
		Key: "sheet.width", Got: u.Format(w),
		Why: fmt.Sprintf("no sheet of %s by %s takes the %s, whose smallest plate is %s by %s",
			u.Format(w), u.Format(h), name, u.Format(box.W()), u.Format(box.H())),
	}
	const step, most = 5.0, 3000.0 // mm
	for _, square := range [...]bool{false, true} {
		q := p
		for q.MaxW < most {
			q.MaxW += step
			if square {
				q.MaxH = math.Max(q.MaxH, q.MaxW)
			}
			if !q.fits(c) {
				continue
			}
			out.Would = fmt.Sprintf("width = %q", u.Format(u.Ceil(q.MaxW+2*p.Margin)))
			if square {
				out.Would += fmt.Sprintf(" and height = %q", u.Format(u.Ceil(q.MaxH+2*p.Margin)))
			}
			return out
		}
	}
	out.Would = without(key)
	return out
}
