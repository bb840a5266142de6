package dxfread

import (
	"bytes"
	"fmt"
	"strings"

	"starwright/geom"
	"starwright/post/cut"
)

// Read reads a file. Findings give the name, and lengths in the unit. An error is
// returned only where the file holds more than 256 MiB; what is wrong with it
// otherwise is in the faults of the File.
func Read(src []byte, name string, in geom.Unit) (*cut.File, error) {
	if err := sized(len(src), name); err != nil {
		return nil, err
	}
	f := &cut.File{Name: name, Unit: in, Closer: "the flag for closed (group 70, bit 1)"}
	f.Vertex = func(v geom.Vertex) string { return vertex(v, f.Scale()) }
	d := &reader{
		pairs: pairs{src: src, line: -1, file: f},
		head:  header{insUnits: -1},
		names: map[string]string{},
		own:   map[ink]int{},
	}
	for _, l := range []string{cut.Outline, cut.Hole, cut.Guide, cut.Text} {
		d.names[l] = l
	}
	d.reserve()
	d.all()
	d.divide()
	d.findUnit()
	d.scale()
	d.judgeForm()
	return f, nil
}

// sized refuses files too large to be read.
func sized(bytes int, name string) error {
	if bytes > maxBytes {
		return fmt.Errorf("%s: larger than the %d MiB that a drawing may have", name, maxBytes>>20)
	}
	return nil
}

// reader holds what is needed while a file is read.
type reader struct {
	pairs
	head     header
	forms    []form            // of each contour
	colour   int               // of the entity that is being read
	own      map[ink]int       // colours that are used, with the line of the first use
	inks     []ink             // the same in order
	names    map[string]string // one copy of each name
	last     string            // the last of them, which mostly comes again
	vertices []geom.Vertex     // of all contours, in one piece
	vlines   []int32
	ends     []int // where each contour's vertices end in it
	entities int
	sections map[string]bool
	ext      uint8 // which of the four extents have been read
}

// reserve makes room for as many contours and vertices as the beginning of
// the file lets expect, which is not believed beyond what its bytes could hold.
// Where there are more, the room grows.
func (r *reader) reserve() {
	const (
		sample                    = 64 << 10 // bytes
		leastContour, leastVertex = 100, 30  // bytes
	)
	head := r.src[:min(len(r.src), sample)]
	expect := func(word string, least int) int {
		n := bytes.Count(head, []byte(word))
		if len(r.src) > len(head) {
			n = n*(len(r.src)/len(head)+1) + n
		}
		return min(n, len(r.src)/least)
	}
	contours, vertices := expect("\nPOLYLINE", leastContour), expect("\nVERTEX", leastVertex)
	r.file.Contours = make([]cut.FileContour, 0, contours)
	r.forms = make([]form, 0, contours)
	r.ends = make([]int, 0, contours)
	r.vertices = make([]geom.Vertex, 0, vertices)
	r.vlines = make([]int32, 0, vertices)
}

// all reads the sections up to EOF.
func (r *reader) all() {
	r.sections = map[string]bool{}
	for more := r.next(); more; {
		switch {
		case r.code == 999:
			more = r.comment()
		case r.is(0, "EOF"):
			r.end()
			return
		case r.is(0, "SECTION"):
			more = r.section()
		case r.is(0, "ENDSEC"):
			r.fault(r.line+1, "structure", "ENDSEC", "ENDSEC where no section is open")
			more = r.next()
		default:
			r.fault(r.line, "structure", string(r.value), "group %d outside of any section", r.code)
			more = r.skipTo0()
		}
	}
	if !r.gaveUp {
		r.fault(0, "structure", "", "the file ends without EOF: its end is missing")
	}
}

// end checks what follows EOF: nothing, or blank lines.
func (r *reader) end() {
	for _, c := range r.src[r.pos:] {
		if c > ' ' {
			r.fault(r.line+2, "structure", "", "there is more after EOF: it is read by no program, or by some")
			break
		}
	}
	if !r.sections["ENTITIES"] {
		r.fault(0, "structure", "", "no ENTITIES section: nothing is drawn")
	}
}

// section reads one section. The current pair is its SECTION; afterwards it is
// the one behind its ENDSEC.
func (r *reader) section() bool {
	if !r.next() {
		return false
	}
	if r.code != 2 {
		r.fault(r.line, "structure", string(r.value), "a section without a name: group 2 follows SECTION")
		return true
	}
	name := r.word()
	if r.sections[name] {
		r.fault(r.line+1, "structure", name, "a second section %s", clip(name))
	} else if len(r.sections) < 100 {
		r.sections[name] = true
	}
	more := r.next()
	begun := false // something has begun that groups may belong to
	for more {
		begun = begun || r.code == 0 || r.code == 9 && name == "HEADER"
		if name == "TABLES" {
			r.tables()
		}
		switch {
		case r.is(0, "ENDSEC"):
			return r.next()
		case r.is(0, "SECTION"), r.is(0, "EOF"):
			r.fault(r.line+1, "structure", r.word(), "section %s is not closed: ENDSEC is missing before this line", clip(name))
			return true
		case r.code == 999:
			more = r.comment()
		case name == "HEADER" && r.code == 9:
			more = r.variable()
		case name == "TABLES" && r.is(0, "LAYER"):
			more = r.layer()
		case name == "ENTITIES" && r.code == 0:
			more = r.entity()
		case name == "ENTITIES":
			r.fault(r.line, "structure", string(r.value), "group %d before any entity", r.code)
			more = r.skipTo0()
		case !begun:
			begun = true // one finding is enough
			r.fault(r.line, "structure", string(r.value), "group %d that belongs to nothing, at the head of section %s", r.code, clip(name))
			more = r.next()
		default:
			more = r.next()
		}
	}
	return false
}

