package dxfread

import (
	"fmt"
	"math"
	"strings"

	"starwright/geom"
)

// contour judges one contour for itself.
func (j *judge) contour(c *Contour) {
	block := c.Entity + " on " + c.Layer
	if !known(c.Layer) {
		j.unknownLayer(c.Line, c.Entity, c.Layer)
		return
	}
	if !cuts(c.Layer) {
		return
	}
	if c.Entity != "POLYLINE" {
		j.add(c.Line, "entity", block, "software for release 12 may leave it out",
			"%s on a cut layer: contours are to be closed POLYLINEs", article(c.Entity))
	}
	if len(c.Contour) < 2 {
		j.add(c.Line, "contour", block, "nothing is cut here", "a contour of %d vertices", len(c.Contour))
		return
	}
	j.flatness(c, block)
	j.closed(c, block)
	j.repeats(c, block)
	area, length := math.Abs(c.Area()), c.Length()
	if !(area > limitMM*length) {
		j.add(c.Line, "area", block, "the cutter runs there and back and no part falls out",
			"the contour encloses nothing: %.6f mm2 round %.3f mm", area, length).At = at(c.Contour[0].Point)
	}
}

// flatness judges everything that a flat outline has none of.
func (j *judge) flatness(c *Contour, block string) {
	odd := func(is bool, rule, inWood, format string, args ...any) {
		if is {
			j.add(c.Line, rule, block, inWood, format, args...)
		}
	}
	odd(c.Hidden, "hidden", "it may or may not be cut", "the contour is invisible or in paper space (group 60 or 67)")
	odd(c.Bare, "entity", "software for release 12 may find no vertices and leave the contour out",
		"the polyline does not say that vertices follow (group 66 is not 1)")
	odd(c.Flags&(2|4) != 0 || c.Flags&^(2|4|8|16|32|64) != 0, "curve-fit",
		"one program cuts the fitted curve, another the straight lines", "a polyline with fitted curves (group 70, bits %d)", c.Flags)
	odd(c.Flags&(8|16|32|64) != 0 && c.Flags&(2|4) == 0, "entity", "software for flat cutting may leave it out",
		"a polyline in space or a mesh (group 70, bits %d)", c.Flags)
	odd(math.Abs(c.Elevation) > limitMM, "flat", "the focus or depth may be wrong by that much", "the contour lies %.3f mm above the plane", c.Elevation)
	odd(math.Abs(c.Thickness) > limitMM, "flat", "software may see a wall where an outline is meant", "the contour has a thickness of %.3f mm", c.Thickness)
	odd(math.Abs(c.Width) > limitMM, "flat", "the laser may burn a strip instead of a line", "the polyline has a width of %.3f mm", c.Width)
	odd(c.Turned, "flat", "the part may come out mirrored", "the contour's plane is turned (groups 210 to 230): X and Y are not those of the sheet")
}

// closed judges the flag and, where it is missing, the gap.
func (j *judge) closed(c *Contour, block string) {
	if c.Closed {
		return
	}
	first, last := c.Contour[0].Point, c.Contour[len(c.Contour)-1].Point
	d := first.Dist(last)
	what := fmt.Sprintf("open contour: the flag for closed (group 70, bit 1) is not set; from its last vertex to its first it is %.3f mm", d)
	inWood := fmt.Sprintf("the part stays fast over %.3f mm, and inside and outside cannot be told", d)
	if d <= repeatMM {
		what = "open contour: its first vertex is repeated at the end in place of the flag for closed (group 70, bit 1)"
		inWood = "inside and outside may not be told, so that the kerf falls on the wrong side"
	}
	f := j.add(c.Line, "open", block, inWood, "%s", what)
	f.ByMM, f.At = d, at(last)
}

// repeats judges vertices drawn twice and arcs beyond measure.
func (j *judge) repeats(c *Contour, block string) {
	for i := range c.Contour {
		e := edge(c.Contour, i)
		if math.Abs(e.Bulge) > maxBulge {
			j.add(int(c.VertexLines[i]), "arc", block, "one program draws a circle here, another a dot",
				"bulge %g at %s is a full circle but for rounding: a circle is two arcs", e.Bulge, xy(e.A)).At = at(e.A)
		}
		if i == len(c.Contour)-1 && !c.Closed {
			break // no edge back to the first
		}
		if e.A.Dist(e.B) <= repeatMM {
			k := (i + 1) % len(c.Contour)
			j.add(int(c.VertexLines[k]), "repeated-vertex", vertexBlock(c.Contour[k], j.f.Scale()), "the cutter may dwell and burn, or offset the corner wrongly",
				"vertex %d repeats vertex %d at %s", k+1, i+1, xy(e.B)).At = at(e.B)
		}
	}
}

// vertexBlock prints a vertex as the file has it, in drawing units.
func vertexBlock(v geom.Vertex, scale float64) string {
	s := fmt.Sprintf("VERTEX %.6g, %.6g", v.X/scale, v.Y/scale)
	if v.Bulge != 0 {
		s += fmt.Sprintf(" bulge %.6g", v.Bulge)
	}
	return s
}

// strays judges everything that is no contour.
func (j *judge) strays() {
	stray := func(line int, entity, layer string, p *geom.Point) {
		switch {
		case !known(layer):
			j.unknownLayer(line, entity, layer)
		case cuts(layer):
			f := j.add(line, "stray", entity+" on "+layer, strayInWood(entity),
				"%s on %s: cut layers hold closed POLYLINEs and nothing else", article(entity), layer)
			if p != nil {
				f.At = at(*p)
			}
		}
	}
	for i := range j.f.Lines {
		stray(j.f.Lines[i].Line, "LINE", j.f.Lines[i].Layer, &j.f.Lines[i].A)
	}
	for i := range j.f.Texts {
		stray(j.f.Texts[i].Line, "TEXT", j.f.Texts[i].Layer, &j.f.Texts[i].At)
	}
	for _, o := range j.f.Others {
		if len(o.Curves) > 0 {
			stray(o.Line, o.Entity, o.Layer, &o.Curves[0].A)
		} else {
			stray(o.Line, o.Entity, o.Layer, nil)
		}
	}
}

func strayInWood(entity string) string {
	switch entity {
	case "TEXT", "MTEXT", "ATTRIB", "ATTDEF", "DIMENSION":
		return "letters are cut through the part, or dropped"
	case "SPLINE", "ELLIPSE", "INSERT", "3DFACE", "SOLID", "TRACE", "SHAPE", "HATCH", "REGION":
		return "software that does not read it leaves the cut out without a word"
	}
	return "a cut that is not part of any closed outline"
}

// article puts "a" or "an" before an entity's name as it is spoken.
func article(entity string) string {
	if entity != "" && strings.Contains("AEIO", entity[:1]) || entity == "LWPOLYLINE" || entity == "MTEXT" {
		return "an " + entity
	}
	return "a " + entity
}

func (j *judge) unknownLayer(line int, entity, layer string) {
	j.add(line, "layer", entity+" on "+layer, "whether it is cut depends on the program",
		"%s on layer %q: the layers are OUTLINE, HOLE, GUIDE and TEXT", article(entity), layer)
}
