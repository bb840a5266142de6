package mutate

import (
	"fmt"
	"strconv"
	"strings"
)

// pages is a DXF file as lines of pairs, for changing.
type pages struct {
	lines []string
	unit  float64
}

func newPages(text []byte) *pages {
	return &pages{strings.Split(strings.TrimSuffix(string(text), "\n"), "\n"), parse(text).unit}
}

func (d *pages) with(i, k int, lines ...string) func() []byte {
	f := file{d.lines}
	return f.with(i, k, lines...)
}

func (d *pages) code(i int) int { n, _ := strconv.Atoi(strings.TrimSpace(d.lines[i])); return n }

func (d *pages) value(i int) string { return strings.TrimSpace(d.lines[i+1]) }

// DrawingSlips returns the changes to a DXF file that a slip of the hand, of
// an editor or of a disk makes. Most harm what is cut; which, [JudgeDrawing]
// says.
func DrawingSlips(text []byte) []Change {
	d := newPages(text)
	var out []Change
	section := ""
	for i := 0; i+1 < len(d.lines); i += 2 {
		if d.code(i) == 2 && i >= 2 && d.value(i-2) == "SECTION" {
			section = d.value(i)
		}
		out = append(out, d.pairSlips(i)...)
		out = append(out, d.valueSlips(i, section)...)
		if section == "ENTITIES" && d.code(i) == 0 && d.value(i) != "ENDSEC" {
			out = append(out, d.entitySlips(i)...)
		}
	}
	return append(append(out, d.moreSlips()...), d.wholeSlips()...)
}

// pairSlips are the changes to pairs of lines.
func (d *pages) pairSlips(i int) []Change {
	name := fmt.Sprintf("group %d %s", d.code(i), d.value(i))
	if d.code(i) == 999 && !strings.Contains(d.value(i), "unit") {
		return nil
	}
	out := []Change{
		{"DXF pair dropped", name, i + 1, d.with(i, i+2)},
		{"DXF pair doubled", name, i + 1, d.with(i, i, d.lines[i], d.lines[i+1])},
		{"DXF line dropped", name, i + 2, d.with(i+1, i+2)},
		{"DXF file cut short", name, i + 1, d.with(i, len(d.lines))},
	}
	if i+3 < len(d.lines) {
		out = append(out, Change{"DXF pairs swapped", name, i + 1, d.with(i, i+4, d.lines[i+2], d.lines[i+3], d.lines[i], d.lines[i+1])})
	}
	return out
}

// valueSlips are the changes to one value.
func (d *pages) valueSlips(i int, section string) []Change {
	var out []Change
	v := d.value(i)
	add := func(class, n string) {
		if n != v {
			out = append(out, Change{class, fmt.Sprintf("group %d %s to %s", d.code(i), v, n), i + 2, d.with(i+1, i+2, n)})
		}
	}
	num := func(x float64) string { return strconv.FormatFloat(x, 'f', 6, 64) }
	switch c := d.code(i); {
	case c >= 10 && c < 60 && c != 50 && section != "TABLES":
		x, err := strconv.ParseFloat(v, 64)
		if err != nil {
			break
		}
		for _, k := range [5]float64{0.05, 0.1, 0.5, 2, 10} {
			add("DXF value moved", num(x+k/d.unit))
			add("DXF value moved", num(x-k/d.unit))
		}
		if x != 0 {
			add("DXF sign flipped", num(-x))
		}
		add("DXF decimal point dropped", strings.Replace(v, ".", "", 1))
		if x != 0 {
			add("DXF value in the other unit", num(x*25.4))
			add("DXF value in the other unit", num(x/25.4))
		}
	case c == 8:
		for _, l := range [6]string{"OUTLINE", "HOLE", "GUIDE", "TEXT", "0", "outline"} {
			add("DXF layer changed", l)
		}
	case c == 70 && section == "ENTITIES", c == 66:
		for _, n := range [6]string{"0", "2", "3", "8", "9", "16"} {
			add("DXF flags changed", n)
		}
	case c == 62:
		add("DXF layer off", "-"+v)
		add("DXF colour changed", "3")
	case c == 70 && section == "TABLES" && i >= 2 && d.code(i-2) == 2:
		add("DXF layer frozen", "1")
	case c == 0 || c == 1 && section == "HEADER":
		for _, n := range [5]string{"LWPOLYLINE", "SPLINE", "LINE", "INSERT", "AC1015"} {
			add("DXF word changed", n)
		}
	case c == 1:
		for _, n := range [4]string{"10 mm", "4 in", "101 mm", "bar"} {
			add("DXF check bar text changed", n)
		}
	case c == 999 && strings.Contains(v, "unit"):
		add("DXF unit swapped", "1 drawing unit = 1 inch (25.4 mm)")
		add("DXF unit swapped", "1 drawing unit = 1 mm")
		add("DXF unit swapped", "one millimetre each")
	}
	return out
}

