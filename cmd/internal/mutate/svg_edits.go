package mutate

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// SVGEdits returns changes to a drawing in SVG that change nothing that is cut: how
// another program may write the same.
func SVGEdits(text []byte) []Change {
	f := newFile(text)
	whole := func(class, what string, change func(string) string) Change {
		return Change{class, what, 0, func() []byte { return []byte(change(strings.Join(f.lines, "\n") + "\n")) }}
	}
	replace := func(class, old, now string) Change {
		return whole(class, old+" to "+now, func(s string) string { return strings.ReplaceAll(s, old, now) })
	}
	once := func(class, old, now string) Change {
		return whole(class, old+" to "+now, func(s string) string { return strings.Replace(s, old, now, 1) })
	}
	out := []Change{
		replace("SVG line ends", "\n", "\r\n"), replace("SVG line ends", "\n", " "), replace("SVG indented", "\n<", "\n\t  <"),
		replace("SVG single quotes", `"`, `'`),
		replace("SVG comments added", "<g ", "<!-- a layer --><g "),
		once("SVG no declaration", f.lines[0]+"\n", ""),
		whole("SVG byte order mark", "at the head", func(s string) string { return "\ufeff" + strings.TrimPrefix(s, f.lines[0]+"\n") }),
		once("SVG notes of other programs", "<svg ", `<svg xmlns:note="urn:note" note:zoom="2" `),
		whole("SVG notes of other programs", "in elements", func(s string) string {
			s = strings.Replace(s, "<svg ", `<svg xmlns:note="urn:note" `, 1)
			return strings.Replace(s, "<g ", `<note:view zoom="2"><note:grid/>words</note:view><g note:lock="1" `, 1)
		}),
		once("SVG metadata added", "<g ", "<metadata><a>words</a></metadata><g "),
		replace("SVG ids and classes", "<path ", `<path id="a" class="b" data-c="d" `),
		replace("SVG ends of lines round", `fill="none"`, `fill="none" stroke-linecap="round" stroke-linejoin="round"`),
		replace("SVG groups within layers", "<path ", "<g><path "),
		once("SVG title changed", "<title>", "<title>another "),
		replace("SVG other letters", "sans-serif", "serif"),
		whole("SVG layers in small letters", "all", func(s string) string {
			return regexp.MustCompile(`id="[A-Z]+"`).ReplaceAllStringFunc(s, strings.ToLower)
		}),
		whole("SVG group round the layers", "all", func(s string) string {
			s = strings.Replace(s, "<g ", `<g id="drawing"><g `, 1)
			return strings.Replace(s, "</svg>", "</g></svg>", 1)
		}),
		whole("SVG other colours", "all", func(s string) string {
			return strings.NewReplacer("#1e88e5", "#00f", "#d81b60", "#FF0000", "#2e7d32", "#0a0", "#757575", "#000000").Replace(s)
		}),
		whole("SVG attributes in another order", "all", func(s string) string {
			return regexp.MustCompile(`<line (x1="[^"]*") (y1="[^"]*") (x2="[^"]*") (y2="[^"]*")/>`).ReplaceAllString(s, "<line $4 $3\n$2 $1  />")
		}),
		whole("SVG lines as paths", "all", func(s string) string {
			return regexp.MustCompile(`<line x1="([^"]*)" y1="([^"]*)" x2="([^"]*)" y2="([^"]*)"/>`).ReplaceAllString(s, `<path d="M${1},${2}L${3},${4}"/>`)
		}),
		whole("SVG words in parts", "all", func(s string) string {
			return regexp.MustCompile(`>([^<>\n]+)</text>`).ReplaceAllString(s, ` xml:space="preserve"><tspan>$1</tspan></text>`)
		}),
		f.svgPaths("SVG commas", func(p *way) { p.comma = true }),
		f.svgPaths("SVG zeros", func(p *way) { p.number = func(v float64) string { return strconv.FormatFloat(v, 'f', 9, 64) } }),
		f.svgPaths("SVG exponents", func(p *way) { p.number = func(v float64) string { return strconv.FormatFloat(v, 'E', 12, 64) } }),
		f.svgPaths("SVG plus signs", func(p *way) {
			p.number = func(v float64) string {
				s := strconv.FormatFloat(v, 'f', 6, 64)
				if v >= 0 {
					s = "+" + s
				}
				return s
			}
		}),
		f.svgPaths("SVG relative", func(p *way) { p.relative = true }),
		f.svgPaths("SVG H and V", func(p *way) { p.straight = true }),
		f.svgPaths("SVG other first vertex", func(p *way) { p.turn(1) }),
		f.svgPaths("SVG other direction", func(p *way) { p.reverse() }),
		f.svgPaths("SVG closed by hand", func(p *way) { p.shut = true }),
		f.svgPaths("SVG sides in two", func(p *way) { p.halve() }),
	}
	out[12].Text = func() []byte { // the groups end too
		s := strings.ReplaceAll(strings.Join(f.lines, "\n")+"\n", "<path ", "<g><path ")
		return []byte(strings.ReplaceAll(s, "Z\"/>", "Z\"/></g>"))
	}
	return append(out, f.svgOrders()...)
}

