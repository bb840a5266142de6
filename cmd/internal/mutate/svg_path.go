package mutate

import (
	"math"
	"strconv"
	"strings"
)

// decimal reads a number of digits; words such as NaN, and hexadecimal, are none.
func decimal(s string) (float64, error) {
	if strings.Trim(s, "0123456789+-.eE") != "" {
		return 0, strconv.ErrSyntax
	}
	return strconv.ParseFloat(s, 64)
}

// pathWords takes the data of a path apart: letters of commands, and numbers; ok is
// false where there is something else.
func pathWords(s string) (out []string, ok bool) {
	for _, w := range strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune(" ,\t\n\r", r) }) {
		for w != "" {
			if strings.IndexByte("MmLlHhVvAaZzCcQqSsTt", w[0]) >= 0 {
				out, w = append(out, w[:1]), w[1:]
				continue
			}
			n := strings.IndexAny(w, "MmLlHhVvAaZzCcQqSsTt")
			if n < 0 {
				n = len(w)
			}
			if _, err := decimal(w[:n]); err != nil {
				return nil, false
			}
			out, w = append(out, w[:n]), w[n:]
		}
	}
	return out, true
}

// pen draws a path ("8.3 Path data"), Y down.
type pen struct {
	d     *svgDrawing
	t     *tag
	s     inherited
	x, y  float64
	first [2]float64
	verts []thing
}

// path takes in a path: each of its parts is an entity of its own.
func (d *svgDrawing) path(t *tag, s inherited) {
	words, ok := pathWords(t.attrs["d"])
	if !ok || len(words) == 0 || words[0] != "M" && words[0] != "m" {
		d.fault("line %d: a path that cannot be read", t.line)
		return
	}
	p := &pen{d: d, t: t, s: s}
	count := map[byte]int{'M': 2, 'L': 2, 'H': 1, 'V': 1, 'A': 7, 'Z': 0, 'C': 6, 'Q': 4, 'S': 4, 'T': 2}
	for i := 0; i < len(words); {
		letter := words[i][0]
		kind := letter &^ 0x20
		n, isLetter := count[kind]
		if !isLetter {
			d.fault("line %d: %q where a command should be", t.line, words[i])
			return
		}
		i++
		for again := false; ; again = true {
			if again && (n == 0 || i >= len(words) || strings.IndexByte("0123456789+-.", words[i][0]) < 0) {
				break
			}
			if i+n > len(words) {
				d.fault("line %d: numbers are missing", t.line)
				return
			}
			v := make([]float64, n)
			for k := range v {
				x, err := decimal(words[i+k])
				if err != nil || math.Abs(x) > noNumber {
					d.fault("line %d: %q is no number", t.line, words[i+k])
					return
				}
				v[k] = x
			}
			i += n
			k := kind
			if again && kind == 'M' {
				k = 'L'
			}
			if !p.draw(k, letter >= 'a', v) {
				return
			}
		}
	}
	p.end(false)
}

// draw draws one command.
func (p *pen) draw(kind byte, relative bool, v []float64) bool {
	if kind == 'Z' {
		if len(p.verts) == 0 {
			p.d.fault("line %d: Z of nothing", p.t.line)
			return false
		}
		p.end(true)
		p.x, p.y = p.first[0], p.first[1]
		return true
	}
	if kind != 'M' && len(p.verts) == 0 {
		p.d.fault("line %d: %c before M", p.t.line, kind)
		return false
	}
	ox, oy := 0.0, 0.0
	if relative {
		ox, oy = p.x, p.y
	}
	x, y := p.x, p.y
	switch kind {
	case 'H':
		x = ox + v[0]
	case 'V':
		y = oy + v[0]
	default:
		x, y = ox+v[len(v)-2], oy+v[len(v)-1]
	}
	switch kind {
	case 'M':
		p.end(false)
		p.first = [2]float64{x, y}
	case 'A':
		if v[0] < 0 || v[1] < 0 {
			p.d.form = append(p.d.form, "a radius below 0")
		}
		b, ok := arcBulge(p.x, p.y, x, y, v)
		if !ok {
			p.d.fault("line %d: an arc of an ellipse, of flags that are none, or that does not reach", p.t.line)
			return false
		}
		last := &p.verts[len(p.verts)-1]
		last.groups = append(last.groups, pair{42, strconv.FormatFloat(b, 'g', -1, 64), p.t.line})
	case 'C', 'Q', 'S', 'T':
		p.d.fault("line %d: a curve", p.t.line)
		return false
	}
	p.x, p.y = x, y
	p.verts = append(p.verts, thing{kind: "VERTEX", line: p.t.line, groups: []pair{
		{8, p.s.layer, p.t.line},
		{10, strconv.FormatFloat(x, 'g', -1, 64), p.t.line}, {20, strconv.FormatFloat(-y, 'g', -1, 64), p.t.line}}})
	return true
}

