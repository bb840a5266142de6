package svgread

import (
	"bytes"
	"encoding/xml"
	"math"
	"strconv"
	"strings"

	"starwright/geom"
	"starwright/post/cut"
)

// path reads a path, each of its parts as a contour of its own ("8.3 Path data").
func (r *reader) path(g *group, e xml.StartElement, start int) {
	r.painted(g, e)
	from, to := value(r.src[start:r.dec.InputOffset()], "d")
	p := &pathData{src: r.src[start+from : start+to], contour: cut.FileContour{Kind: "path", Layer: g.layer, Line: g.line}}
	if bytes.IndexByte(p.src, '&') >= 0 {
		r.fault(g.line, "structure", "path", "a reference (&) within the path's data")
		return
	}
	p.fault = func(pos int, rule, format string, args ...any) {
		line := r.lineAt(start + from + min(pos, len(p.src)))
		r.fault(line, rule, r.text(), format, args...)
	}
	p.odd = func(pos int, inWood, format string, args ...any) {
		r.form(r.lineAt(start+from+pos), "curve", "path on "+g.layer, inWood, format, args...)
	}
	p.lineAt = func(pos int) int { return r.lineAt(start + from + pos) }
	p.keep = r.keep
	p.read()
}

// keep adds a contour. Two ends of a straight line on a layer that is not cut are
// a line, however it is written.
func (r *reader) keep(c cut.FileContour) bool {
	if len(r.file.Contours) >= maxContours {
		r.full = true
		return r.giveUp(c.Line, "more than %d contours", maxContours)
	}
	if len(c.Contour) == 2 && !c.Closed && c.Contour[0].Bulge == 0 && !cut.Cuts(c.Layer) {
		r.file.Lines = append(r.file.Lines, cut.FileLine{Kind: "path", Layer: c.Layer, Line: c.Line, A: c.Contour[0].Point, B: c.Contour[1].Point})
		return true
	}
	r.file.Contours = append(r.file.Contours, c)
	return true
}

// value returns where the value of an attribute stands in the tag of an element
// that is well-formed.
func value(tag []byte, name string) (from, to int) {
	i := bytes.IndexAny(tag, " \t\r\n")
	for i >= 0 && i < len(tag) {
		i += len(tag[i:]) - len(bytes.TrimLeft(tag[i:], " \t\r\n"))
		eq := bytes.IndexByte(tag[i:], '=')
		if eq < 0 {
			break
		}
		key := bytes.TrimRight(tag[i:i+eq], " \t\r\n")
		i += eq + 1
		i += len(tag[i:]) - len(bytes.TrimLeft(tag[i:], " \t\r\n"))
		if i >= len(tag) {
			break
		}
		end := bytes.IndexByte(tag[i+1:], tag[i])
		if end < 0 {
			break
		}
		if string(key) == name {
			return i + 1, i + 1 + end
		}
		i += end + 2
	}
	return 0, 0
}

// pathData walks through the data of a path.
type pathData struct {
	src []byte
	pos int

	at, first geom.Point // where the pen is, and where the contour began; Y down
	drawing   bool       // a contour is open
	began     bool       // there was one before
	contour   cut.FileContour
	used      int // of the vertices, by contours that are done
	vertices  []geom.Vertex
	lines     []int32

	fault  func(pos int, rule, format string, args ...any)
	odd    func(pos int, inWood, format string, args ...any)
	lineAt func(pos int) int
	keep   func(cut.FileContour) bool // whether there may be more
}

// read reads all commands; a fault ends the path, since nothing after it is where
// it should be.
func (p *pathData) read() {
	for {
		p.space()
		if p.pos >= len(p.src) {
			break
		}
		command := p.src[p.pos]
		p.pos++
		if !p.command(command) {
			break
		}
	}
	if !p.began && !p.drawing {
		p.fault(0, "structure", "a path without data: nothing is drawn")
	}
	p.done(false)
}

// command reads the numbers of one command, which may be given as often as there
// are numbers for it.
func (p *pathData) command(c byte) bool {
	at := p.pos - 1
	lower := c >= 'a'
	kind := c &^ 0x20
	n := strings.IndexByte("MLHVAZCSQT", kind)
	switch {
	case n < 0:
		p.fault(at, "structure", "%q is no command of a path: a path is made of M, L, H, V, A and Z", clip(string(c)))
		return false
	case kind == 'Z':
		return p.closed(at)
	case kind != 'M' && !p.drawing:
		p.fault(at, "structure", "%c before M: every contour begins with M", c)
		return false
	}
	for again := false; ; again = true {
		if again {
			if p.space(); !p.more() {
				return true
			}
			if kind == 'M' {
				kind = 'L' // further pairs are lines ("8.3.2")
			}
		}
		pos := p.pos
		v, ok := p.arguments(kind)
		if !ok {
			p.fault(at, "number", "%c: %d numbers are wanted, with blanks or commas between them", c, counts[n])
			return false
		}
		if kind == 'M' && !p.done(false) {
			return false
		}
		p.apply(kind, lower, v, pos)
	}
}

// counts are the numbers of each command.
var counts = [...]int{2, 2, 1, 1, 7, 0, 6, 4, 4, 2}

// arguments reads the numbers of a command; the two flags of an arc are 0 or 1.
func (p *pathData) arguments(kind byte) (v [7]float64, ok bool) {
	n := counts[strings.IndexByte("MLHVAZCSQT", kind)]
	for i := range n {
		if v[i], ok = p.number(); !ok || math.Abs(v[i]) > maxValue {
			return v, false
		}
		if kind == 'A' && (i == 3 || i == 4) && v[i] != 0 && v[i] != 1 {
			return v, false
		}
	}
	return v, true
}

