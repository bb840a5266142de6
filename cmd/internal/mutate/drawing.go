package mutate

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// pair is a group code and its value ("DXF file structure": a file is pairs
// of lines).
type pair struct {
	code  int
	value string
	line  int // of the code, 1-based
}

// thing is an entity or a record of a table: its kind and its groups.
type thing struct {
	kind   string
	line   int
	groups []pair
	verts  []thing
	closed bool // SEQEND has come
}

func (t *thing) text(code int) string {
	v := ""
	for _, g := range t.groups {
		if g.code == code {
			v = g.value
		}
	}
	return v
}

func (t *thing) real(code int) float64 {
	v, err := strconv.ParseFloat(t.text(code), 64)
	if err != nil && t.text(code) != "" {
		return math.NaN()
	}
	return v
}

func (t *thing) has(code int) bool {
	for _, g := range t.groups {
		if g.code == code {
			return true
		}
	}
	return false
}

// drawing is a DXF file as the small reader sees it.
type drawing struct {
	faults   []string
	unit     float64 // of the comment, 0 where none says, -1 where two differ
	header   map[string]*thing
	layers   map[string]*thing
	twice    string // a layer with two records
	entities []thing
	sections string // in order
}

func (d *drawing) fault(format string, args ...any) {
	d.faults = append(d.faults, fmt.Sprintf(format, args...))
}

// readPairs takes a file apart into pairs, comments left out.
func (d *drawing) readPairs(text []byte) []pair {
	lines := strings.Split(strings.ReplaceAll(string(text), "\r\n", "\n"), "\n")
	for len(lines) > 0 && strings.TrimSpace(lines[len(lines)-1]) == "" {
		lines = lines[:len(lines)-1]
	}
	var out []pair
	for i := 0; i+1 < len(lines); i += 2 {
		code, err := strconv.Atoi(strings.TrimSpace(lines[i]))
		if err != nil || code < 0 || code > 1071 {
			d.fault("line %d: %q is no group code", i+1, lines[i])
			return out
		}
		p := pair{code, strings.TrimSpace(lines[i+1]), i + 1}
		if up := strings.ToUpper(p.value); (code == 8 || code == 2) && ourLayer(up) {
			p.value = up // no program minds small letters in names of layers
		}
		if code == 999 {
			d.comment(p.value)
			continue
		}
		if n := len(out); n > 0 {
			d.point(out[n-1], p)
		}
		out = append(out, p)
	}
	if len(lines)%2 == 1 {
		d.fault("the file ends in the middle of a pair")
	}
	return out
}

// point holds two pairs against the rule that the Y of a point follows its X
// and the Z its Y: programs that read points refuse others.
func (d *drawing) point(a, b pair) {
	switch {
	case a.code >= 10 && a.code <= 18 && b.code != a.code+10,
		b.code >= 20 && b.code <= 28 && a.code != b.code-10,
		b.code >= 30 && b.code <= 37 && a.code != b.code-10:
		d.fault("line %d: group %d behind group %d: the parts of a point follow each other", b.line, b.code, a.code)
	}
}

// tables holds the section TABLES against its grammar: TABLE, its name,
// records of that name, ENDTAB.
func (d *drawing) tables(ps []pair) {
	open := ""
	for i, p := range ps {
		switch {
		case p.code != 0:
		case p.value == "TABLE":
			if open != "" || i+1 >= len(ps) || ps[i+1].code != 2 {
				d.fault("line %d: TABLE within a table or without a name", p.line)
				return
			}
			open = ps[i+1].value
		case p.value == "ENDTAB":
			if open == "" {
				d.fault("line %d: ENDTAB of no table", p.line)
			}
			open = ""
		case p.value != open:
			d.fault("line %d: %s in the table %q", p.line, p.value, open)
		}
	}
	if open != "" {
		d.fault("table %s without ENDTAB", open)
	}
}

// values holds header variables: each has a value, and no group twice.
func (d *drawing) values() {
	for name, v := range d.header {
		seen := map[int]bool{}
		for _, g := range v.groups {
			if seen[g.code] {
				d.fault("header variable %s has group %d twice", name, g.code)
			}
			seen[g.code] = true
		}
		if len(seen) == 0 {
			d.fault("header variable %s without a value", name)
		}
	}
}

// comment takes in the unit where a comment states it.
func (d *drawing) comment(s string) {
	_, s, ok := strings.Cut(strings.ToLower(s), "1 drawing unit = ")
	if !ok {
		return
	}
	unit := 0.0
	switch {
	case strings.HasPrefix(s, "1 mm"):
		unit = 1
	case strings.HasPrefix(s, "1 in"):
		unit = 25.4
	}
	if d.unit != 0 && d.unit != unit {
		d.unit = -1
		return
	}
	d.unit = unit
}

