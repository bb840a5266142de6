package mutate

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// opposites are words that people set up by, and what stands for the contrary.
var opposites = [][2]string{
	{"left", "right"}, {"right", "left"}, {"tip up", "tip down"}, {"front", "back"}, {"show face", "back face"}, {"centre end", "valley end"}, {"grows", "falls"},
	{"falls", "grows"}, {"lower", "upper"}, {"corner", "middle"}, {"its top", "its underside"}, {"conventional", "climb"}, {"climb", "conventional"}, {"straight", "ball"},
	{"straight", "tapered"}, {"holes, cut-outs, outlines", "outlines, cut-outs, holes"}, {"on a spoilboard", "on the table"},
}

var figureOf = regexp.MustCompile(`[0-9]+(?:\.[0-9]+)?`)

// headKinds change what the head of the program says.
func (p *program) headKinds() []Change {
	var out []Change
	add := func(class string, i int, l string) {
		if l != p.lines[i] {
			out = append(out, p.replaced("head: "+class, i, l))
		}
	}
	labels := map[string]int{}
	for i, l := range p.lines[:p.start] {
		if !strings.HasPrefix(l, "(") {
			continue
		}
		label := labelOf(l)
		if label != "" {
			labels[label] = i
		}
		for _, o := range opposites {
			if strings.Contains(l, o[0]) {
				add(o[0]+" made "+o[1], i, strings.Replace(l, o[0], o[1], 1))
			}
		}
		for _, m := range figureOf.FindAllStringIndex(l, -1) {
			v, _ := strconv.ParseFloat(l[m[0]:m[1]], 64)
			for _, to := range []float64{v + 1, v * 2, v + 0.5, v * 10} {
				n := strconv.FormatFloat(to, 'f', -1, 64)
				add(fmt.Sprintf("a figure of %q changed", label), i, l[:m[0]]+n+l[m[1]:])
			}
		}
		if strings.Contains(l, " mm") {
			add("mm made in", i, strings.Replace(l, " mm", " in", 1))
		}
		add("in capitals", i, strings.ToUpper(l))
		add("with more blanks", i, strings.ReplaceAll(l, " ", "  "))
		add("after a semicolon", i, ";"+strings.Trim(l, "()"))
		add("left out", i, "")
		add("of other words", i, "(Clamp: the blue one)")
	}
	for _, pair := range [][2]string{{"cutter", "depth"}, {"zero", "hold"}, {"slot", "zero"}, {"sheet", "cutter"}, {"tabs", "depth"}} {
		a, okA := labels[pair[0]]
		b, okB := labels[pair[1]]
		if okA && okB {
			add("another statement's words", a, p.lines[a][:strings.Index(p.lines[a], ":")]+p.lines[b][strings.Index(p.lines[b], ":"):])
		}
	}
	return append(out, all("head: statements in another order", "the head", func() []string {
		n := slices.IndexFunc(p.lines, func(l string) bool { return !strings.HasPrefix(l, "(") })
		var said [][]string
		for _, l := range p.lines[:n] {
			if labelOf(l) != "" || len(said) == 0 {
				said = append(said, nil)
			}
			said[len(said)-1] = append(said[len(said)-1], l)
		}
		slices.Reverse(said)
		return slices.Concat(slices.Concat(said...), p.lines[n:])
	}))
}
