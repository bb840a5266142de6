package mutate

import (
	"strconv"
	"strings"
)

// DrawingEdits returns changes to a DXF file that change nothing that is cut:
// how another program may write the same.
func DrawingEdits(text []byte) []Change {
	d := newPages(text)
	each := func(class string, change func(i int, code, value string) (string, string)) Change {
		lines := append([]string(nil), d.lines...)
		for i := 0; i+1 < len(lines); i += 2 {
			lines[i], lines[i+1] = change(i, lines[i], lines[i+1])
		}
		return Change{class, "the whole file", 0, d.with(0, len(d.lines), lines...)}
	}
	real := func(i int) bool { c := d.code(i); return c >= 10 && c < 60 }
	out := []Change{
		each("DXF spacing", func(_ int, c, v string) (string, string) { return strings.TrimSpace(c), v }),
		each("DXF spacing", func(_ int, c, v string) (string, string) { return "    " + strings.TrimSpace(c), v }),
		each("DXF spacing", func(i int, c, v string) (string, string) {
			if real(i) {
				return c, "  " + v
			}
			return c, v
		}),
		each("DXF zeros", func(i int, c, v string) (string, string) {
			if real(i) && strings.Contains(v, ".") {
				return c, v + "00"
			}
			return c, v
		}),
		each("DXF exponents", func(i int, c, v string) (string, string) {
			x, err := strconv.ParseFloat(strings.TrimSpace(v), 64)
			if real(i) && err == nil {
				return c, strconv.FormatFloat(x, 'E', 12, 64)
			}
			return c, v
		}),
		each("DXF comments changed", func(i int, c, v string) (string, string) {
			if strings.HasPrefix(v, "job:") {
				return c, "another word"
			}
			return c, v
		}),
		each("DXF layers in small letters", func(i int, c, v string) (string, string) {
			if d.code(i) == 8 || d.code(i) == 2 && ourLayer(strings.TrimSpace(v)) {
				return c, strings.ToLower(v)
			}
			return c, v
		}),
		each("DXF line ends", func(_ int, c, v string) (string, string) { return c + "\r", v + "\r" }),
		{"DXF comments added", "at the head", 0, d.with(0, 0, "999", "checked at the bench")},
	}
	for i := 0; i+1 < len(d.lines); i += 2 {
		if d.code(i) == 0 && d.value(i) == "POLYLINE" {
			out = append(out, d.contourEdits(i)...)
		}
	}
	return out
}

// contourEdits draw one contour from another vertex, and the other way round.
func (d *pages) contourEdits(i int) []Change {
	var verts [][]string
	first := d.next(i, false)
	k := first
	for k+1 < len(d.lines) && d.value(k) == "VERTEX" {
		end := d.next(k, false)
		verts = append(verts, d.lines[k:end])
		k = end
	}
	join := func(order func(int) int) []string {
		var out []string
		for n := range verts {
			out = append(out, verts[order(n)]...)
		}
		return out
	}
	n := len(verts)
	end := d.next(i, true)
	out := []Change{
		{"DXF other first vertex", "POLYLINE", i + 1, d.with(first, k, join(func(v int) int { return (v + 1) % n })...)},
	}
	if !strings.Contains(strings.Join(d.lines[first:k], "\n"), " 42\n") { // bulges would have to be moved along
		out = append(out, Change{"DXF other direction", "POLYLINE", i + 1, d.with(first, k, join(func(v int) int { return n - 1 - v })...)})
	}
	// The contour moved behind all that follows.
	tail := len(d.lines) - 4 // ENDSEC, EOF
	lines := append(append(append([]string(nil), d.lines[end:tail]...), d.lines[i:end]...), d.lines[tail:]...)
	return append(out, Change{"DXF other order", "POLYLINE", i + 1, d.with(i, len(d.lines), lines...)})
}