// apply draws one command.
func (p *pathData) apply(kind byte, relative bool, v [7]float64, pos int) {
	n := counts[strings.IndexByte("MLHVAZCSQT", kind)]
	to := geom.Pt(v[max(0, n-2)], v[max(1, n-1)])
	switch kind {
	case 'H':
		to = geom.Pt(v[0], p.at.Y)
	case 'V':
		to = geom.Pt(p.at.X, v[0])
	}
	if relative {
		switch kind {
		case 'H':
			to.X += p.at.X
		case 'V':
			to.Y = p.at.Y + v[0]
		default:
			to = to.Add(p.at)
		}
	}
	switch kind {
	case 'M':
		p.drawing, p.first = true, to
	case 'A':
		p.vertices[len(p.vertices)-1].Bulge = p.bulge(to, v, pos)
	case 'C', 'S', 'Q', 'T':
		p.odd(pos, "one program cuts the curve, another chords that it chooses itself", "a curve (%c): outlines are straight lines and arcs of circles", kind)
	}
	p.at = to
	p.vertices = append(p.vertices, geom.Vertex{Point: geom.Pt(to.X, -to.Y+0)})
	p.lines = append(p.lines, int32(p.lineAt(pos+p.blanks(pos))))
}

// blanks returns how much white space stands at a place.
func (p *pathData) blanks(pos int) int {
	rest := p.src[pos:]
	return len(rest) - len(bytes.TrimLeft(rest, " \t\r\n,"))
}

// bulge returns the bulge of an arc from the pen to a point: rx ry turn large
// sweep ("F.6 Elliptical arc implementation notes"). Where no circle of that
// radius reaches so far, the standard takes the least that does.
func (p *pathData) bulge(to geom.Point, v [7]float64, pos int) float64 {
	rx, ry, large, sweep := math.Abs(v[0]), math.Abs(v[1]), v[3] == 1, v[4] == 1
	chord := p.at.Dist(to)
	if rx == 0 || ry == 0 || chord == 0 {
		return 0 // a straight line, or nothing
	}
	const round = 1e-9 // of the radius
	if math.Abs(rx-ry) > round*rx {
		p.odd(pos, "one program cuts the ellipse, another chords that it chooses itself", "an arc of an ellipse, %g by %g: outlines are straight lines and arcs of circles", rx, ry)
	}
	if v[0] < 0 || v[1] < 0 {
		p.odd(pos, "one program drops the sign, another the arc", "an arc of the radius %g", min(v[0], v[1]))
	}
	half := chord / 2 / rx
	if short := (half - 1) * rx; short > limitMM {
		p.odd(pos, "one program cuts a half circle here, another nothing", "an arc of radius %g between ends that are %.6g apart", rx, chord)
	}
	angle := math.Asin(math.Min(1, half)) // half of the arc's
	if large {
		angle = math.Pi - angle
	}
	b := math.Tan(angle / 2)
	if sweep {
		return -b // Y down: clockwise
	}
	return b
}

// sameMM is how far the last place of a contour may lie from its first to be the
// same: what counting up relative places in single precision comes to, mm.
const sameMM = 1e-5

// closed ends a contour by Z. What lies between its last place and its first is
// a straight line, unless they are the same.
func (p *pathData) closed(pos int) bool {
	if !p.drawing {
		p.fault(pos, "structure", "Z where no contour has begun")
		return false
	}
	if n := len(p.vertices); n-p.used > 1 && p.at.Dist(p.first) <= sameMM {
		p.vertices, p.lines = p.vertices[:n-1], p.lines[:n-1]
	}
	p.at = p.first
	return p.done(true)
}

// done hands on the contour that is being drawn, if there is one, and reports
// whether there may be more.
func (p *pathData) done(closed bool) bool {
	if !p.drawing {
		return true
	}
	c := p.contour
	c.Closed = closed
	c.Contour, c.VertexLines = p.vertices[p.used:len(p.vertices):len(p.vertices)], p.lines[p.used:len(p.lines):len(p.lines)]
	p.used, p.drawing, p.began = len(p.vertices), false, true
	return p.keep(c)
}

// space passes over white space.
func (p *pathData) space() {
	for p.pos < len(p.src) && isSpace(p.src[p.pos]) {
		p.pos++
	}
}

func isSpace(c byte) bool { return c == ' ' || c == '\n' || c == '\t' || c == '\r' }

// more reports whether a number may follow.
func (p *pathData) more() bool {
	return p.pos < len(p.src) && strings.IndexByte("0123456789+-.,", p.src[p.pos]) >= 0
}

// number reads a number behind white space and at most one comma. It ends at
// white space, a comma, a letter or the end: numbers run together, which the
// standard allows, are read differently from program to program.
func (p *pathData) number() (float64, bool) {
	p.space()
	if p.pos < len(p.src) && p.src[p.pos] == ',' && p.pos > 0 {
		p.pos++
		p.space()
	}
	from := p.pos
	for p.pos < len(p.src) && strings.IndexByte("0123456789+-.eE", p.src[p.pos]) >= 0 {
		p.pos++
	}
	return parseNumber(string(p.src[from:p.pos]))
}

// parseNumber reads a number in fixed point or with an exponent. Words such as
// inf, hexadecimal and units are no numbers here.
func parseNumber(s string) (float64, bool) {
	s = strings.TrimSpace(s)
	if s == "" || strings.Trim(s, "0123456789+-.eE") != "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.Abs(v) > maxValue {
		return 0, false
	}
	return v, true
}
