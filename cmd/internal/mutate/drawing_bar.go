package mutate

import (
	"math"
	"strconv"
	"strings"
)

// bar is the check bar: the line on GUIDE whose length the text on GUIDE
// states, and the lines that cross its ends.
type bar struct {
	line   *thing
	ticks  []*thing
	stated float64 // mm
	drawn  float64 // mm
}

func (b *bar) holds(t *thing) bool {
	if b == nil {
		return false
	}
	for _, k := range b.ticks {
		if k == t {
			return true
		}
	}
	return b.line == t
}

// bar finds the check bar: of the lines that others cross at both ends, the
// one nearest to the text.
func (d *drawing) bar() *bar {
	var text *thing
	stated := 0.0
	for i := range d.entities {
		t := &d.entities[i]
		if t.kind == "TEXT" && t.text(8) == "GUIDE" {
			n, unit, ok := strings.Cut(strings.ToLower(t.text(1)), " ")
			v, err := strconv.ParseFloat(n, 64)
			if k := map[string]float64{"mm": 1, "in": 25.4, "inch": 25.4, "inches": 25.4}[unit]; ok && err == nil && k > 0 {
				text, stated = t, v*k
			}
		}
	}
	if text == nil {
		return nil
	}
	var best *bar
	bestDist := math.Inf(1)
	for _, l := range d.guides() {
		if l.text(8) != "GUIDE" {
			continue
		}
		length := math.Hypot(l.real(11)-l.real(10), l.real(21)-l.real(20))
		b := &bar{line: l, stated: stated, drawn: length * d.unit}
		for _, end := range [2]int{10, 11} {
			for _, k := range d.guides() {
				mx, my := (k.real(10)+k.real(11))/2, (k.real(20)+k.real(21))/2
				tick := math.Hypot(k.real(11)-k.real(10), k.real(21)-k.real(20))
				across := (k.real(11)-k.real(10))*(l.real(11)-l.real(10)) + (k.real(21)-k.real(20))*(l.real(21)-l.real(20))
				if k != l && k.text(8) == "GUIDE" && tick < length/2 && math.Hypot(mx-l.real(end), my-l.real(end+10)) < length/20 && math.Abs(across) < length*tick/20 {
					b.ticks = append(b.ticks, k)
					break
				}
			}
		}
		dist := segDist2(&[3]float64{l.real(10), l.real(20)}, &[3]float64{l.real(11), l.real(21)}, text.real(10), text.real(20))
		if len(b.ticks) == 2 && dist < bestDist {
			best, bestDist = b, dist
		}
	}
	return best
}

// checkBar judges the bar: it is there, and as long as it says. How its ticks
// stand to it is for the eye.
func (r *ruling) checkBar(d *drawing) {
	b := d.bar()
	if b == nil {
		r.add(Harmful, "no check bar")
		return
	}
	switch off := math.Abs(b.drawn - b.stated); {
	case off > drawnTol+drawnNear:
		r.add(Harmful, "the check bar is %.4f mm long and says %.4f", b.drawn, b.stated)
	case off > drawnTol-drawnNear:
		r.add(Either, "the check bar is %.4f mm long and says %.4f", b.drawn, b.stated)
	}
	for i, k := range b.ticks {
		end := [2]int{10, 11}[i]
		for _, e := range [2]int{10, 11} {
			if dx := (k.real(e) - b.line.real(end)) * d.unit; math.Abs(dx) > drawnTol {
				r.add(Either, "a tick stands %.3f mm beside the end of its bar", dx)
			}
		}
		if my := (k.real(20) + k.real(21)) / 2; math.Abs(my-b.line.real(end+10))*d.unit > drawnTol {
			r.add(Either, "a tick does not cross its bar in the middle")
		}
	}
}

// extents holds the header's extents against all that is drawn.
func (r *ruling) extents(d *drawing) {
	lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	with := func(x, y float64) {
		lo = [2]float64{min(lo[0], x), min(lo[1], y)}
		hi = [2]float64{max(hi[0], x), max(hi[1], y)}
	}
	for i := range d.entities {
		t := &d.entities[i]
		switch t.kind {
		case "POLYLINE":
			for _, p := range t.outline(d.unit, boxChord, math.Inf(1)) {
				with(p[0], p[1])
			}
		case "LINE":
			with(t.real(10)*d.unit, t.real(20)*d.unit)
			with(t.real(11)*d.unit, t.real(21)*d.unit)
		default:
			with(t.real(10)*d.unit, t.real(20)*d.unit)
		}
	}
	for k, name := range [2]string{"$EXTMIN", "$EXTMAX"} {
		v, want := d.header[name], [2][2]float64{lo, hi}[k]
		if v == nil || !v.has(10) || !v.has(20) || !v.finite() {
			r.add(Harmful, "no %s", name)
			continue
		}
		off := max(math.Abs(v.real(10)*d.unit-want[0]), math.Abs(v.real(20)*d.unit-want[1]))
		switch {
		case off > drawnTol+drawnNear:
			r.add(Harmful, "%s is %.4f mm from what is drawn", name, off)
		case off > drawnTol-drawnNear:
			r.add(Either, "%s is %.4f mm from what is drawn", name, off)
		}
	}
}