const (
	// equalRadii is how far the two radii of an arc may differ before it is an
	// ellipse, in units of the file: the last digit that is written.
	equalRadii = 1e-6
	// halfCircle is the height of the centre over the chord below which an arc is
	// half a circle, neither the small nor the large one: rounding alone is less.
	halfCircle = 1e-9
)

// arcBulge is the tangent of a quarter of an arc's angle, positive where it runs
// counter-clockwise with Y up. The angle is that between the radii of its ends: for
// each of the two centres at that distance from both ends the arc that runs the way
// the sweep flag says is tried, and the one kept that is as large as the other flag
// says ("8.3.8": four arcs fit).
func arcBulge(x1, y1, x2, y2 float64, v []float64) (float64, bool) {
	r, large, sweep := math.Abs(v[0]), v[3], v[4]
	if large != 0 && large != 1 || sweep != 0 && sweep != 1 || math.Abs(math.Abs(v[1])-r) > equalRadii {
		return 0, false
	}
	c := math.Hypot(x2-x1, y2-y1)
	if r == 0 || c == 0 {
		return 0, true
	}
	if c/2-r > drawnTol {
		return 0, false
	}
	r = max(r, c/2)
	h := math.Sqrt(r*r - c*c/4)
	mx, my := (x1+x2)/2, (y1+y2)/2
	nx, ny := -(y2-y1)/c, (x2-x1)/c
	best, ok := 0.0, false
	for _, side := range [2]float64{1, -1} {
		cx, cy := mx+side*h*nx, my+side*h*ny
		angle := math.Atan2(y2-cy, x2-cx) - math.Atan2(y1-cy, x1-cx)
		for sweep == 1 && angle < 0 {
			angle += 2 * math.Pi
		}
		for sweep == 0 && angle > 0 {
			angle -= 2 * math.Pi
		}
		if isLarge := math.Abs(angle) > math.Pi; isLarge == (large == 1) || h < halfCircle {
			best, ok = -math.Tan(angle/4), true // Y down: the other way round
		}
	}
	return best, ok
}

// closedGap is how far a closed path may end from where it began, mm, and still
// end there: far above rounding, far below a cut.
const closedGap = 5e-5

// end ends a part of a path. Two ends of a straight line that is not cut are a line,
// however it is written.
func (p *pen) end(closed bool) {
	n := len(p.verts)
	if n == 0 {
		return
	}
	verts := p.verts
	p.verts = nil
	if closed && n > 1 && math.Hypot(p.x-p.first[0], p.y-p.first[1]) < closedGap {
		verts = verts[:n-1]
	}
	e := thing{kind: "POLYLINE", line: p.t.line, closed: true, verts: verts,
		groups: []pair{{8, p.s.layer, p.t.line}, {66, "1", p.t.line}, {70, map[bool]string{true: "1", false: "0"}[closed], p.t.line}}}
	if !closed && n == 2 && !cutLayer(p.s.layer) && verts[0].real(42) == 0 {
		e = thing{kind: "LINE", line: p.t.line, closed: true, groups: []pair{{8, p.s.layer, p.t.line},
			{10, verts[0].text(10), 0}, {20, verts[0].text(20), 0}, {11, verts[1].text(10), 0}, {21, verts[1].text(20), 0}}}
	}
	p.d.entities = append(p.d.entities, e)
	p.d.shapes = append(p.d.shapes, shape{p.s.layer, p.t.line, p.s})
}
