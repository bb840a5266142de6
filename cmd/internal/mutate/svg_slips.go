package mutate

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// SVGSlips returns the changes to a drawing in SVG that a slip of the hand, of an
// editor or of a disk makes, and what other programs make of it that knows no
// better. Most harm what is cut; which, [JudgeSVG] says.
func SVGSlips(text []byte) []Change {
	f := newFile(text)
	var out []Change
	from, to := 0, 0 // of the title and the description
	for i, l := range f.lines {
		if strings.HasPrefix(l, "<title>") {
			from = i
		}
		if strings.Contains(l, "</desc>") {
			to = i
		}
	}
	for i, l := range f.lines {
		if i >= from && i <= to {
			continue
		}
		out = append(out, f.svgLineSlips(i)...)
		out = append(out, f.svgNumberSlips(i)...)
		out = append(out, f.svgAttributeSlips(i)...)
		switch {
		case strings.HasPrefix(l, "<path "):
			out = append(out, f.svgPathSlips(i)...)
		case strings.HasPrefix(l, "<g "):
			out = append(out, f.svgLayerSlips(i)...)
		case strings.HasPrefix(l, "<text "):
			out = append(out, f.svgTextSlips(i)...)
		}
		if l[0] >= 'A' && l[0] <= 'Z' || strings.Contains(l, `d="M`) {
			out = append(out, f.svgCommandSlips(i)...)
		}
	}
	return append(out, f.svgWholeSlips()...)
}

// change makes a change of one line.
func (f *file) change(class, what string, i int, now ...string) Change {
	return Change{class, what, i + 1, f.with(i, i+1, now...)}
}

func (f *file) svgLineSlips(i int) []Change {
	l := f.lines[i]
	out := []Change{
		f.change("SVG line dropped", l, i),
		{"SVG line doubled", l, i + 1, f.with(i, i, l)},
		{"SVG file cut short", l, i + 1, f.with(i, len(f.lines))},
	}
	if i+1 < len(f.lines) {
		out = append(out, Change{"SVG lines swapped", l, i + 1, f.with(i, i+2, f.lines[i+1], l)})
	}
	for _, c := range []struct{ class, sign string }{
		{"SVG quote dropped", `"`}, {"SVG bracket dropped", "<"}, {"SVG bracket dropped", ">"}, {"SVG slash dropped", "/"}, {"SVG equals sign dropped", "="},
	} {
		if k := strings.LastIndex(l, c.sign); k >= 0 {
			out = append(out, f.change(c.class, l, i, l[:k]+l[k+1:]))
		}
	}
	return out
}

var svgNumber = regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?`)

// inWords reports whether place k of a line lies within what is no number of the
// drawing: a name, a colour, letters, sizes of hairlines and letters.
func inWords(l string, k int) bool {
	if !strings.Contains(l, "<") {
		return false
	}
	before := l[:k]
	quote := strings.LastIndexByte(before, '"')
	if strings.Count(before, `"`)%2 == 0 {
		return true
	}
	key := before[strings.LastIndexByte(before[:quote], ' ')+1 : quote]
	switch key {
	case "x=", "y=", "x1=", "y1=", "x2=", "y2=", "d=", "width=", "height=", "viewBox=":
		return false
	}
	return true
}

func (f *file) svgNumberSlips(i int) []Change {
	l := f.lines[i]
	var out []Change
	num := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
	for _, at := range svgNumber.FindAllStringIndex(l, -1) {
		if inWords(l, at[0]) || strings.HasPrefix(l, "<?") || at[0] > 0 && (l[at[0]-1] >= 'a' && l[at[0]-1] <= 'z') {
			continue
		}
		old := l[at[0]:at[1]]
		x, err := strconv.ParseFloat(old, 64)
		if err != nil {
			continue
		}
		add := func(class, now string) {
			if now != old {
				out = append(out, f.change(class, fmt.Sprintf("%s to %s in %s", old, now, l), i, l[:at[0]]+now+l[at[1]:]))
			}
		}
		for _, k := range [5]float64{0.05, 0.1, 0.5, 2, 10} {
			add("SVG number moved", num(x+k))
			add("SVG number moved", num(x-k))
		}
		add("SVG sign flipped", num(-x))
		add("SVG decimal point dropped", strings.Replace(old, ".", "", 1))
		add("SVG decimal comma", strings.Replace(old, ".", ",", 1))
		add("SVG number in the other unit", num(x*25.4))
		add("SVG number in the other unit", num(x/25.4))
		add("SVG number dropped", "")
		add("SVG number doubled", old+" "+old)
		add("SVG number with a unit", old+"mm")
		add("SVG number that is none", "NaN")
		add("SVG number that is none", "0x10")
		add("SVG number out of bounds", "1e300")
	}
	return out
}

var svgAttribute = regexp.MustCompile(` ([a-z0-9-]+|viewBox)="([^"]*)"`)

