package svgread

import (
	"encoding/xml"
	"strings"

	"starwright/geom"
	"starwright/post/cut"
)

// paint is how something is drawn ("11 Painting: filling, stroking").
type paint struct {
	fill, stroke string  // "none", or a colour as #rrggbb
	width        float64 // of the line, user units
	font         float64 // size of letters, user units
}

// initial is how things are drawn where the file says nothing of it.
var initial = paint{fill: "#000000", stroke: "none", width: 1}

// paint returns how an element is drawn that lies in one drawn so.
func (r *reader) paint(p paint, line int, e xml.StartElement) paint {
	for _, a := range e.Attr {
		if a.Name.Space != "" {
			continue
		}
		switch a.Name.Local {
		case "fill":
			p.fill = r.colour(line, a)
		case "stroke":
			p.stroke = r.colour(line, a)
		case "stroke-width":
			p.width = r.size(line, a)
		case "font-size":
			p.font = r.size(line, a)
		}
	}
	return p
}

// colour reads a colour: #rgb, #rrggbb or none.
func (r *reader) colour(line int, a xml.Attr) string {
	s := strings.ToLower(strings.TrimSpace(a.Value))
	if s == "none" {
		return s
	}
	hex, ok := strings.CutPrefix(s, "#")
	if len(hex) == 3 {
		hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
	}
	if !ok || len(hex) != 6 || strings.Trim(hex, "0123456789abcdef") != "" {
		r.form(line, "colour", a.Name.Local, "programs that go by colour cannot tell what is cut", "%s=%q: write a colour as #rrggbb, or none", a.Name.Local, clip(a.Value))
		return "none"
	}
	return "#" + hex
}

// size reads a width or the size of letters, in user units.
func (r *reader) size(line int, a xml.Attr) float64 {
	v, ok := parseNumber(a.Value)
	if !ok || v < 0 {
		r.form(line, "number", a.Name.Local, "", "%s=%q: write a number of user units", a.Name.Local, clip(a.Value))
		return 0
	}
	return v
}

// painted takes in how a shape is drawn, and judges it on a layer that is cut: as
// a hairline and not filled.
func (r *reader) painted(g *group, e xml.StartElement) {
	g.paint = r.paint(g.paint, g.line, e)
	p, block := g.paint, e.Name.Local+" on "+g.layer
	r.use(g.layer, g.line, p.stroke)
	if p.fill != "none" {
		r.use(g.layer, g.line, p.fill)
	}
	if !cut.Cuts(g.layer) {
		return
	}
	if p.stroke == "none" {
		r.form(g.line, "hidden", block, "nothing is cut here, or the area is burnt away", "the outline is not drawn (stroke none)")
	}
	if p.fill != "none" {
		r.form(g.line, "filled", block, "the laser may engrave the whole area", "the outline is filled with %s: write fill=\"none\"", p.fill)
	}
	switch w := p.width * r.file.Scale(); {
	case p.width <= 0:
		r.form(g.line, "hidden", block, "nothing is cut here", "the outline is not drawn (stroke-width 0)")
	case w > hairlineMM:
		r.form(g.line, "flat", block, "the laser may burn a strip instead of a line", "the outline is %.3m wide: a line to be cut along has at most %.1m",
			geom.Measure{MM: w, Unit: r.file.Unit}, geom.Measure{MM: hairlineMM, Unit: r.file.Unit})
	}
}

// use remembers the colours of each layer.
func (r *reader) use(layer string, line int, colour string) {
	if colour == "none" || !cut.Known(layer) {
		return
	}
	first, used := r.colours[colour]
	switch {
	case !used:
		if len(r.colours) < maxFaults {
			r.colours[colour] = layer
		}
	case cut.Cuts(first) != cut.Cuts(layer):
		r.mixed = append(r.mixed, mixed{line, colour, first, layer})
	}
}

// mixed is a colour that is used on a layer that is cut and on one that is not.
type mixed struct {
	line          int
	colour        string
	first, second string
}

// judgeColours names colours by which what is cut cannot be told from what is
// not, each once.
func (r *reader) judgeColours() {
	said := map[string]bool{}
	for _, m := range r.mixed {
		if !said[m.colour] {
			said[m.colour] = true
			r.form(m.line, "colour", m.second, "a program that goes by colour cuts the guide lines, or leaves a part uncut",
				"%s and %s have the same colour %s", m.first, m.second, m.colour)
		}
	}
}
