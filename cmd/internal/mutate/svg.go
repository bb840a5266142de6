package mutate

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// tag is an element's start as the small reader of SVG sees it.
type tag struct {
	name  string
	keys  []string // of the attributes, in order
	attrs map[string]string
	line  int
	alone bool // <name/>
}

// inherited is what an element has from those round it, where it says nothing.
type inherited struct {
	layer        string
	fill, stroke string
	width        float64
	odd          []string // attributes that move, hide or restyle
}

// svgDrawing is an SVG as the small reader sees it: shapes as the entities of a
// [drawing], with Y up, so that one oracle judges both formats.
type svgDrawing struct {
	drawing
	size   [2]string  // width and height as they stand
	view   [4]float64 // left, upper edge, width, height
	shapes []shape
	form   []string // what not every program understands as it is written, of empty groups too
}

// shape is how an entity is painted.
type shape struct {
	layer string
	line  int
	inherited
}

// sizeTol is the part by which size and view box may differ: 2 µm in a metre.
const sizeTol = 2e-6

// page takes in size and view box.
func (d *svgDrawing) page(t *tag) {
	d.size = [2]string{t.attrs["width"], t.attrs["height"]}
	v := strings.FieldsFunc(t.attrs["viewBox"], func(r rune) bool { return strings.ContainsRune(" ,\n\t", r) })
	if len(v) != 4 {
		d.fault("no view box")
		return
	}
	for i := range v {
		x, err := decimal(v[i])
		if err != nil {
			d.fault("view box: %q is no number", v[i])
		}
		d.view[i] = x
	}
	for i, s := range d.size {
		n, ok := strings.CutSuffix(s, "mm")
		mm, err := decimal(n)
		if !ok || err != nil || math.Abs(mm/d.view[2+i]-1) > sizeTol {
			d.fault("size %q for %g units", s, d.view[2+i])
		}
	}
	for _, k := range t.keys {
		if k == "preserveAspectRatio" || k == "transform" || k == "style" || k == "display" || k == "visibility" {
			d.fault("line %d: %s on the drawing", t.line, k)
		}
	}
}

// element takes in one element; it returns the text whose letters are coming.
func (d *svgDrawing) element(t *tag, state *[]inherited, seen map[string]bool) *thing {
	s := (*state)[len(*state)-1]
	s.odd = append([]string(nil), s.odd...)
	if id := strings.ToUpper(t.attrs["id"]); t.name == "g" && ourLayer(id) {
		if s.layer != "" || seen[id] {
			d.fault("line %d: the layer %s within another, or twice", t.line, id)
		}
		s.layer, seen[id] = id, true
	}
	for _, k := range t.keys {
		v := t.attrs[k]
		switch k {
		case "fill":
			s.fill = colour(v)
		case "stroke":
			s.stroke = colour(v)
		case "stroke-width":
			x, err := decimal(v)
			if err != nil {
				d.fault("line %d: stroke-width %q", t.line, v)
			}
			s.width = x
		case "transform", "style", "display", "visibility", "opacity", "stroke-opacity", "fill-opacity", "clip-path", "mask", "filter", "stroke-dasharray":
			s.odd = append(s.odd, k+"="+v)
			d.form = append(d.form, k)
		}
		if (k == "fill" || k == "stroke") && v != "none" && v[:min(1, len(v))] != "#" {
			d.form = append(d.form, k)
		}
	}
	*state = append(*state, s)
	e := thing{line: t.line, groups: []pair{{8, s.layer, t.line}}, closed: true}
	num := func(code int, key string) {
		e.groups = append(e.groups, pair{code, t.attrs[key], t.line})
	}
	flip := func(code int, key string) {
		v := t.attrs[key]
		if x, err := decimal(v); err == nil {
			v = strconv.FormatFloat(-x, 'g', -1, 64)
		}
		e.groups = append(e.groups, pair{code, v, t.line})
	}
	switch t.name {
	case "g", "title", "desc", "metadata", "tspan":
		return nil
	case "path":
		d.path(t, s)
		return nil
	case "line":
		e.kind = "LINE"
		num(10, "x1")
		flip(20, "y1")
		num(11, "x2")
		flip(21, "y2")
	case "text":
		e.kind = "TEXT"
		num(10, "x")
		flip(20, "y")
		if len(s.odd) > 0 && turnOnly(s.odd, t.attrs["x"], t.attrs["y"]) {
			s.odd = nil
		}
		e.groups = append(e.groups, pair{1, "", t.line})
	case "rect", "circle", "ellipse", "polygon", "polyline":
		e.kind = strings.ToUpper(t.name)
	default:
		if strings.Contains(t.name, ":") {
			return nil
		}
		d.fault("line %d: <%s>", t.line, t.name)
		return nil
	}
	d.entities = append(d.entities, e)
	d.shapes = append(d.shapes, shape{s.layer, t.line, s})
	if e.kind == "TEXT" {
		return &d.entities[len(d.entities)-1]
	}
	return nil
}

// colour writes a colour with six digits.
func colour(v string) string {
	v = strings.ToLower(v)
	if len(v) == 4 && v[0] == '#' {
		v = "#" + strings.Repeat(v[1:2], 2) + strings.Repeat(v[2:3], 2) + strings.Repeat(v[3:4], 2)
	}
	return v
}

// turnOnly reports whether a text is turned about its own place and nothing else.
func turnOnly(odd []string, x, y string) bool {
	var a, px, py float64
	if n, err := fmt.Sscanf(odd[0], "transform=rotate(%g %g %g)", &a, &px, &py); n != 3 || err != nil || len(odd) > 1 {
		return false
	}
	ax, _ := decimal(x)
	ay, _ := decimal(y)
	const same = 0.001 // mm
	return math.Hypot(ax-px, ay-py) < same
}