func (f *file) svgAttributeSlips(i int) []Change {
	l := f.lines[i]
	var out []Change
	for _, m := range svgAttribute.FindAllStringSubmatchIndex(l, -1) {
		key, value := l[m[2]:m[3]], l[m[4]:m[5]]
		out = append(out, f.change("SVG attribute dropped", key+" of "+l, i, l[:m[0]]+l[m[1]:]),
			f.change("SVG attribute doubled", key+" of "+l, i, l[:m[1]]+l[m[0]:m[1]]+l[m[1]:]))
		add := func(class, now string) {
			out = append(out, f.change(class, fmt.Sprintf("%s=%q to %q", key, value, now), i, l[:m[4]]+now+l[m[5]:]))
		}
		switch key {
		case "width", "height":
			if strings.HasSuffix(value, "mm") {
				n := strings.TrimSuffix(value, "mm")
				for _, u := range [6]string{"", "px", "in", "cm", "pt", "%"} {
					add("SVG size in another unit", n+u)
				}
			}
		case "stroke-width":
			add("SVG line made broad", "1")
			add("SVG line made broad", "0.5")
			add("SVG line of no width", "0")
		case "stroke":
			add("SVG line not drawn", "none")
		case "fill":
			if value == "none" {
				add("SVG outline filled", "#000000")
			}
		case "xmlns":
			add("SVG namespace changed", "http://www.w3.org/1999/xhtml")
		}
	}
	if strings.HasPrefix(l, "<") && !strings.HasPrefix(l, "</") && !strings.HasPrefix(l, "<?") && !strings.HasPrefix(l, "<svg") {
		k := strings.IndexByte(l, ' ')
		for _, a := range []struct{ class, text string }{
			{"SVG moved", `transform="translate(0.5 0)"`}, {"SVG moved", `transform="scale(25.4)"`}, {"SVG moved", `transform="rotate(1)"`}, {"SVG moved", `transform="scale(1 -1)"`},
			{"SVG hidden", `display="none"`}, {"SVG hidden", `visibility="hidden"`}, {"SVG hidden", `opacity="0"`}, {"SVG hidden", `stroke-opacity="0"`},
			{"SVG styled", `style="display:none"`}, {"SVG styled", `style="stroke:none"`}, {"SVG dashed", `stroke-dasharray="2 2"`},
			{"SVG clipped", `clip-path="url(#a)"`}, {"SVG clipped", `mask="url(#a)"`},
		} {
			if !strings.Contains(l, " "+a.text[:strings.IndexByte(a.text, '=')+1]) {
				out = append(out, f.change(a.class, a.text+" on "+l, i, l[:k]+" "+a.text+l[k:]))
			}
		}
	}
	return out
}

// svgCommandSlips are the changes to one piece of a path.
func (f *file) svgCommandSlips(i int) []Change {
	l := f.lines[i]
	k := strings.Index(l, `d="`)
	if k >= 0 {
		k += 3
	} else {
		k = 0
	}
	head, c, rest := l[:k], l[k:k+1], l[k+1:]
	var out []Change
	add := func(class, now string) { out = append(out, f.change(class, l, i, head+now)) }
	add("SVG command dropped", rest)
	add("SVG command made relative", strings.ToLower(c)+rest)
	add("SVG command doubled", c+c+rest)
	for _, n := range [4]string{"B", "M", "Z", "T"} {
		if n != c {
			add("SVG command changed", n+rest)
		}
	}
	v := strings.Fields(rest)
	switch {
	case c == "A" && len(v) == 7:
		r, _ := strconv.ParseFloat(v[0], 64)
		arc := func(class string, r float64, ry float64, large, sweep string) {
			out = append(out, f.change(class, l, i, fmt.Sprintf("A %g %g 0 %s %s %s %s", r, ry, large, sweep, v[5], v[6])))
		}
		arc("SVG arc the long way", r, r, "1", v[4])
		arc("SVG arc on the other side", r, r, v[3], map[string]string{"0": "1", "1": "0"}[v[4]])
		arc("SVG arc both", r, r, "1", map[string]string{"0": "1", "1": "0"}[v[4]])
		for _, k := range [5]float64{0.5, 0.95, 1.01, 1.1, 2} {
			arc("SVG arc of another radius", r*k, r*k, v[3], v[4])
		}
		arc("SVG arc of an ellipse", r, r*1.2, v[3], v[4])
		arc("SVG arc of no radius", 0, 0, v[3], v[4])
		arc("SVG arc of another flag", r, r, v[3], "2")
		out = append(out, f.change("SVG arc made straight", l, i, "L "+v[5]+" "+v[6]))
	case c == "L" && len(v) == 2:
		out = append(out, f.change("SVG side made an arc", l, i, "A 1000 1000 0 0 1 "+v[0]+" "+v[1]),
			f.change("SVG side made a curve", l, i, "Q "+v[1]+" "+v[0]+" "+v[0]+" "+v[1]),
			f.change("SVG numbers exchanged", l, i, "L "+v[1]+" "+v[0]),
			f.change("SVG numbers run together", l, i, "L "+v[0]+strings.Replace("-"+v[1], "--", "-", 1)))
	case strings.HasPrefix(l, "Z"):
		out = append(out, f.change("SVG contour not closed", l, i, strings.TrimPrefix(l, "Z")),
			f.change("SVG contour runs on", l, i, "Z L 1 1"+strings.TrimPrefix(l, "Z")),
			f.change("SVG contour closed twice", l, i, "Z Z"+strings.TrimPrefix(l, "Z")))
	}
	return out
}
