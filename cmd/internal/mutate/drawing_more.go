package mutate

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// moreSlips are the changes to a DXF file that other programs, and people who know
// the format, make: units of the header, blocks, colours, layers that are off in
// other ways, polylines that are not flat, words.
func (d *pages) moreSlips() []Change {
	var out []Change
	for i := 0; i+1 < len(d.lines); i += 2 {
		switch {
		case d.code(i) == 9 && d.value(i) == "$EXTMIN":
			for n := 0; n <= 24; n++ {
				out = append(out, Change{"DXF unit of the header", fmt.Sprint("$INSUNITS ", n), i + 1, d.with(i, i, "  9", "$INSUNITS", " 70", strconv.Itoa(n))})
			}
		case d.code(i) == 0 && d.value(i) == "LAYER" && i >= 2:
			out = append(out, d.layerSlips(i)...)
		case d.code(i) == 0 && d.value(i) == "POLYLINE":
			out = append(out, d.bentSlips(i)...)
		case d.code(i) == 0 && d.value(i) == "TEXT" || d.code(i) == 0 && d.value(i) == "LINE":
			for _, n := range [4]string{"1", "150", "94", "7"} {
				out = append(out, Change{"DXF colour of its own", d.value(i) + " " + n, i + 1, d.with(i+4, i+4, " 62", n)})
			}
		case d.code(i) == 1 && !strings.HasPrefix(d.value(i), "AC10"):
			for _, w := range wordSlips(d.value(i)) {
				out = append(out, Change{"DXF " + w.class, d.value(i) + " to " + w.text, i + 2, d.with(i+1, i+2, w.text)})
			}
		case d.code(i) == 2 && d.value(i) == "BLOCKS":
			out = append(out, d.blockSlips(i+2)...)
		}
	}
	return append(out, d.mirrors()...)
}

// layerSlips are the changes to a record of the layer table.
func (d *pages) layerSlips(i int) []Change {
	end := d.next(i, false)
	var name, colour string
	flags, at := i, i
	for k := i; k < end; k += 2 {
		switch d.code(k) {
		case 2:
			name = d.value(k)
		case 70:
			flags = k
		case 62:
			colour, at = d.value(k), k
		}
	}
	if !ourLayer(name) {
		return nil
	}
	kind := i
	for k := i; k < end; k += 2 {
		if d.code(k) == 6 {
			kind = k
		}
	}
	out := []Change{
		{"DXF layer of dashes", name, kind + 2, d.with(kind+1, kind+2, "DASHED")},
		{"DXF layer not plotted", name, i + 1, d.with(end, end, "290", "0")},
		{"DXF layer twice", name + " frozen", end + 1, d.with(end, end, "  0", "LAYER", "  2", strings.ToLower(name), " 70", "1", " 62", colour, "  6", "CONTINUOUS")},
		{"DXF layer twice", name + " off", end + 1, d.with(end, end, "  0", "LAYER", "  2", name, " 70", "0", " 62", "-"+colour, "  6", "CONTINUOUS")},
	}
	for _, n := range [4]string{"2", "3", "5", "7"} {
		out = append(out, Change{"DXF layer frozen otherwise", name + " " + n, flags + 2, d.with(flags+1, flags+2, n)})
	}
	out = append(out, Change{"DXF layer locked", name, flags + 2, d.with(flags+1, flags+2, "4")})
	for k := 0; k+1 < len(d.lines); k += 2 {
		if k != at && d.code(k) == 62 && d.value(k) != colour {
			out = append(out, Change{"DXF colours alike", name + " " + d.value(k), at + 2, d.with(at+1, at+2, d.value(k))})
		}
	}
	return out
}

// bentSlips make a polyline one that is not flat, seen or plain.
func (d *pages) bentSlips(i int) []Change {
	var out []Change
	add := func(class string, groups ...string) {
		out = append(out, Change{class, strings.Join(groups, " "), i + 1, d.with(i+4, i+4, groups...)})
	}
	add("DXF outline raised", " 38", "3.0")
	add("DXF outline with walls", " 39", "3.0")
	add("DXF outline with a width", " 40", "0.5", " 41", "0.5")
	add("DXF outline turned over", "210", "0.0", "220", "0.0", "230", "-1.0")
	add("DXF outline on edge", "210", "1.0", "220", "0.0", "230", "0.0")
	add("DXF outline invisible", " 60", "1")
	add("DXF outline on paper", " 67", "1")
	for _, n := range [5]string{"1", "150", "94", "252", "256"} {
		add("DXF colour of its own", " 62", n)
	}
	add("DXF line type of its own", "  6", "CONTINUOUS")
	add("DXF line type of its own", "  6", "BYLAYER")
	add("DXF outline of dashes", "  6", "DASHED")
	add("DXF outline of dashes", "  6", "hidden")
	for _, f := range [3]string{"5", "17", "65"} {
		k := i
		for d.code(k) != 70 {
			k += 2
		}
		out = append(out, Change{"DXF outline of another kind", f, k + 2, d.with(k+1, k+2, f)})
	}
	return append(out, d.pieceSlips(i)...)
}

