package dxfread

import (
	"math"
	"slices"
	"strings"

	"starwright/geom"
	"starwright/post/cut"
)

// entity reads one entity. The current pair is its type; afterwards it is the
// first pair of whatever follows.
func (r *reader) entity() bool {
	r.entities++
	if r.entities > maxEntities {
		return r.stop(r.line+1, "more than %d entities", maxEntities)
	}
	switch {
	case r.is(0, "POLYLINE"):
		return r.polyline()
	case r.is(0, "LINE"):
		return r.lineEntity()
	case r.is(0, "TEXT"), r.is(0, "MTEXT"):
		return r.text()
	case r.is(0, "LWPOLYLINE"):
		return r.lightPolyline()
	case r.is(0, "CIRCLE"), r.is(0, "ARC"):
		return r.round()
	case r.is(0, "VERTEX"), r.is(0, "SEQEND"):
		r.fault(r.line+1, "structure", r.word(), "%s outside of a POLYLINE", r.word())
		return r.skipTo0()
	}
	o := cut.FileOther{Kind: clip(r.word()), Line: r.line + 1}
	o.Words, o.Rare = slices.Contains(lettered, o.Kind), slices.Contains(rare, o.Kind)
	r.colour = byLayer
	for r.next() && r.code != 0 {
		r.look(&o.Layer)
	}
	r.file.Others = append(r.file.Others, o)
	r.coloured(o.Layer, o.Line)
	if slices.Contains(referring, o.Kind) && !cut.Cuts(o.Layer) { // there it is a stray
		r.add(o.Line, "entity", o.Kind+" on "+o.Layer, "what it draws may be cut: what lies in a block keeps its own layers",
			"%s draws what lies in a block, wherever and as large as it says: no drawing that is cut has one", article(o.Kind))
	}
	return !r.done
}

// Entities that hold letters besides TEXT and MTEXT, those that software for
// cutters often does not read, and those that draw what lies in a block.
var (
	referring = []string{"INSERT", "DIMENSION"}
	lettered  = []string{"ATTRIB", "ATTDEF", "DIMENSION"}
	rare      = []string{"SPLINE", "ELLIPSE", "INSERT", "3DFACE", "SOLID", "TRACE", "SHAPE", "HATCH", "REGION"}
)

// contour is a contour that is being read, with its form.
type contour struct {
	cut.FileContour
	form
}

// begin starts a contour at the current pair.
func (r *reader) begin() contour {
	r.colour = byLayer
	return contour{FileContour: cut.FileContour{Kind: r.intern(), Line: r.line + 1}}
}

// common reads the groups that every kind of contour may have.
func (r *reader) common(c *contour) {
	switch r.code {
	case 8, 62:
		r.look(&c.Layer)
	case 6:
		if t := r.intern(); !strings.EqualFold(t, "BYLAYER") {
			c.lineType = t
		}
	case 38, 30:
		r.largest(&c.elevation)
	case 39:
		r.largest(&c.thickness)
	case 60, 67:
		c.hidden = c.hidden || r.int() != 0
	case 210, 220:
		c.turned = c.turned || r.real() != 0
	case 230:
		c.turned = c.turned || r.real() != 1
	}
}

func (r *reader) largest(v *float64) {
	if x := r.real(); math.Abs(x) > math.Abs(*v) {
		*v = x
	}
}

// polyline reads a POLYLINE with its VERTEX entities up to SEQEND.
func (r *reader) polyline() bool {
	c := r.begin()
	c.bare = true
	for r.next() && r.code != 0 {
		switch r.code {
		case 66:
			c.bare = r.int() != 1
		case 70:
			r.flags(&c)
		case 40, 41:
			r.largest(&c.width)
		default:
			r.common(&c)
		}
	}
	for !r.done && r.is(0, "VERTEX") {
		r.vertex(&c)
	}
	switch {
	case r.done:
	case r.is(0, "SEQEND"):
		r.skipTo0()
	default:
		r.fault(c.Line, "structure", "POLYLINE", "the polyline is not ended: SEQEND is missing before line %d", r.line+1)
	}
	r.keep(c)
	return !r.done
}

// flags reads group 70 of a polyline.
func (r *reader) flags(c *contour) {
	n := r.int()
	c.Closed = n&1 != 0
	c.flags |= n &^ (1 | 128) // 128: how dashes run on, which does not matter here
}

