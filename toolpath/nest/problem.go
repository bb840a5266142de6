package nest

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/geom/problem"
)

// TooLarge is a part that fits on no sheet, in the turning in which it comes
// nearest. Lengths are mm.
type TooLarge struct {
	Part  string
	W, H  float64 // of the part as it would lie
	RoomW float64 // between the sheet's margins
	RoomH float64
	OverX float64 // by how much it is too wide, 0 where it is not
	OverY float64 // by how much it is too high, 0 where it is not
	Unit  geom.Unit
	sheet Options
}

// Error says by how much the part is too large, and in which direction.
func (e *TooLarge) Error() string { return e.Problem().Error() }

// Problem returns the same as a fault of the job file.
func (e *TooLarge) Problem() problem.Problem {
	u := e.Unit
	over, key, got, need := "", "sheet.width", e.sheet.W, e.sheet.W+e.OverX
	switch {
	case e.OverX > 0 && e.OverY > 0:
		over = fmt.Sprintf("%s too wide and %s too high", u.Format(u.Ceil(e.OverX)), u.Format(u.Ceil(e.OverY)))
	case e.OverX > 0:
		over = u.Format(u.Ceil(e.OverX)) + " too wide (in X)"
	case e.OverY > 0:
		over = u.Format(u.Ceil(e.OverY)) + " too high (in Y)"
		key, got, need = "sheet.height", e.sheet.H, e.sheet.H+e.OverY
	default:
		return e.sheet.betweenZones(e.Part, e.W, e.H, e.sheet.ZoneSpacing(), true)
	}
	p := problem.Problem{Key: key, Got: u.Format(got),
		Why: fmt.Sprintf("%s is %s by %s; between the margins the sheet has room for %s by %s, so the part is %s",
			e.Part, u.Format(e.W), u.Format(e.H), u.Format(e.RoomW), u.Format(e.RoomH), over)}
	p.Would = fmt.Sprintf("%s = %q", key[len("sheet."):], u.Format(u.Ceil(need)))
	if e.OverX > 0 && e.OverY > 0 {
		p.Would += fmt.Sprintf(" and height = %q", u.Format(u.Ceil(e.sheet.H+e.OverY)))
	}
	return p
}

// betweenZones is the problem of a part, w wide and h high, for which the screw zones
// in the corners of the sheet leave no room, kept off them by so much: with the size of
// a sheet that has it. Where upwards will do too it is the side that grows less.
func (o Options) betweenZones(part string, w, h, off float64, upwards bool) problem.Problem {
	u := o.Unit
	p := problem.Problem{Key: "sheet.screw_zones", Why: fmt.Sprintf("%s, %s by %s, does not fit between the screw zones", part, u.Format(w), u.Format(h)),
		Would: "screw_zones = false"}
	corner := 0.0
	for _, z := range o.Zones {
		corner = math.Max(corner, math.Max(z.W(), z.H()))
	}
	const spare = 1.0 // mm; to a hair is no fit
	edge := spare + 2*math.Max(o.Margin, corner+off)
	switch wide, high := w+edge-o.W, h+edge-o.H; {
	case wide <= 0: // no corners
	case !upwards || wide < high:
		p.Would += fmt.Sprintf(", or width = %q", u.Format(u.Ceil(w+edge)))
	default:
		p.Would += fmt.Sprintf(", or height = %q", u.Format(u.Ceil(h+edge)))
	}
	return p
}

// Check returns what is wrong with the options.
func (o Options) Check() problem.List {
	var ps problem.List
	u := o.Unit
	bad := func(key string, v float64, why, would string) {
		ps = append(ps, problem.Problem{Key: key, Got: u.Format(v), Why: why, Would: would})
	}
	finite := func(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
	if !finite(o.W) || o.W <= 0 {
		bad("sheet.width", o.W, "must be above zero", "")
	}
	if !finite(o.H) || o.H <= 0 {
		bad("sheet.height", o.H, "must be above zero", "")
	}
	if !finite(o.Cutter) || o.Cutter < 0 {
		bad("cutter.diameter", o.Cutter, "must not be below zero", "")
		return ps
	}
	least := u.Ceil(math.Max(o.Cutter, 1))
	switch {
	case !finite(o.Spacing) || o.Spacing <= 0:
		bad("sheet.spacing", o.Spacing, "must be above zero, or two parts share an edge and both lose the cut", fmt.Sprintf("spacing = %q", u.Format(least)))
	case o.Spacing < o.Cutter:
		bad("sheet.spacing", o.Spacing, fmt.Sprintf("the cutter, %s wide, does not pass between two parts", u.Format(o.Cutter)), fmt.Sprintf("spacing = %q", u.Format(least)))
	}
	if !finite(o.Margin) || o.Margin < o.Cutter {
		bad("sheet.margin", o.Margin, fmt.Sprintf("the cutter, %s wide, would leave no edge to hold the tabs", u.Format(o.Cutter)), fmt.Sprintf("margin = %q", u.Format(least)))
	} else if u := o.usable(); len(ps) == 0 && (u.Min.X >= u.Max.X || u.Min.Y >= u.Max.Y) {
		bad("sheet.margin", o.Margin, "the margins leave nothing of the sheet", fmt.Sprintf("margin = %q", o.Unit.Format(least)))
	}
	for _, z := range o.Zones {
		if !z.Min.Finite() || !z.Max.Finite() || z.Empty() {
			ps = append(ps, problem.Problem{Key: "sheet.screw_zones", Why: "a screw zone is no rectangle"})
		}
	}
	return ps
}