func (r *reader) comment() bool {
	c := clip(string(r.value[:min(len(r.value), maxWords)]))
	if mm, ok := statedUnit(c); ok {
		if r.file.UnitMM > 0 && r.file.UnitMM != mm {
			r.fault(r.line+1, "unit", c, "a second unit: line %d says one drawing unit is %g mm", r.file.UnitLine, r.file.UnitMM)
		} else if r.file.UnitMM == 0 {
			r.file.UnitMM, r.file.UnitLine = mm, r.line+1
		}
	}
	return r.next()
}

// skipTo0 moves to the next pair of code 0.
func (r *reader) skipTo0() bool {
	for r.next() {
		if r.code == 0 {
			return true
		}
	}
	return false
}

// variable reads a header variable: its name and the groups up to the next.
func (r *reader) variable() bool {
	name, line := r.word(), r.line+1
	h := &r.head
	r.order.seen = 0
	for r.next() && r.code != 9 && r.code != 0 {
		r.once()
		switch name {
		case "$ACADVER":
			if r.code == 1 {
				h.version = clip(r.word())
			}
		case "$INSUNITS":
			if r.code == 70 {
				h.insUnits, h.insLine = r.int(), line
			}
		case "$EXTMIN":
			h.extLine = line
			if r.coordinate(&h.extMin, 10) {
				r.ext |= 1 << (r.code/10 - 1)
			}
		case "$EXTMAX":
			if r.coordinate(&h.extMax, 10) {
				r.ext |= 4 << (r.code/10 - 1)
			}
		}
		h.hasExtents = r.ext == 15
	}
	if r.order.seen == 0 {
		r.fault(line, "structure", name, "header variable %s without a value", clip(name))
	}
	return !r.done
}

// coordinate reads the current pair into p where its code is x, or x+10 for Y.
func (r *reader) coordinate(p *geom.Point, x int) bool {
	switch r.code {
	case x:
		p.X = r.real()
	case x + 10:
		p.Y = r.real()
	default:
		return false
	}
	return true
}

// layer reads a record of the layer table.
func (r *reader) layer() bool {
	l := layer{line: r.line + 1}
	r.order.seen = 0
	for r.next() && r.code != 0 {
		if r.code == 2 || r.code == 62 || r.code == 70 {
			r.once()
		}
		switch r.code {
		case 2:
			l.name = r.intern()
		case 62:
			l.colour = r.int()
		case 70:
			l.flags = r.int()
		case 6:
			l.lineType = r.intern()
		case 290:
			l.unplotted = r.int() == 0
		}
	}
	if len(r.head.layers) < maxFaults {
		r.head.layers = append(r.head.layers, l)
	}
	return !r.done
}

// intern returns the current value as the name of a layer or of an entity, one
// copy for all.
func (r *reader) intern() string {
	if r.last != "" && string(r.value) == r.last {
		return r.last
	}
	if s, ok := r.names[string(r.value)]; ok {
		r.last = s
		return s
	}
	s := clip(r.word())
	for _, l := range [4]string{cut.Outline, cut.Hole, cut.Guide, cut.Text} {
		if strings.EqualFold(s, l) { // no program minds small letters in names of layers
			s = l
		}
	}
	if len(r.names) < maxFaults {
		r.names[string(r.value)] = s
	}
	return s
}

// divide gives each contour its piece of the vertices.
func (r *reader) divide() {
	from := 0
	for i, end := range r.ends {
		c := &r.file.Contours[i]
		c.Contour = r.vertices[from:end:end]
		c.VertexLines = r.vlines[from:end:end]
		from = end
	}
}

// scale turns everything that is a length into millimetres.
func (r *reader) scale() {
	f, k := r.file, r.file.Scale()
	if k == 1 {
		return
	}
	r.head.extMin, r.head.extMax = r.head.extMin.Mul(k), r.head.extMax.Mul(k)
	for i := range f.Contours {
		c := &f.Contours[i]
		for j := range c.Contour {
			c.Contour[j].Point = c.Contour[j].Mul(k)
		}
		m := &r.forms[i]
		m.elevation, m.thickness, m.width = m.elevation*k, m.thickness*k, m.width*k
	}
	for i := range f.Lines {
		f.Lines[i].A, f.Lines[i].B = f.Lines[i].A.Mul(k), f.Lines[i].B.Mul(k)
	}
	for i := range f.Texts {
		f.Texts[i].At = f.Texts[i].At.Mul(k)
		f.Texts[i].HeightMM *= k
	}
	for i := range f.Others {
		for j, c := range f.Others[i].Curves {
			f.Others[i].Curves[j] = geom.Curve{A: c.A.Mul(k), B: c.B.Mul(k), Bulge: c.Bulge}
		}
	}
}