// parse reads a file: sections HEADER, TABLES, BLOCKS and ENTITIES, each ended
// by ENDSEC, and EOF ("DXF file structure").
func parse(text []byte) *drawing {
	d := &drawing{header: map[string]*thing{}, layers: map[string]*thing{}}
	ps := d.readPairs(text)
	section, ended := "", false
	var at *thing
	poly := -1
	for i := 0; i < len(ps); i++ {
		p := ps[i]
		switch {
		case ended:
			d.fault("line %d: more after EOF", p.line)
			return d
		case p.code == 0 && p.value == "SECTION":
			if section != "" || i+1 >= len(ps) || ps[i+1].code != 2 {
				d.fault("line %d: SECTION out of place or without a name", p.line)
				return d
			}
			section = ps[i+1].value
			d.sections += section + " "
			i++
			at = nil
		case p.code == 0 && p.value == "ENDSEC":
			if section == "" || poly >= 0 {
				d.fault("line %d: ENDSEC out of place", p.line)
			}
			section, at, poly = "", nil, -1
		case p.code == 0 && p.value == "EOF":
			ended = true
			if section != "" {
				d.fault("line %d: EOF within a section", p.line)
			}
		case section == "":
			d.fault("line %d: outside of any section", p.line)
			return d
		case section == "HEADER" && p.code == 9:
			if old := d.header[p.value]; old != nil && len(old.groups) == 0 {
				d.fault("line %d: header variable %s without a value", p.line, p.value)
			}
			at = &thing{kind: p.value, line: p.line}
			d.header[p.value] = at
		case section == "ENTITIES" && p.code == 0:
			at, poly = d.entity(p, poly)
		case section == "BLOCKS" && p.code == 0:
			at = &thing{kind: p.value, line: p.line} // drawn only where something refers to it
		case section == "TABLES" && p.code == 0:
			at = &thing{kind: p.value, line: p.line}
		case at == nil:
			d.fault("line %d: a group of nothing", p.line)
		default:
			at.groups = append(at.groups, p)
			if section == "TABLES" && at.kind == "LAYER" && p.code == 2 {
				if d.layers[p.value] != nil {
					d.twice = p.value
				}
				d.layers[p.value] = at
			}
		}
	}
	if !ended {
		d.fault("the file has no EOF")
	}
	d.values()
	for i, p := range ps {
		if p.code == 2 && p.value == "TABLES" && i > 0 && ps[i-1].value == "SECTION" {
			end := i + 1
			for end < len(ps) && !(ps[end].code == 0 && (ps[end].value == "ENDSEC" || ps[end].value == "EOF")) {
				end++
			}
			d.tables(ps[i+1 : end])
		}
	}
	return d
}

// entity begins an entity; poly is the polyline whose vertices are coming, or
// -1.
func (d *drawing) entity(p pair, poly int) (*thing, int) {
	t := thing{kind: p.value, line: p.line}
	switch {
	case p.value == "VERTEX" && poly >= 0:
		e := &d.entities[poly]
		e.verts = append(e.verts, t)
		return &e.verts[len(e.verts)-1], poly
	case p.value == "SEQEND" && poly >= 0:
		d.entities[poly].closed = true
		return &t, -1
	case p.value == "VERTEX" || p.value == "SEQEND" || poly >= 0:
		d.fault("line %d: %s out of place", p.line, p.value)
	}
	d.entities = append(d.entities, t)
	if p.value == "POLYLINE" {
		return &d.entities[len(d.entities)-1], len(d.entities) - 1
	}
	return &d.entities[len(d.entities)-1], -1
}

// outline returns the places along a closed polyline, every arc cut in parts of
// at most step mm, and every straight piece in parts of at most long mm.
func (t *thing) outline(scale, step, long float64) [][2]float64 {
	var out [][2]float64
	n := len(t.verts)
	for i := range t.verts {
		a, b := &t.verts[i], &t.verts[(i+1)%n]
		ax, ay, bx, by := a.real(10)*scale, a.real(20)*scale, b.real(10)*scale, b.real(20)*scale
		bulge := a.real(42)
		l := math.Hypot(bx-ax, by-ay)
		k := int(l*(1+math.Abs(bulge))/step) + 1
		if bulge == 0 {
			k = int(l/long) + 1
		}
		if k > 20000 || k < 0 {
			k = 1
		}
		for s := range k {
			x, y := arcPoint(ax, ay, bx, by, bulge, float64(s)/float64(k))
			out = append(out, [2]float64{x, y})
		}
	}
	return out
}

// arcPoint is the point a part t of the way along an arc from a to b, whose
// bulge is the tangent of a quarter of its angle ("VERTEX (DXF)", group 42).
func arcPoint(ax, ay, bx, by, bulge, t float64) (x, y float64) {
	if bulge == 0 {
		return ax + t*(bx-ax), ay + t*(by-ay)
	}
	sweep := 4 * math.Atan(bulge)
	h := (1 - bulge*bulge) / (4 * bulge)
	ox, oy := (ax+bx)/2-(by-ay)*h, (ay+by)/2+(bx-ax)*h
	c, s := math.Cos(t*sweep), math.Sin(t*sweep)
	vx, vy := ax-ox, ay-oy
	return ox + vx*c - vy*s, oy + vx*s + vy*c
}
