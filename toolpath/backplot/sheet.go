package backplot

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/finding"
)

// PartTol is how far a cut may reach into a part, and how much may be left on
// its outline, in mm. It is wider than [Tol] because an arc may be written as
// lines within 0.01 mm of it.
const PartTol = 0.02

// Sheet is work cut through from a sheet that lies on a spoilboard.
type Sheet struct {
	Thickness    float64 // mm
	Breakthrough float64 // mm into the spoilboard
	Parts        []Part
	Keepouts     []geom.Contour // screw zones: no cut may touch them
	Tabs         Tabs
}

// Tabs says what holds a part until it is sawn free.
type Tabs struct {
	Count         int
	Width, Height float64 // mm; least wood across and up from the sheet's underside
}

// Part is one part where it lies on the sheet, outline and holes.
type Part struct {
	Name    string
	Outline geom.Contour // counter-clockwise
	Holes   []geom.Contour
	bounds  geom.Box
	curves  []geom.Curve
}

func (p *Part) prepare() {
	p.Outline = p.Outline.CCW()
	p.bounds = p.Outline.Bounds()
	p.curves = p.Outline.Curves()
	for _, h := range p.Holes {
		p.curves = append(p.curves, h.Curves()...)
	}
}

// solid reports whether a point lies in the part's wood.
func (p *Part) solid(q geom.Point) bool {
	if !p.Outline.Contains(q) {
		return false
	}
	for _, h := range p.Holes {
		if h.Contains(q) {
			return false
		}
	}
	return true
}

// reach returns how far the disc of radius r swept along axis reaches into
// the part: exact, from the least distance between curves. Negative where it
// keeps clear.
func (p *Part) reach(axis geom.Curve, r float64) float64 {
	box := axis.Bounds().Grow(r)
	if !box.Overlaps(p.bounds) {
		return math.Inf(-1)
	}
	d := math.Inf(1)
	for _, e := range p.curves {
		if e.Bounds().Overlaps(box) {
			d = math.Min(d, geom.CurveDist(axis, e))
		}
	}
	if d > 0 && p.solid(axis.A) {
		return r + math.Min(d, p.bounds.W())
	}
	return r - d
}

// sheetGouge holds a sweep against parts, screw zones and spoilboard.
func (j *judge) sheetGouge(m toolpath.Move, s sweep, axis geom.Curve) {
	sh := j.Sheet
	for i := range sh.Parts {
		p := &sh.Parts[i]
		out := p.reach(axis, j.field.r)
		j.outside = math.Max(j.outside, out)
		if out <= PartTol {
			continue
		}
		from, to := worst(axis, func(q geom.Point) float64 { return p.reach(geom.Curve{A: q, B: q}, j.field.r) })
		j.find(m, "gouge", fmt.Sprintf("cuts %.3f mm into %s (limit %.3f)", out, p.Name, PartTol), out,
			geom.Point3{X: from.X, Y: from.Y, Z: s.low()}, fmt.Sprintf("%s loses %.2f mm, %s", p.Name, out, fromTo(from, to)))
	}
	for _, k := range sh.Keepouts {
		zone := Part{Name: "the screw zone", Outline: k}
		zone.prepare()
		if out := zone.reach(axis, j.field.r); out > PartTol {
			j.find(m, "screw-zone", fmt.Sprintf("cuts %.3f mm into a screw zone", out), out, m.To, "the cutter may hit a screw")
		}
	}
	if deep := -sh.Thickness - sh.Breakthrough - s.low(); deep > j.deepest {
		j.deepest = deep
	}
	if deep := -sh.Thickness - sh.Breakthrough - s.low(); deep > Tol {
		j.find(m, "spoilboard", fmt.Sprintf("cuts %.3f mm deeper than the stated breakthrough of %.3f", deep, sh.Breakthrough), deep, m.To,
			fmt.Sprintf("cuts %.2f mm into the spoilboard", deep+sh.Breakthrough))
	}
}