// svgOrders write the paths of a layer in another order, and two in one.
func (f *file) svgOrders() []Change {
	var out []Change
	for i, l := range f.lines {
		if !strings.HasPrefix(l, "<path ") {
			continue
		}
		end := f.end(i)
		if end < len(f.lines) && strings.HasPrefix(f.lines[end], "<path ") {
			next := f.end(end)
			body := slices.Concat(f.lines[end:next], f.lines[i:end])
			out = append(out, Change{"SVG other order", l, i + 1, f.with(i, next, body...)})
			joined := slices.Concat(f.lines[i:end-1], []string{"Z", strings.TrimPrefix(f.lines[end], `<path d="`)}, f.lines[end+1:next])
			out = append(out, Change{"SVG two parts in one path", l, i + 1, f.with(i, next, joined...)})
		}
	}
	return out
}

// step is one piece of a way: where it goes, and as which arc.
type step struct {
	x, y  float64
	r     float64 // 0 for a straight line
	sweep bool
}

// way is a closed path, for writing it anew.
type way struct {
	steps    []step // each ends at its place; the last at the first's beginning
	number   func(float64) string
	comma    bool
	relative bool
	straight bool // H and V where they serve
	shut     bool // a line to the first place before Z
}

// svgPaths writes every path anew.
func (f *file) svgPaths(class string, change func(*way)) Change {
	return Change{class, "all paths", 0, func() []byte {
		var out []string
		for i := 0; i < len(f.lines); i++ {
			if !strings.HasPrefix(f.lines[i], "<path ") {
				out = append(out, f.lines[i])
				continue
			}
			end := f.end(i)
			w := readWay(f.lines[i:end])
			change(w)
			out = append(out, `<path d="`+w.String()+`"/>`)
			i = end - 1
		}
		return []byte(strings.Join(out, "\n") + "\n")
	}}
}

// readWay reads a path as the writer has it, a command a line.
func readWay(lines []string) *way {
	w := &way{number: func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }}
	var first step
	for _, l := range lines {
		v := strings.Fields(strings.TrimPrefix(l, `<path d="`))
		num := func(i int) float64 { x, _ := strconv.ParseFloat(v[i], 64); return x }
		switch v[0] {
		case "M":
			first = step{x: num(1), y: num(2)}
		case "L":
			w.steps = append(w.steps, step{x: num(1), y: num(2)})
		case "A":
			w.steps = append(w.steps, step{x: num(6), y: num(7), r: num(1), sweep: v[5] == "1"})
		}
	}
	if last := w.steps[len(w.steps)-1]; last.x != first.x || last.y != first.y {
		w.steps = append(w.steps, first)
	}
	return w
}

func (w *way) turn(n int) { w.steps = append(w.steps[n:len(w.steps):len(w.steps)], w.steps[:n]...) }

func (w *way) reverse() {
	n := len(w.steps)
	out := make([]step, n)
	for i, s := range w.steps { // runs from the end of the step before it
		from := w.steps[(i+n-1)%n]
		out[n-1-i] = step{from.x, from.y, s.r, !s.sweep}
	}
	w.steps = out
}

// halve puts a place in the middle of each straight side.
func (w *way) halve() {
	var out []step
	for i, s := range w.steps {
		from := w.steps[(i+len(w.steps)-1)%len(w.steps)]
		if s.r == 0 {
			out = append(out, step{x: (from.x + s.x) / 2, y: (from.y + s.y) / 2})
		}
		out = append(out, s)
	}
	w.steps = out
}

// String returns the data of the path.
func (w *way) String() string {
	var b strings.Builder
	sep := " "
	if w.comma {
		sep = " , "
	}
	at := w.steps[len(w.steps)-1]
	b.WriteString("M " + w.number(at.x) + sep + w.number(at.y))
	for i, s := range w.steps {
		last := i == len(w.steps)-1
		if last && s.r == 0 && !w.shut {
			break
		}
		x, y, letter := s.x, s.y, map[bool]string{false: "L", true: "A"}[s.r > 0]
		if w.relative {
			x, y, letter = round6(x-at.x), round6(y-at.y), strings.ToLower(letter)
			s.x, s.y = at.x+x, at.y+y
			if last {
				s.x, s.y = w.steps[i].x, w.steps[i].y
			}
		}
		switch {
		case s.r > 0:
			flag := map[bool]string{false: "0", true: "1"}[s.sweep]
			b.WriteString(" " + letter + " " + w.number(s.r) + sep + w.number(s.r) + sep + "0" + sep + "0" + sep + flag + sep + w.number(x) + sep + w.number(y))
		case w.straight && s.y == at.y:
			b.WriteString(" H " + w.number(x))
		case w.straight && s.x == at.x:
			b.WriteString(" V " + w.number(y))
		default:
			b.WriteString(" " + letter + " " + w.number(x) + sep + w.number(y))
		}
		at = s
	}
	return b.String() + " Z"
}

func round6(v float64) float64 { return math.Round(v*1e6) / 1e6 }
