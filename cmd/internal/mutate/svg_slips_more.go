package mutate

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// end returns the line behind an element that begins at line i.
func (f *file) end(i int) int {
	for k := i; k < len(f.lines); k++ {
		if strings.Contains(f.lines[k], "/>") || strings.Contains(f.lines[k], "</") {
			return k + 1
		}
	}
	return len(f.lines)
}

// svgPathSlips are the changes to a path as a whole.
func (f *file) svgPathSlips(i int) []Change {
	end := f.end(i)
	body := f.lines[i:end]
	out := []Change{
		{"SVG path dropped", f.lines[i], i + 1, f.with(i, end)},
		{"SVG path doubled", f.lines[i], i + 1, f.with(i, i, body...)},
		{"SVG path beyond its layer", f.lines[i], i + 1, f.with(i, end, append(append([]string{"</g>"}, body...), `<g fill="none" stroke="#000000" stroke-width="0.01">`)...)},
		{"SVG path made a polygon", f.lines[i], i + 1, f.with(i, i+1, strings.Replace(f.lines[i], "<path d=", "<polygon points=", 1))},
		{"SVG path in a nested drawing", f.lines[i], i + 1, f.with(i, end, append(append([]string{"<svg>"}, body...), "</svg>")...)},
		{"SVG path in a definition", f.lines[i], i + 1, f.with(i, end, append(append([]string{"<defs>"}, body...), "</defs>")...)},
		{"SVG path in a link", f.lines[i], i + 1, f.with(i, end, append(append([]string{"<a>"}, body...), "</a>")...)},
		{"SVG path in notes", f.lines[i], i + 1, f.with(i, end, append(append([]string{"<metadata>"}, body...), "</metadata>")...)},
		{"SVG path in a comment", f.lines[i], i + 1, f.with(i, end, append(append([]string{"<!--"}, body...), "-->")...)},
	}
	for _, shape := range [3]string{`path d="M 1 1"`, `text x="1" y="1"`, `line x1="1" y1="1" x2="1" y2="1"`} {
		name := shape[:strings.IndexByte(shape, ' ')]
		out = append(out, Change{"SVG path in a shape", shape, i + 1, f.with(i, end, append(append([]string{"<" + shape + ">"}, body...), "</"+name+">")...)})
	}
	if k := i - 1; strings.HasPrefix(f.lines[k], "Z\"/>") { // within the path before it
		out = append(out, Change{"SVG path in a shape", "the path before it", i + 1, f.with(k, end, append(append([]string{"Z\">"}, body...), "</path>")...)})
	}
	if end-i > 4 { // pieces within the path, its first and last left alone
		out = append(out, Change{"SVG path torn in two", f.lines[i], i + 1, f.with(i+2, i+3, "M"+f.lines[i+2][1:])})
	}
	for _, s := range []string{
		`<line x1="1" y1="1" x2="2" y2="2"/>`, `<rect x="1" y="1" width="2" height="2"/>`, `<circle cx="1" cy="1" r="2"/>`, `<polygon points="0 0 1 0 1 1"/>`,
		`<text x="1" y="1">a word</text>`, `<use href="#a"/>`, `<image href="a.png" width="9" height="9"/>`, `<style>path{stroke:none}</style>`,
		`<script>document.write(1)</script>`, `<animate attributeName="d" to="M 0 0"/>`, `<foreignObject/>`, `<switch/>`,
		`<path d="M 1 1 L 2 1 L 2 2 Z"/>`, `<path d="M 1 1 L 2 2"/>`,
	} {
		kind := s[1:strings.IndexAny(s, " >/")]
		out = append(out, Change{"SVG stray " + kind, s, i + 1, f.with(i, i, s)})
	}
	return out
}