// next returns where the thing that begins at i ends; of a polyline the whole.
func (d *pages) next(i int, whole bool) int {
	poly := whole && d.value(i) == "POLYLINE"
	for k := i + 2; k+1 < len(d.lines); k += 2 {
		if d.code(k) == 0 && (!poly || d.value(k) != "VERTEX" && d.value(k) != "SEQEND") {
			return k
		}
	}
	return len(d.lines)
}

// entitySlips are the changes to entities and vertices as a whole.
func (d *pages) entitySlips(i int) []Change {
	kind := d.value(i)
	end := d.next(i, true)
	body := d.lines[i:end]
	out := []Change{
		{"DXF " + what(kind) + " dropped", kind, i + 1, d.with(i, end)},
		{"DXF " + what(kind) + " doubled", kind, i + 1, d.with(i, i, body...)},
	}
	if kind == "VERTEX" && end < len(d.lines) && d.value(end) == "VERTEX" {
		next := d.lines[end:d.next(end, true)]
		swapped := append(append([]string(nil), next...), body...)
		out = append(out, Change{"DXF vertices swapped", kind, i + 1, d.with(i, end+len(next), swapped...)})
	}
	if kind == "VERTEX" {
		bent := append(append([]string(nil), body...), " 42", "0.05")
		out = append(out, Change{"DXF bulge added", kind, i + 1, d.with(i, end, bent...)})
	}
	if kind == "POLYLINE" {
		for _, stray := range [5][]string{
			{"  0", "LINE", "  8", "OUTLINE", " 10", "1.0", " 20", "1.0", " 30", "0.0", " 11", "2.0", " 21", "2.0", " 31", "0.0"},
			{"  0", "TEXT", "  8", "OUTLINE", " 10", "1.0", " 20", "1.0", " 30", "0.0", " 40", "2.5", "  1", "a word"},
			{"  0", "CIRCLE", "  8", "HOLE", " 10", "1.0", " 20", "1.0", " 30", "0.0", " 40", "0.5"},
			{"  0", "POINT", "  8", "OUTLINE", " 10", "1.0", " 20", "1.0", " 30", "0.0"},
			{"  0", "INSERT", "  8", "OUTLINE", "  2", "A", " 10", "1.0", " 20", "1.0", " 30", "0.0"},
		} {
			out = append(out, Change{"DXF stray entity added", stray[1], i + 1, d.with(i, i, stray...)})
		}
	}
	return out
}

func what(kind string) string {
	if kind == "VERTEX" || kind == "SEQEND" {
		return strings.ToLower(kind)
	}
	return "entity"
}

// wholeSlips scale or shift all that is drawn.
func (d *pages) wholeSlips() []Change {
	all := func(class, what string, change func(code int, x float64) float64) Change {
		lines := append([]string(nil), d.lines...)
		entities := false
		for i := 0; i+1 < len(lines); i += 2 {
			entities = entities || d.value(i) == "ENTITIES"
			if c := d.code(i); c >= 10 && c < 40 && (entities || strings.HasPrefix(what, "all")) {
				if x, err := strconv.ParseFloat(d.value(i), 64); err == nil {
					lines[i+1] = strconv.FormatFloat(change(c, x), 'f', 6, 64)
				}
			}
		}
		return Change{class, what, 0, d.with(0, len(d.lines), lines...)}
	}
	return []Change{
		all("DXF scaled", "all by 25.4", func(_ int, x float64) float64 { return x * 25.4 }),
		all("DXF scaled", "all by 1/25.4", func(_ int, x float64) float64 { return x / 25.4 }),
		all("DXF scaled", "all by 1.001", func(_ int, x float64) float64 { return x * 1.001 }),
		all("DXF mirrored", "all in x", func(c int, x float64) float64 {
			if c/10 == 1 {
				return -x
			}
			return x
		}),
		all("DXF shifted", "all by 1", func(c int, x float64) float64 {
			if c < 30 {
				return x + 1
			}
			return x
		}),
	}
}
