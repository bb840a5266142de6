package svgread

import (
	"encoding/xml"
	"math"
	"strconv"
	"strings"

	"starwright/geom"
)

// page is what the drawing says of its size.
type page struct {
	line int
	box  geom.Box // view box, user units, Y up
	has  bool     // it could be read
}

// readPage reads size and view box ("7.7 The viewBox attribute"): together they
// say how large a user unit is.
func (r *reader) readPage(line int, e xml.StartElement) {
	r.page.line = line
	w, wOK := millimetres(attr(e, "width"))
	h, hOK := millimetres(attr(e, "height"))
	if !wOK || !hOK {
		r.form(line, "unit", "", "programs guess the size: one takes 96 units to the inch, another 72 or 90",
			"the size is width %q, height %q: write both in millimetres, such as 120mm", clip(attr(e, "width")), clip(attr(e, "height")))
	}
	v, ok := numbers(attr(e, "viewBox"), 4)
	if !ok || v[2] <= 0 || v[3] <= 0 {
		r.form(line, "unit", "", "programs guess the size: one takes 96 units to the inch, another 72 or 90",
			"the view box is %q: write the left and the upper edge, width and height", clip(attr(e, "viewBox")))
		return
	}
	r.page.box = geom.Box{Min: geom.Pt(v[0], -v[1]-v[3]), Max: geom.Pt(v[0]+v[2], -v[1])}
	r.page.has = true
	if !wOK || !hOK {
		return
	}
	const same = 1e-6 // of a unit; far less than shows over a metre
	unit, other := w/v[2], h/v[3]
	if math.Abs(unit-1) <= same {
		unit = 1
	}
	r.file.UnitMM, r.file.UnitLine = unit, line
	switch {
	case math.Abs(other/unit-1) > same:
		r.form(line, "scale", "", "every part comes out stretched, or with room left on two sides",
			"a user unit is %s mm wide and %s mm high", short(unit), short(other))
	case unit != 1:
		r.form(line, "unit", "", "programs that pass over the view box cut every part at another size",
			"a user unit is %s mm: the width %smm has a view box of %s", short(unit), short(w), short(v[2]))
	}
}

// judgePage compares the page with what is drawn: it lies in the middle.
func (r *reader) judgePage() {
	b := r.file.Bounds()
	if !r.page.has || b.Empty() {
		return
	}
	k := r.file.Scale()
	p := geom.Box{Min: r.page.box.Min.Mul(k), Max: r.page.box.Max.Mul(k)}
	rooms := [4]float64{b.Min.X - p.Min.X, b.Min.Y - p.Min.Y, p.Max.X - b.Max.X, p.Max.Y - b.Max.Y}
	least, most := rooms[0], rooms[0]
	for _, v := range rooms {
		least, most = math.Min(least, v), math.Max(most, v)
	}
	switch {
	case least < -limitMM:
		r.form(r.page.line, "extents", "", "what lies beyond the page may be left out",
			"what is drawn reaches %.3m beyond the page (view box)", geom.Measure{MM: -least, Unit: r.file.Unit})
	case most-least > limitMM:
		r.form(r.page.line, "extents", "", "a program that places the sheet by its page places it wrong",
			"the page (view box) leaves %.3m on one side of what is drawn and %.3m on another",
			geom.Measure{MM: least, Unit: r.file.Unit}, geom.Measure{MM: most, Unit: r.file.Unit})
	}
}

// millimetres reads a length with its unit ("4.2 Basic data types, length").
func millimetres(s string) (float64, bool) {
	n, ok := strings.CutSuffix(strings.TrimSpace(s), "mm")
	if !ok {
		return 0, false
	}
	v, ok := parseNumber(n)
	return v, ok && v > 0
}

// numbers reads so many numbers with white space or single commas between them.
func numbers(s string, n int) ([]float64, bool) {
	p := pathData{src: []byte(s)}
	out := make([]float64, 0, n)
	for range n {
		v, ok := p.number()
		if !ok {
			return nil, false
		}
		out = append(out, v)
	}
	p.space()
	return out, p.pos == len(p.src)
}

func short(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }

// attr returns an attribute of no namespace, "" where it is missing.
func attr(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Space == "" && a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}