// vertex reads one VERTEX.
func (r *reader) vertex(c *contour) {
	var v geom.Vertex
	line, has := r.line+1, 0
	for r.next() && r.code != 0 {
		switch r.code {
		case 10:
			v.X = r.real()
			has |= 1
		case 20:
			v.Y = r.real()
			has |= 2
		case 42:
			v.Bulge = r.real()
		case 70:
			c.flags |= r.int() &^ 128
		case 40, 41:
			r.largest(&c.width)
		case 8:
			if l := r.intern(); l != c.Layer {
				r.fault(r.line+1, "layer", l, "the vertex is on layer %s, its polyline on %s", l, c.Layer)
			}
		default:
			r.common(c)
		}
	}
	if has != 3 {
		r.fault(line, "structure", "VERTEX", "a vertex without X and Y (groups 10 and 20)")
		return
	}
	r.vertices = append(r.vertices, v)
	r.vlines = append(r.vlines, int32(line))
}

// keep adds a contour whose vertices have been read.
func (r *reader) keep(c contour) {
	r.file.Contours = append(r.file.Contours, c.FileContour)
	r.forms = append(r.forms, c.form)
	r.coloured(c.Layer, c.Line)
	r.ends = append(r.ends, len(r.vertices))
}

// lightPolyline reads an LWPOLYLINE, which release 12 does not have.
func (r *reader) lightPolyline() bool {
	c := r.begin()
	from := len(r.vertices)
	last := func() *geom.Vertex {
		if len(r.vertices) == from {
			return &geom.Vertex{} // before the first vertex: means nothing
		}
		return &r.vertices[len(r.vertices)-1]
	}
	for r.next() && r.code != 0 {
		switch r.code {
		case 10:
			r.vertices = append(r.vertices, geom.Vertex{Point: geom.Point{X: r.real()}})
			r.vlines = append(r.vlines, int32(r.line))
		case 20:
			last().Y = r.real()
		case 42:
			last().Bulge = r.real()
		case 70:
			r.flags(&c)
		case 40, 41, 43:
			r.largest(&c.width)
		default:
			r.common(&c)
		}
	}
	r.keep(c)
	return !r.done
}

// round reads a CIRCLE, which becomes a contour of two arcs, or an ARC.
func (r *reader) round() bool {
	c := r.begin()
	var o geom.Point
	var radius, from, to float64
	for r.next() && r.code != 0 {
		switch r.code {
		case 10, 20:
			r.coordinate(&o, 10)
		case 40:
			radius = r.real()
		case 50:
			from = r.real()
		case 51:
			to = r.real()
		default:
			r.common(&c)
		}
	}
	if c.Kind == "CIRCLE" {
		c.Closed = true
		r.vertices = append(r.vertices, geom.Circle(o, radius)...)
		r.vlines = append(r.vlines, int32(c.Line), int32(c.Line))
		r.keep(c)
		return !r.done
	}
	sweep := (geom.Deg(to) - geom.Deg(from)).Normal() // always counter-clockwise
	arc := geom.Curve{
		A:     o.Add(geom.Polar(radius, geom.Deg(from))),
		B:     o.Add(geom.Polar(radius, geom.Deg(to))),
		Bulge: math.Tan(float64(sweep) / 4),
	}
	r.file.Others = append(r.file.Others, cut.FileOther{Kind: "ARC", Layer: c.Layer, Line: c.Line, Curves: []geom.Curve{arc}})
	r.coloured(c.Layer, c.Line)
	return !r.done
}

// lineEntity reads a LINE.
func (r *reader) lineEntity() bool {
	l := cut.FileLine{Kind: "LINE", Line: r.line + 1}
	r.colour = byLayer
	for r.next() && r.code != 0 {
		if !r.look(&l.Layer) && !r.coordinate(&l.A, 10) {
			r.coordinate(&l.B, 11)
		}
	}
	r.file.Lines = append(r.file.Lines, l)
	r.coloured(l.Layer, l.Line)
	return !r.done
}

// text reads a TEXT or MTEXT, of a long one the first group only.
func (r *reader) text() bool {
	t := cut.FileText{Kind: r.intern(), Line: r.line + 1}
	r.colour = byLayer
	for r.next() && r.code != 0 {
		switch r.code {
		case 1:
			t.Text = clip(string(r.value[:min(len(r.value), maxWords)]))
		case 8, 62:
			r.look(&t.Layer)
		case 40:
			t.HeightMM = r.real()
		default:
			r.coordinate(&t.At, 10)
		}
	}
	r.file.Texts = append(r.file.Texts, t)
	r.coloured(t.Layer, t.Line)
	return !r.done
}
