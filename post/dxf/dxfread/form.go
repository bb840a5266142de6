package dxfread

import (
	"fmt"
	"math"
	"strings"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/toolpath/finding"
)

// limitMM is how far anything in a file may lie from where it should: a
// twentieth of what a laser can place.
const limitMM = 0.002

// judgeForm says where the file breaks the rules that the format itself has for
// a drawing that is cut.
func (r *reader) judgeForm() {
	r.judgeHeader()
	r.judgeExtents()
	r.judgeLayers()
	r.judgeColours()
	for i := range r.file.Contours {
		r.judgeContour(&r.file.Contours[i], &r.forms[i])
	}
}

// add adds a finding, unless there are enough, and returns it to be filled in
// further; the pointer is good until the next one.
func (r *reader) add(line int, rule, block, inWood, format string, args ...any) *finding.Finding {
	f := finding.Finding{File: r.file.Name, Line: line, Rule: rule, Block: block, What: fmt.Sprintf(format, args...), InWood: inWood}
	if len(r.file.Form) >= maxFaults {
		return &f
	}
	r.file.Form = append(r.file.Form, f)
	return &r.file.Form[len(r.file.Form)-1]
}

// judgeHeader judges version and unit.
func (r *reader) judgeHeader() {
	f, h := r.file, &r.head
	if h.version != "AC1009" && !hasRule(f.Faults, "structure") {
		r.add(0, "version", h.version, "older cutter software may refuse the file or leave parts of it out",
			"$ACADVER is %q: save the drawing as release 12, AC1009", h.version)
	}
	switch {
	case f.UnitLine == 0:
		r.add(0, "unit", "", "read in inches, a millimetre drawing comes out 25.4 times too large",
			"no 999 comment states the unit, such as \"1 drawing unit = 1 mm\"")
	case f.UnitMM != 1 && f.UnitMM != geom.MMPerInch:
		r.add(f.UnitLine, "unit", "", "every part comes out at the wrong size",
			"one drawing unit is stated as %g mm: write 1 mm or 1 inch (25.4 mm)", f.UnitMM)
	}
	if n := h.insUnits; f.UnitLine > 0 && n > 0 && insUnit(n) != f.UnitMM {
		r.add(h.insLine, "unit", "$INSUNITS", "programs that follow the header cut every part at another size",
			"$INSUNITS %d says that a drawing unit is %s, the 999 comment %g mm", n, insWords(n), f.UnitMM)
	}
}

func hasRule(fs []finding.Finding, rule string) bool {
	for _, f := range fs {
		if f.Rule == rule {
			return true
		}
	}
	return false
}

// judgeExtents compares the header's extents with what is drawn.
func (r *reader) judgeExtents() {
	h := &r.head
	if !h.hasExtents {
		r.add(0, "extents", "", "", "the header has no $EXTMIN and $EXTMAX")
		return
	}
	b := r.file.Bounds()
	if b.Empty() {
		return
	}
	off := math.Max(gap(h.extMin, b.Min), gap(h.extMax, b.Max))
	if off > limitMM {
		r.add(h.extLine, "extents", "", "a program that places the sheet by the header places it wrong",
			"the header's extents are %s to %s, what is drawn reaches from %s to %s",
			xy(h.extMin), xy(h.extMax), xy(b.Min), xy(b.Max)).ByMM = off
	}
}

// gap returns the larger of the differences in X and in Y.
func gap(p, q geom.Point) float64 { return math.Max(math.Abs(p.X-q.X), math.Abs(p.Y-q.Y)) }

// xy prints a place.
func xy(p geom.Point) string { return fmt.Sprintf("X %.3f Y %.3f", p.X, p.Y) }

