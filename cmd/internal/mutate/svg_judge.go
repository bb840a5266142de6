package mutate

import (
	"math"
	"strings"
)

// JudgeSVG says what a change to a drawing in SVG does to what is cut from it. was
// is the drawing as it was made.
func JudgeSVG(was, now []byte) (Verdict, string) {
	a, b := parseSVG(was), parseSVG(now)
	var r ruling
	if len(b.faults) > 0 {
		return Harmful, b.faults[0]
	}
	r.paint(b)
	for i := range b.entities {
		r.entity(&b.entities[i])
	}
	if r.Verdict == Harmful {
		return r.Verdict, r.why
	}
	r.contours(&a.drawing, &b.drawing)
	r.lines(&a.drawing, &b.drawing)
	r.texts(&a.drawing, &b.drawing)
	r.checkBar(&b.drawing)
	r.page(b)
	if len(b.form) > len(a.form) {
		r.add(Either, "%v", b.form)
	}
	return r.Verdict, r.why
}

// paint judges whether every outline is drawn as a hairline, is seen, and can be
// told by its colour from what is not cut.
func (r *ruling) paint(d *svgDrawing) {
	cutBy, notBy := map[string]bool{}, map[string]bool{}
	use := func(layer, colour string) {
		switch {
		case colour == "none" || !ourLayer(layer):
		case len(colour) != 7 || colour[0] != '#':
			r.add(Either, "the colour %q", colour)
		case cutLayer(layer):
			cutBy[colour] = true
		default:
			notBy[colour] = true
		}
	}
	for i, s := range d.shapes {
		text := d.entities[i].kind == "TEXT"
		use(s.layer, s.stroke)
		use(s.layer, s.fill)
		for _, o := range s.odd {
			worst := Either // a guide is looked at, not cut
			if cutLayer(s.layer) || strings.HasPrefix(o, "transform") {
				worst = Harmful
			}
			r.add(worst, "line %d: %s", s.line, o)
		}
		if !cutLayer(s.layer) || text {
			continue
		}
		switch {
		case s.stroke == "none" || s.width <= 0:
			r.add(Harmful, "line %d: not drawn", s.line)
		case s.fill != "none":
			r.add(Harmful, "line %d: filled", s.line)
		case s.width > 0.1:
			r.add(Harmful, "line %d: %g mm wide", s.line, s.width)
		}
	}
	for c := range cutBy {
		if notBy[c] {
			r.add(Harmful, "what is cut and what is not have the colour %s", c)
		}
	}
}

// page judges that what is drawn lies in the middle of the page, as it was made:
// sheets are placed by it.
func (r *ruling) page(d *svgDrawing) {
	lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	with := func(x, y float64) {
		lo, hi = [2]float64{min(lo[0], x), min(lo[1], y)}, [2]float64{max(hi[0], x), max(hi[1], y)}
	}
	for i := range d.entities {
		t := &d.entities[i]
		switch t.kind {
		case "POLYLINE":
			for _, p := range t.outline(1, boxChord, math.Inf(1)) {
				with(p[0], p[1])
			}
		case "LINE":
			with(t.real(10), t.real(20))
			with(t.real(11), t.real(21))
		case "TEXT":
			with(t.real(10), t.real(20))
		}
	}
	room := []float64{lo[0] - d.view[0], d.view[0] + d.view[2] - hi[0], -hi[1] - d.view[1], d.view[1] + d.view[3] + lo[1]}
	least, most := room[0], room[0]
	for _, v := range room {
		least, most = min(least, v), max(most, v)
	}
	switch off := max(-least, most-least); {
	case off > drawnTol+drawnNear:
		r.add(Harmful, "the page leaves %.4f mm on one side and %.4f on another", least, most)
	case off > drawnTol-drawnNear:
		r.add(Either, "the page leaves %.4f mm on one side and %.4f on another", least, most)
	}
}
