package backplot

import (
	"fmt"
	"math"
	"slices"

	"starwright/geom"
	"starwright/toolpath/finding"
)

// tabMore is by how much a tab may be wider or higher than asked, in mm: what
// a stroke of the saw does not notice. Beyond it wood is left standing.
const tabMore = 0.5

// holdLeast is the least width, in mm, of a bridge that counts as holding a
// part. What is narrower is wood that the cutter missed.
const holdLeast = 0.2

// sheetRest looks at what still holds each part once all is cut.
func (r *Replay) sheetRest() {
	narrowest, tabs, want := math.Inf(1), 0, 0
	for i := range r.parts {
		p := &r.parts[i]
		for _, h := range p.Holes {
			for _, b := range r.bridges(h) {
				r.uncut(p, "a hole of ", b, h)
			}
		}
		held := 0
		var stand []geom.Point
		for _, b := range r.bridges(p.Outline) {
			if neck := r.neck(b, r.floor()+Tol); neck < holdLeast || neck > r.Sheet.Tabs.Width+tabMore {
				r.uncut(p, "", b, p.Outline)
				continue
			}
			held++
			stand = append(stand, b.mid)
			narrowest = min(narrowest, r.tab(p, b))
		}
		tabs += held
		asked := r.tabsOf(p)
		want += asked
		if held != asked {
			line, at := r.lostTab(p, stand)
			r.find(line, "tab-count", fmt.Sprintf("%s is held by %d tabs, the job asks for %d", p.Name, held, asked),
				0, geom.Point3{X: at.X, Y: at.Y}, "a part with too few tabs breaks loose, with too many is hard to free")
		}
	}
	r.loose()
	if len(r.parts) > 0 && r.Sheet.Tabs.Count > 0 {
		if math.IsInf(narrowest, 1) {
			narrowest = 0
		}
		r.more = append(r.more,
			finding.AtLeast("narrowest tab", narrowest, r.Sheet.Tabs.Width-PartTol, "mm"),
			finding.AtLeast("tabs", float64(tabs), float64(want), "tabs"))
	}
}

// lostTab returns where a tab of a part should stand and does not, and the line
// of the cut that went through there; line 0 and the part's middle where that
// is not known.
func (r *Replay) lostTab(p *part, stand []geom.Point) (line int, at geom.Point) {
	near := 2 * (r.Sheet.Tabs.Width + r.Cutter)
	for _, want := range p.TabsAt {
		if !slices.ContainsFunc(stand, func(q geom.Point) bool { return q.Dist(want) < near }) {
			return r.lineNear(want), want
		}
	}
	return 0, p.outline.box.Center()
}

// tabsOf is how many tabs a part is to be held by.
func (r *Replay) tabsOf(p *part) int {
	if p.Tabs > 0 {
		return p.Tabs
	}
	return r.Sheet.Tabs.Count
}

// tab holds one tab against what the job asks for, and returns its width at
// its full height.
func (r *Replay) tab(p *part, b bridge) float64 {
	t := r.Sheet.Tabs
	at := geom.Point3{X: b.mid.X, Y: b.mid.Y, Z: -r.Sheet.Thickness}
	line := func() int { return r.lineNear(b.mid) }
	top := -r.Sheet.Thickness + t.Height
	neck := r.neck(b, top-Tol)
	if neck < t.Width-PartTol {
		r.find(line(), "tab-weak", fmt.Sprintf("a tab of %s is %.2f mm wide at its full height of %.2f, the job asks for %.2f",
			p.Name, neck, t.Height, t.Width), t.Width-neck, at, "the part may break loose under the cutter")
	}
	if high := r.neck(b, min(top+tabMore, -Tol)); high > holdLeast && top+tabMore < -Tol {
		r.find(line(), "standing", fmt.Sprintf("a tab of %s stands more than %.2f mm above the job's %.2f", p.Name, tabMore, t.Height), tabMore, at,
			"the part is hard to free")
	}
	for _, q := range p.Seats {
		for _, s := range b.spans {
			if geom.CurveDist(s.edge.Part(s.From, s.To), q) < PartTol && r.neckAt(s, q) {
				r.find(line(), "tab-on-seat", fmt.Sprintf("a tab of %s stands on a seat", p.Name), 0, at, "what is left of the tab keeps the work off its seat")
			}
		}
	}
	return neck
}

// neckAt reports whether the wood of a tab itself, not only the round ends of
// the cuts beside it, meets a seat.
func (r *Replay) neckAt(s bridgeSpan, seat geom.Curve) bool {
	line, ok := beside(s.edge, r.field.r)
	if !ok {
		return true
	}
	for _, o := range r.field.open(line, r.field.r-coverSlack, r.floor()+Tol) {
		if o.From < s.To && o.To > s.From && geom.CurveDist(s.edge.Part(o.From, o.To), seat) < PartTol {
			return true
		}
	}
	return false
}

// bridge is a stretch of an outline along which the sheet is not cut through
// to the depth that the job asks for.
type bridge struct {
	spans  []bridgeSpan
	length float64
	mid    geom.Point
}