// svgLayerSlips are the changes to a layer.
func (f *file) svgLayerSlips(i int) []Change {
	l := f.lines[i]
	m := regexp.MustCompile(`id="(\w+)"`).FindStringSubmatch(l)
	colour := regexp.MustCompile(`stroke="(#\w+)"`)
	var out []Change
	for _, n := range [6]string{"OUTLINE", "HOLE", "GUIDE", "TEXT", "CUT", ""} {
		if n != m[1] {
			out = append(out, f.change("SVG layer renamed", m[1]+" to "+n, i, strings.Replace(l, m[0], `id="`+n+`"`, 1)))
		}
	}
	for k, o := range f.lines {
		if k == i || !strings.HasPrefix(o, "<g ") {
			continue
		}
		was, now := colour.FindStringSubmatch(l)[1], colour.FindStringSubmatch(o)[1]
		lines := append([]string(nil), f.lines...)
		for n := i; n < len(lines) && lines[n] != "</g>"; n++ {
			lines[n] = strings.ReplaceAll(lines[n], was, now)
		}
		out = append(out, Change{"SVG colours alike", was + " to " + now, i + 1, f.with(0, len(lines), lines...)})
		other := regexp.MustCompile(`id="(\w+)"`).FindStringSubmatch(o)[0]
		lines = append([]string(nil), f.lines...)
		lines[i], lines[k] = strings.Replace(l, m[0], other, 1), strings.Replace(o, other, m[0], 1)
		out = append(out, Change{"SVG layers exchanged", m[0] + " and " + other, i + 1, f.with(0, len(lines), lines...)})
	}
	out = append(out, f.change("SVG layer within a layer", l, i, l, `<g id="GUIDE" stroke="#2e7d32">`))
	for _, c := range [3]string{"red", "rgb(0,0,0)", "currentColor"} {
		out = append(out, f.change("SVG colour in words", l+" "+c, i, colour.ReplaceAllString(l, `stroke="`+c+`"`)))
	}
	return out
}

// svgTextSlips are the changes to words.
func (f *file) svgTextSlips(i int) []Change {
	l := f.lines[i]
	k, end := strings.IndexByte(l, '>')+1, strings.LastIndex(l, "</")
	words := l[k:end]
	out := []Change{f.change("SVG text dropped", words, i)}
	for _, w := range wordSlips(words) {
		out = append(out, f.change("SVG "+w.class, words+" to "+w.text, i, l[:k]+w.text+l[end:]))
	}
	return append(out,
		f.change("SVG text moved", words, i, strings.Replace(l, "<text ", `<text transform="translate(50 0)" `, 1)),
		f.change("SVG text turned away", words, i, strings.Replace(l, "<text ", `<text transform="rotate(90 0 0)" `, 1)),
		f.change("SVG text made an outline", words, i, `<path d="M 1 1 L 2 1 L 2 2 Z"/>`))
}

// wordSlip is a text changed.
type wordSlip struct{ class, text string }

// wordSlips are the changes to a line of words, by figure, side, axis and unit.
func wordSlips(s string) []wordSlip {
	var out []wordSlip
	add := func(class, now string) {
		if now != s {
			out = append(out, wordSlip{class, now})
		}
	}
	for _, at := range svgNumber.FindAllStringIndex(s, -1) {
		x, err := strconv.ParseFloat(s[at[0]:at[1]], 64)
		if err != nil || at[0] > 0 && s[at[0]-1] >= 'A' {
			continue
		}
		for _, n := range [4]float64{x + 1, x + 5, x * 10, -x} {
			add("text figure changed", s[:at[0]]+strconv.FormatFloat(n, 'f', -1, 64)+s[at[1]:])
		}
		add("text figure dropped", s[:at[0]]+s[at[1]:])
	}
	for _, p := range [][2]string{{"left", "right"}, {"right", "left"}, {"above", "below"}, {"below", "above"}} {
		add("text side changed", strings.Replace(s, p[0], p[1], 1))
	}
	for _, p := range [][2]string{{"X0", "Z0"}, {"Z0", "X0"}, {"X0", "Y0"}} {
		add("text axis changed", strings.Replace(s, p[0], p[1], 1))
	}
	for _, p := range [][2]string{{" mm", " in"}, {" in", " mm"}, {" mm", " cm"}, {" deg", " mm"}} {
		add("text unit changed", strings.Replace(s, p[0], p[1], 1))
	}
	add("text added", s+" 12 mm")
	add("text harmless", "for Ann")
	add("text in capitals", strings.ToUpper(s))
	return out
}