// sheetRest looks at what still holds each part once all is cut.
func (j *judge) sheetRest(moves []toolpath.Move) {
	narrowest := math.Inf(1)
	tabs := 0
	for i := range j.Sheet.Parts {
		p := &j.Sheet.Parts[i]
		for _, h := range p.Holes {
			for _, b := range j.bridges(h, j.cutThrough()) {
				j.uncut(p, "a hole of ", b, moves)
			}
		}
		bs := j.bridges(p.Outline, j.cutThrough())
		held := 0
		for _, b := range bs {
			if b.length > 2*(j.Sheet.Tabs.Width+j.Cutter)+4*j.tabFlank() {
				j.uncut(p, "", b, moves)
				continue
			}
			held++
			neck := j.neck(p, b)
			narrowest = math.Min(narrowest, neck)
			if neck < j.Sheet.Tabs.Width-PartTol {
				j.find(j.cutNear(b.mid, moves), "tab-weak", fmt.Sprintf("a tab of %s is %.2f mm wide at its full height of %.2f, the job asks for %.2f",
					p.Name, math.Max(0, neck), j.Sheet.Tabs.Height, j.Sheet.Tabs.Width), j.Sheet.Tabs.Width-neck,
					geom.Point3{X: b.mid.X, Y: b.mid.Y, Z: -j.Sheet.Thickness}, "the part may break loose under the cutter")
			}
		}
		tabs += held
		if held != j.Sheet.Tabs.Count {
			at := p.bounds.Center()
			j.find(j.cutNear(at, moves), "tab-count", fmt.Sprintf("%s is held by %d tabs, the job asks for %d", p.Name, held, j.Sheet.Tabs.Count),
				0, geom.Point3{X: at.X, Y: at.Y}, "a part with too few tabs breaks loose, with too many is hard to free")
		}
	}
	if len(j.Sheet.Parts) > 0 && j.Sheet.Tabs.Count > 0 {
		if math.IsInf(narrowest, 1) {
			narrowest = 0
		}
		j.more = append(j.more,
			finding.AtLeast("narrowest tab", narrowest, j.Sheet.Tabs.Width-PartTol, "mm"),
			finding.AtLeast("tabs", float64(tabs), float64(j.Sheet.Tabs.Count*len(j.Sheet.Parts)), "tabs"))
	}
}

// cutThrough is the height at or below which a cut has gone through the sheet.
func (j *judge) cutThrough() float64 { return -j.Sheet.Thickness + Tol }

// tabFlank is the length on which a ramp of the job's angle climbs a tab.
func (j *judge) tabFlank() float64 {
	if t := j.Limits.RampMax.Tan(); t > 0 {
		return j.Sheet.Tabs.Height / t
	}
	return 0
}

// bridge is a stretch of an outline along which the sheet is not cut through.
type bridge struct {
	spans  []bridgeSpan
	length float64
	mid    geom.Point
}

type bridgeSpan struct {
	edge geom.Curve
	span
}

// bridges returns the stretches of a contour that no cut at or below z comes
// within the cutter's radius of. Stretches that meet at a corner are one.
func (j *judge) bridges(c geom.Contour, z float64) []bridge {
	all := len(j.field.sweeps)
	edges := c.Curves()
	var out []bridge
	open := false // the last bridge reaches the end of the edge before
	for _, e := range edges {
		reached := false
		for _, s := range j.field.open(e, j.field.r+PartTol, z, all) {
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

// neck returns the least width of a tab at its full height: how much of the
// cutter's middle line beside the outline is out of the cutter's reach there.
func (j *judge) neck(p *Part, b bridge) float64 {
	all := len(j.field.sweeps)
	z := -j.Sheet.Thickness + j.Sheet.Tabs.Height - Tol
	best := 0.0
	for _, bs := range b.spans {
		line, ok := beside(bs.edge, j.field.r)
		if !ok {
			continue
		}
		for _, s := range j.field.open(line, j.field.r-coverSlack, z, all) {
			if s.From < bs.To && s.To > bs.From {
				best = math.Max(best, (s.To-s.From)*line.Length())
			}
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

// uncut files a stretch that should have been cut through.
func (j *judge) uncut(p *Part, of string, b bridge, moves []toolpath.Move) {
	j.standing = math.Max(j.standing, b.length)
	j.find(j.cutNear(b.mid, moves), "standing", fmt.Sprintf("%s%s is not cut through over %.2f mm at X %.1f Y %.1f", of, p.Name, b.length, b.mid.X, b.mid.Y),
		b.length, geom.Point3{X: b.mid.X, Y: b.mid.Y, Z: -j.Sheet.Thickness}, "the part does not come free")
}

// cutNear returns the cut that passes nearest to a point seen from above, the
// deepest of those.
func (j *judge) cutNear(at geom.Point, moves []toolpath.Move) toolpath.Move {
	best, bestDist := toolpath.Move{}, math.Inf(1)
	for _, m := range moves {
		if !m.Cuts() || math.Min(m.From.Z, m.To.Z) >= 0 {
			continue
		}
		for _, c := range m.Curves() {
			d := c.DistTo(at)
			closer := d < bestDist-zSlack
			deeper := d < bestDist+zSlack && m.To.Z < best.To.Z
			if closer || deeper {
				best, bestDist = m, math.Min(d, bestDist)
			}
		}
	}
	return best
}
