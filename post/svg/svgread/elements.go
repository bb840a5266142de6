package svgread

import (
	"encoding/xml"
	"slices"
	"strings"

	"starwright/geom"
	"starwright/post/cut"
)

// Attributes that an element may have besides those of paint. Others move, hide
// or restyle what is drawn, or are none.
var allowed = map[string][]string{
	"svg":   {"version", "baseProfile", "width", "height", "viewBox"},
	"path":  {"d"},
	"line":  {"x1", "y1", "x2", "y2"},
	"text":  {"x", "y", "transform"},
	"tspan": {"x", "y"},
	"rect":  {"x", "y", "width", "height", "rx", "ry"}, "circle": {"cx", "cy", "r"}, "ellipse": {"cx", "cy", "rx", "ry"},
	"polyline": {"points"}, "polygon": {"points"},
}

// painting are the attributes of paint that are read, and those that change no
// line: ends and corners of hairlines, the face of letters.
var painting = []string{"fill", "fill-rule", "stroke", "stroke-width", "stroke-linecap", "stroke-linejoin", "stroke-miterlimit",
	"font-family", "font-size", "font-weight", "font-style"}

// attributes judges the attributes of an element: none twice (XML 1.0, 3.1), and
// none that changes what is drawn in a way that is not read.
func (r *reader) attributes(line int, e xml.StartElement) {
	own := e.Name.Space == namespace && (allowed[e.Name.Local] != nil || e.Name.Local == "g") && (e.Name.Local == "svg") != r.root
	for i, a := range e.Attr {
		if slices.ContainsFunc(e.Attr[:i], func(b xml.Attr) bool { return a.Name == b.Name }) {
			r.fault(line, "structure", e.Name.Local, "attribute %s stands twice", clip(a.Name.Local))
		}
		n := a.Name.Local
		switch {
		case !own, a.Name.Space != "", n == "xmlns", n == "id", n == "class", n == "lang",
			strings.HasPrefix(n, "data-"), strings.HasPrefix(n, "aria-"),
			slices.Contains(painting, n), slices.Contains(allowed[e.Name.Local], n):
		default:
			r.form(line, "attribute", e.Name.Local+" "+n, "software for lasers passes over it, or what is cut is moved, hidden or drawn otherwise",
				"the attribute %s=%q: no drawing that is cut has it", clip(n), clip(a.Value))
		}
	}
}

// group takes in a group, which may be a layer.
func (r *reader) group(g *group, e xml.StartElement) {
	g.paint = r.paint(g.paint, g.line, e)
	layer := strings.ToUpper(attr(e, "id"))
	if !cut.Known(layer) {
		return
	}
	switch {
	case g.layer != "":
		r.form(g.line, "layer", "g "+layer, "whether it is cut depends on the program", "the layer %s lies within the layer %s", layer, g.layer)
	case r.seen[layer] > 0:
		r.form(g.line, "layer", "g "+layer, "a program that takes one of the two leaves the other out", "a second layer %s; the first is at line %d", layer, r.seen[layer])
	}
	g.layer, r.seen[layer] = layer, g.line
}

// lineElement reads a straight line.
func (r *reader) lineElement(g *group, e xml.StartElement) {
	r.painted(g, e)
	r.file.Lines = append(r.file.Lines, cut.FileLine{Kind: "line", Layer: g.layer, Line: g.line,
		A: r.place(g.line, e, "x1", "y1"), B: r.place(g.line, e, "x2", "y2")})
}

// textElement begins a text. Its turn about its own place moves it nowhere.
func (r *reader) textElement(g *group, e xml.StartElement) {
	g.paint = r.paint(g.paint, g.line, e)
	r.use(g.layer, g.line, g.paint.fill)
	r.use(g.layer, g.line, g.paint.stroke)
	t := cut.FileText{Kind: "text", Layer: g.layer, Line: g.line, At: r.place(g.line, e, "x", "y")}
	t.HeightMM = g.paint.font
	if s := attr(e, "transform"); s != "" && !turns(s, t.At) {
		r.form(g.line, "attribute", "text transform", "the words may stand on another part", "the transform %q: a text may be turned about its own place, such as rotate(90 %s %s)", clip(s), short(t.At.X), short(-t.At.Y))
	}
	r.words = &t
}

// turns reports whether a transform is a turn about a place ("7.6 The transform
// attribute").
func turns(s string, at geom.Point) bool {
	s, ok := strings.CutPrefix(strings.TrimSpace(s), "rotate(")
	s, ok2 := strings.CutSuffix(s, ")")
	v, ok3 := numbers(s, 3)
	return ok && ok2 && ok3 && geom.Pt(v[1], -v[2]).Dist(at) <= limitMM
}

// place reads a point from two attributes.
func (r *reader) place(line int, e xml.StartElement, x, y string) geom.Point {
	return geom.Pt(r.coordinate(line, e, x), -r.coordinate(line, e, y))
}

// coordinate reads a number from an attribute, and 0 with a fault where it is
// none.
func (r *reader) coordinate(line int, e xml.StartElement, name string) float64 {
	v, ok := parseNumber(attr(e, name))
	if !ok {
		r.fault(line, "number", e.Name.Local+" "+name, "%s=%q: no number: write digits with a point, such as 12.5", name, clip(attr(e, name)))
	}
	return v
}