// svgWholeSlips change all that is drawn.
func (f *file) svgWholeSlips() []Change {
	all := func(class, what string, x func(float64) float64, y func(float64) float64, arc func(float64) float64) Change {
		lines := append([]string(nil), f.lines...)
		for i, l := range lines {
			lines[i] = mapPlaces(l, x, y, arc)
		}
		return Change{class, what, 0, f.with(0, len(lines), lines...)}
	}
	same := func(v float64) float64 { return v }
	by := func(k float64) func(float64) float64 { return func(v float64) float64 { return v * k } }
	plus := func(k float64) func(float64) float64 { return func(v float64) float64 { return v + k } }
	out := []Change{
		all("SVG scaled", "by 25.4", by(25.4), by(25.4), by(25.4)),
		all("SVG scaled", "by 1/25.4", by(1/25.4), by(1/25.4), by(1/25.4)),
		all("SVG scaled", "by 1.001", by(1.001), by(1.001), by(1.001)),
		all("SVG scaled", "by 96/25.4", by(96/25.4), by(96/25.4), by(96/25.4)),
		all("SVG scaled", "by 72/25.4", by(72/25.4), by(72/25.4), by(72/25.4)),
		all("SVG shifted", "by 1", plus(1), plus(1), same),
		all("SVG shifted", "by 0.05", plus(0.05), same, same),
		all("SVG mirrored", "left to right", by(-1), same, same),
		all("SVG mirrored", "top to bottom", same, by(-1), same),
	}
	head := 0
	for i, l := range f.lines {
		if strings.HasPrefix(l, "<svg ") {
			head = i
		}
	}
	for _, s := range []struct{ class, text string }{
		{"SVG document type", "<!DOCTYPE svg>"}, {"SVG document type", `<!DOCTYPE svg [<!ENTITY a "b">]>`}, {"SVG style sheet from outside", `<?xml-stylesheet href="a.css"?>`},
		{"SVG letters before", "words"}, {"SVG element before", "<svg/>"},
	} {
		out = append(out, Change{s.class, s.text, head + 1, f.with(head, head, s.text)})
	}
	n := len(f.lines)
	for _, s := range [3]string{"<svg/>", "words", "<!-- open"} {
		out = append(out, Change{"SVG more behind the end", s, n + 1, f.with(n, n, s)})
	}
	l := f.lines[head]
	for _, a := range [4]string{`preserveAspectRatio="none"`, `transform="scale(2)"`, `style="width:50%"`, `display="none"`} {
		out = append(out, f.change("SVG drawing moved or hidden", a, head, strings.Replace(l, "<svg ", "<svg "+a+" ", 1)))
	}
	return append(out, f.change("SVG encoding changed", "UTF-16", 0, strings.Replace(f.lines[0], "UTF-8", "UTF-16", 1)))
}

// mapPlaces changes all places of a line: of paths, lines and texts.
func mapPlaces(l string, x, y, arc func(float64) float64) string {
	num := func(s string, f func(float64) float64) string {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			return s
		}
		return strconv.FormatFloat(f(v), 'f', 9, 64)
	}
	if strings.HasPrefix(l, "<line ") || strings.HasPrefix(l, "<text ") {
		for _, k := range [6]string{"x", "y", "x1", "y1", "x2", "y2"} {
			l = regexp.MustCompile(` `+k+`="([^"]*)"`).ReplaceAllStringFunc(l, func(s string) string {
				f := x
				if k[0] == 'y' {
					f = y
				}
				v := s[len(k)+3 : len(s)-1]
				return fmt.Sprintf(` %s="%s"`, k, num(v, f))
			})
		}
		return l
	}
	k := strings.Index(l, `d="M`)
	if k >= 0 {
		k += 3
	} else if k = 0; l == "" || strings.IndexByte("LA", l[0]) < 0 {
		return l
	}
	v := strings.Fields(l[k:])
	n := len(v)
	if v[0] == "A" {
		v[1], v[2] = num(v[1], arc), num(v[2], arc)
	}
	v[n-2], v[n-1] = num(v[n-2], x), num(v[n-1], y)
	return l[:k] + strings.Join(v, " ")
}