type bridgeSpan struct {
	edge geom.Curve
	span
}

// bridges returns the stretches of a contour that no cut at full depth comes
// within the cutter's radius of. Stretches that meet at a corner are one.
func (r *Replay) bridges(c geom.Contour) []bridge {
	edges := c.Curves()
	var out []bridge
	open := false // the last bridge reaches the end of the edge before
	for _, e := range edges {
		reached := false
		for _, s := range r.field.open(e, r.field.r+PartTol, r.floor()+Tol) {
			if !longEnough(e, s) {
				continue
			}
			length := (s.To - s.From) * e.Length()
			if open && s.From == 0 {
				b := &out[len(out)-1]
				b.spans, b.length = append(b.spans, bridgeSpan{e, s}), b.length+length
			} else {
				out = append(out, bridge{[]bridgeSpan{{e, s}}, length, e.At((s.From + s.To) / 2)})
			}
			open = false
			reached = s.To == 1
		}
		open = reached
	}
	if n := len(out); open && n > 1 && out[0].spans[0].From == 0 && out[0].spans[0].edge == edges[0] {
		out[0].spans = append(out[n-1].spans, out[0].spans...)
		out[0].length += out[n-1].length
		out = out[:n-1]
	}
	return out
}

// neck returns the width of a bridge at a height: how much of the cutter's
// middle line beside the outline is out of the cutter's reach there.
func (r *Replay) neck(b bridge, z float64) float64 {
	sum, best := 0.0, 0.0
	for _, bs := range b.spans {
		line, ok := beside(bs.edge, r.field.r)
		if !ok {
			continue
		}
		for _, s := range r.field.open(line, r.field.r-coverSlack, z) {
			if s.From >= bs.To || s.To <= bs.From {
				continue
			}
			if s.From > 0 {
				sum = 0
			}
			sum += (s.To - s.From) * line.Length()
			best = max(best, sum)
		}
	}
	return best
}

// beside returns the curve r to the right of e, where a cutter outside a
// counter-clockwise outline runs.
func beside(e geom.Curve, r float64) (geom.Curve, bool) {
	if !e.IsArc() {
		n := e.B.Sub(e.A).Unit().Left().Mul(-r)
		return geom.Curve{A: e.A.Add(n), B: e.B.Add(n)}, true
	}
	o, ra := e.Center(), e.Radius()
	rr := ra + r
	if e.Bulge < 0 {
		rr = ra - r
	}
	if rr <= 0 {
		return geom.Curve{}, false
	}
	k := rr / ra
	return geom.Curve{A: o.Add(e.A.Sub(o).Mul(k)), B: o.Add(e.B.Sub(o).Mul(k)), Bulge: e.Bulge}, true
}

// uncut files a stretch of an outline that should have been cut through.
func (r *Replay) uncut(p *part, of string, b bridge, c geom.Contour) {
	at := geom.Point3{X: b.mid.X, Y: b.mid.Y, Z: -r.Sheet.Thickness}
	through := r.floor() + Tol
	// How far the cut misses it: in place at full depth, or in depth.
	missed := func(grow, z float64) bool {
		for _, s := range b.spans {
			for _, o := range r.field.open(s.edge.Part(s.From, s.To), r.field.r+PartTol+grow, z) {
				if longEnough(s.edge, o) {
					return true
				}
			}
		}
		return false
	}
	const far = 5.0 // mm; what is missed by more is said to be uncut
	side := bisect(far, func(v float64) bool { return !missed(v, through) })
	depth := bisect(-r.floor(), func(v float64) bool { return !missed(0, through+v) })
	r.standing = max(r.standing, PartTol+min(side, depth))
	line := r.lineNear(b.mid)
	switch {
	case side < depth && side < far:
		r.find(line, "standing", fmt.Sprintf("%s%s stands %.3f mm proud over %.2f mm at X %.1f Y %.1f (limit %.3f)", of, p.Name, PartTol+side, b.length, b.mid.X, b.mid.Y, PartTol),
			PartTol+side, at, fmt.Sprintf("%.2f mm of wood is left on %s", PartTol+side, p.Name))
	case depth <= -r.floor():
		r.find(line, "standing", fmt.Sprintf("%s%s is cut %.3f mm short of its depth over %.2f mm at X %.1f Y %.1f", of, p.Name, depth, b.length, b.mid.X, b.mid.Y),
			depth, at, "the part may not come free")
	default:
		r.find(line, "standing", fmt.Sprintf("%s%s is not cut over %.2f mm at X %.1f Y %.1f", of, p.Name, b.length, b.mid.X, b.mid.Y),
			b.length, at, "the part does not come free")
	}
}

// lineNear returns the line of the cut that passes nearest to a point of an
// outline, the deepest of those.
func (r *Replay) lineNear(p geom.Point) int {
	for _, reach := range [3]float64{2 * r.field.r, 8 * r.field.r, 100 * r.field.r} {
		if s := r.field.nearest(p, reach, 0); s != nil {
			return int(s.line)
		}
	}
	return 0
}