// judgeLayers judges layers that are off, frozen, or used without a record.
func (r *reader) judgeLayers() {
	listed := map[string]bool{}
	for _, l := range r.head.layers {
		if cut.Known(l.name) && listed[l.name] {
			r.add(l.line, "layer", l.name, "one program goes by the first, another by the second", "a second record of layer %s", l.name)
		}
		listed[l.name] = true
		switch {
		case !cut.Known(l.name):
		case l.colour < 0:
			r.add(l.line, "layer", l.name, "what is drawn on it is not cut", "layer %s is off (colour %d)", l.name, l.colour)
		case l.flags&(1|2) != 0:
			r.add(l.line, "layer", l.name, "what is drawn on it is not cut", "layer %s is frozen (flags %d)", l.name, l.flags)
		case cut.Cuts(l.name) && dashed(l.lineType):
			r.add(l.line, "line-type", l.name, "software that follows the line type cuts dashes, and the part stays fast", "the lines of layer %s are %s: make them CONTINUOUS", l.name, l.lineType)
		case l.unplotted:
			r.add(l.line, "layer", l.name, "software that plots the drawing does not cut it", "layer %s is not plotted (group 290 is 0)", l.name)
		}
	}
	if len(listed) == 0 {
		return // release 12 makes layers as they are used
	}
	for i := range r.file.Contours {
		if c := &r.file.Contours[i]; cut.Known(c.Layer) && !listed[c.Layer] {
			listed[c.Layer] = true // said once
			r.add(c.Line, "layer", c.Kind+" on "+c.Layer, "strict software refuses the file", "layer %s is used and not in the layer table", c.Layer)
		}
	}
}

// judgeContour judges everything that a flat outline has none of.
func (r *reader) judgeContour(c *cut.FileContour, m *form) {
	if !cut.Cuts(c.Layer) || c.Kind == "POLYLINE" && *m == (form{}) {
		return
	}
	block := c.Kind + " on " + c.Layer
	odd := func(is bool, rule, inWood, format string, args ...any) {
		if is {
			r.add(c.Line, rule, block, inWood, format, args...)
		}
	}
	odd(c.Kind != "POLYLINE", "entity", "software for release 12 may leave it out",
		"%s on a cut layer: make contours closed POLYLINEs", article(c.Kind))
	if len(c.Contour) < 2 {
		return
	}
	odd(dashed(m.lineType), "line-type", "software that follows the line type cuts dashes, and the part stays fast", "the contour's line is %s: make it CONTINUOUS", m.lineType)
	odd(m.hidden, "hidden", "it may or may not be cut", "the contour is invisible or in paper space (group 60 or 67)")
	odd(m.bare, "entity", "software for release 12 may find no vertices and leave the contour out",
		"the polyline does not say that vertices follow (group 66 is not 1)")
	odd(m.flags&(2|4) != 0 || m.flags&^(2|4|8|16|32|64) != 0, "curve-fit",
		"one program cuts the fitted curve, another the straight lines", "a polyline with fitted curves (group 70, bits %d)", m.flags)
	odd(m.flags&(8|16|32|64) != 0 && m.flags&(2|4) == 0, "entity", "software for flat cutting may leave it out",
		"a polyline in space or a mesh (group 70, bits %d)", m.flags)
	odd(math.Abs(m.elevation) > limitMM, "flat", "the focus or depth may be wrong by that much", "the contour lies %.3m above the plane", geom.Measure{MM: m.elevation, Unit: r.file.Unit})
	odd(math.Abs(m.thickness) > limitMM, "flat", "software may see a wall where an outline is meant", "the contour has a thickness of %.3m", geom.Measure{MM: m.thickness, Unit: r.file.Unit})
	odd(math.Abs(m.width) > limitMM, "flat", "the laser may burn a strip instead of a line", "the polyline has a width of %.3m", geom.Measure{MM: m.width, Unit: r.file.Unit})
	odd(m.turned, "flat", "the part may come out mirrored", "the contour's plane is turned (groups 210 to 230): X and Y are not those of the sheet")
}

// dashed reports whether a line type is another than that of whole lines.
func dashed(lineType string) bool {
	return lineType != "" && !strings.EqualFold(lineType, "CONTINUOUS")
}

// article puts "a" or "an" before an entity's name as it is spoken.
func article(entity string) string {
	if strings.HasPrefix(entity, "LW") || strings.HasPrefix(entity, "I") {
		return "an " + entity
	}
	return "a " + entity
}

// vertex prints a vertex as the file has it, in drawing units.
func vertex(v geom.Vertex, scale float64) string {
	s := fmt.Sprintf("VERTEX %.6g, %.6g", v.X/scale, v.Y/scale)
	if v.Bulge != 0 {
		s += fmt.Sprintf(" bulge %.6g", v.Bulge)
	}
	return s
}