// pieceSlips write a piece of a polyline otherwise: a side in two, an arc as chords.
func (d *pages) pieceSlips(i int) []Change {
	var out []Change
	end := d.next(i, true)
	layer := ""
	for k := i; k < end; k += 2 {
		if d.code(k) == 8 {
			layer = d.value(k)
		}
	}
	vertex := func(x, y float64) []string {
		n := func(v float64) string { return strconv.FormatFloat(v, 'f', 9, 64) }
		return []string{"  0", "VERTEX", "  8", layer, " 10", n(x), " 20", n(y), " 30", "0.0"}
	}
	p := parse([]byte(strings.Join(d.lines, "\n")))
	for _, t := range p.polylines() {
		if t.line != i+1 {
			continue
		}
		for v := range t.verts {
			a, b := &t.verts[v], &t.verts[(v+1)%len(t.verts)]
			ax, ay, bx, by, bulge := a.real(10), a.real(20), b.real(10), b.real(20), a.real(42)
			at := d.next(a.line-1, false)
			if bulge == 0 {
				out = append(out, Change{"DXF side in two", t.kind, a.line, d.with(at, at, vertex((ax+bx)/2, (ay+by)/2)...)})
				continue
			}
			for _, n := range [3]int{2, 6, 400} { // chords; the arc's own vertex becomes a plain one
				body := vertex(ax, ay)
				for k := 1; k < n; k++ {
					x, y := arcPoint(ax, ay, bx, by, bulge, float64(k)/float64(n))
					body = append(body, vertex(x, y)...)
				}
				out = append(out, Change{"DXF arc as chords", fmt.Sprint(n), a.line, d.with(a.line-1, at, body...)})
			}
			half := math.Tan(math.Atan(bulge) / 2)
			x, y := arcPoint(ax, ay, bx, by, bulge, 0.5)
			bend := []string{" 42", strconv.FormatFloat(half, 'f', 12, 64)}
			two := append(append(append(vertex(ax, ay), bend...), vertex(x, y)...), bend...)
			out = append(out, Change{"DXF arc in two", t.kind, a.line, d.with(a.line-1, at, two...)})
		}
	}
	return out
}

// blockSlips put a block in, and refer to it or not; i is where blocks begin.
func (d *pages) blockSlips(i int) []Change {
	var out []Change
	end := len(d.lines) - 4 // ENDSEC, EOF
	for _, layer := range [2]string{"OUTLINE", "HOLE"} {
		block := strings.Fields("0 BLOCK 8 0 2 A 70 0 10 0.0 20 0.0 30 0.0 3 A 0 POLYLINE 8 " + layer + " 66 1 10 0.0 20 0.0 30 0.0 70 1" +
			" 0 VERTEX 8 " + layer + " 10 1.0 20 1.0 30 0.0 0 VERTEX 8 " + layer + " 10 9.0 20 1.0 30 0.0 0 VERTEX 8 " + layer + " 10 1.0 20 9.0 30 0.0 0 SEQEND 8 " + layer + " 0 ENDBLK 8 0")
		with := func(class string, tail ...string) {
			lines := append(append(append([]string(nil), d.lines[:i]...), block...), d.lines[i:end]...)
			at := len(lines) + 1
			lines = append(append(lines, tail...), d.lines[end:]...)
			out = append(out, Change{class, layer, at, d.with(0, len(d.lines), lines...)})
		}
		with("DXF block not referred to")
		for _, on := range [4]string{"GUIDE", "TEXT", "OUTLINE", "0"} {
			with("DXF block referred to", strings.Fields("0 INSERT 8 "+on+" 2 A 10 0.0 20 0.0 30 0.0")...)
		}
		with("DXF dimension of a block", strings.Fields("0 DIMENSION 8 GUIDE 2 A 10 0.0 20 0.0 30 0.0 70 0")...)
	}
	return out
}

// mirrors turn all that is drawn over.
func (d *pages) mirrors() []Change {
	var out []Change
	for _, axis := range [2]int{0, 1} {
		lines := append([]string(nil), d.lines...)
		entities := false
		for i := 0; i+1 < len(lines); i += 2 {
			entities = entities || d.value(i) == "ENTITIES"
			c := d.code(i)
			if x, err := strconv.ParseFloat(d.value(i), 64); err == nil && entities && (c == 42 || c >= 10+10*axis && c < 20+10*axis) {
				lines[i+1] = strconv.FormatFloat(-x, 'f', 9, 64)
			}
		}
		out = append(out, Change{"DXF mirrored", [2]string{"left to right", "top to bottom"}[axis], 0, d.with(0, len(lines), lines...)})
	}
	return out
}
