package mutate

import "strings"

// svgScan is a file while it is read.
type svgScan struct {
	d      *svgDrawing
	s      string
	i      int // the place in s
	line   int // of the place at
	at     int
	open   []string        // elements that are open
	state  []inherited     // what each of them hands down
	layers map[string]bool // that were met
	roots  int
	words  *thing // the text whose letters are coming
}

// parseSVG reads a file: elements one after the other, as XML 1.0 has them, and
// what SVG 1.1 says of each.
func parseSVG(text []byte) *svgDrawing {
	d := &svgDrawing{}
	d.header, d.layers = map[string]*thing{}, map[string]*thing{}
	d.unit = 1
	r := svgScan{d: d, s: strings.ReplaceAll(string(text), "\r\n", "\n"), line: 1, open: []string{},
		state: []inherited{{fill: "#000000", stroke: "none", width: 1}}, layers: map[string]bool{}}
	for r.i < len(r.s) {
		r.letters()
		if r.i >= len(r.s) {
			break
		}
		if skipped, ok := r.skip(); !ok || !skipped && !r.start() {
			return d
		}
	}
	if len(r.open) > 0 || r.roots == 0 {
		d.fault("the file ends within %v", r.open)
	}
	return d
}

// lineOf returns the line of a place that is not before the last one asked for.
func (r *svgScan) lineOf(i int) int {
	r.line += strings.Count(r.s[r.at:i], "\n")
	r.at = i
	return r.line
}

// letters takes in what stands before the next tag.
func (r *svgScan) letters() {
	n := strings.IndexByte(r.s[r.i:], '<')
	if n < 0 {
		n = len(r.s) - r.i
	}
	if between := r.s[r.i : r.i+n]; r.words != nil {
		r.words.groups[len(r.words.groups)-1].value += unescape(between)
	} else if strings.TrimSpace(strings.TrimPrefix(between, "\ufeff")) != "" && !quiet(r.open) {
		r.d.fault("line %d: letters between elements", r.lineOf(r.i))
	}
	r.i += n
}

// skip passes a comment, the declaration or the end of an element, where one stands
// at the place; ok is false where reading ends with a fault.
func (r *svgScan) skip() (skipped, ok bool) {
	rest := r.s[r.i:]
	switch {
	case strings.HasPrefix(rest, "<!--"):
		end := strings.Index(rest[4:], "-->")
		if end < 0 || strings.Contains(rest[4:4+end], "--") {
			r.d.fault("line %d: a comment that does not end", r.lineOf(r.i))
			return false, false
		}
		r.i += 4 + end + 3
	case strings.HasPrefix(rest, "<?xml ") && r.i == 0:
		end := strings.Index(rest, "?>")
		if end < 0 || !strings.Contains(strings.ToLower(rest[:end]), "utf-8") && strings.Contains(rest[:end], "encoding") {
			r.d.fault("a declaration that does not end, or of another encoding")
			return false, false
		}
		r.i = end + 2
	case strings.HasPrefix(rest, "<?"), strings.HasPrefix(rest, "<!"):
		r.d.fault("line %d: an instruction or a document type", r.lineOf(r.i))
		return false, false
	case strings.HasPrefix(rest, "</"):
		end, last := strings.IndexByte(rest, '>'), len(r.open)-1
		if end < 0 || last < 0 || strings.TrimSpace(rest[2:end]) != r.open[last] {
			r.d.fault("line %d: an end of what is not open", r.lineOf(r.i))
			return false, false
		}
		if r.open[last] == "text" {
			r.words = nil
		}
		r.open, r.state = r.open[:last], r.state[:len(r.state)-1]
		r.i += end + 1
	default:
		return false, true
	}
	return true, true
}

// start takes in an element's start; false where reading ends with a fault.
func (r *svgScan) start() bool {
	t, end, ok := scanTag(r.s, r.i)
	if !ok {
		r.d.fault("line %d: a tag that is broken", r.lineOf(r.i))
		return false
	}
	t.line = r.lineOf(r.i)
	r.i = end
	if len(r.open) == 0 {
		r.roots++
		if r.roots > 1 || t.name != "svg" || t.attrs["xmlns"] != "http://www.w3.org/2000/svg" {
			r.d.fault("line %d: <%s> outside of the drawing", t.line, t.name)
			return false
		}
		r.d.page(t)
	} else if !quiet(r.open) {
		if p := r.open[len(r.open)-1]; p != "svg" && p != "g" && t.name != "tspan" && t.name != "title" && t.name != "desc" && !strings.Contains(t.name, ":") {
			r.d.fault("line %d: <%s> within <%s> is not drawn", t.line, t.name, p)
			return false
		}
		if e := r.d.element(t, &r.state, r.layers); t.name != "tspan" {
			r.words = e
		}
	}
	if t.alone {
		if t.name == "text" {
			r.words = nil
		}
		r.state = r.state[:len(r.open)+1]
		return true
	}
	r.open = append(r.open, t.name)
	for len(r.state) <= len(r.open) {
		r.state = append(r.state, r.state[len(r.state)-1])
	}
	return true
}

// quiet reports whether what stands within these elements is not drawn: titles,
// and the notes of other programs, whose names have a colon.
func quiet(open []string) bool {
	for _, n := range open {
		if n == "title" || n == "desc" || n == "metadata" || strings.Contains(n, ":") {
			return true
		}
	}
	return false
}

// scanTag reads a start tag at a place and returns where it ends.
func scanTag(s string, i int) (*tag, int, bool) {
	t := &tag{attrs: map[string]string{}}
	j := i + 1
	space := func() int {
		from := j
		for j < len(s) && strings.IndexByte(" \t\n\r", s[j]) >= 0 {
			j++
		}
		return j - from
	}
	name := func() string {
		from := j
		for j < len(s) && strings.IndexByte(" \t\n\r=/>\"'<&", s[j]) < 0 {
			j++
		}
		return s[from:j]
	}
	if t.name = name(); t.name == "" || t.name[0] >= '0' && t.name[0] <= '9' || t.name[0] == '-' {
		return nil, 0, false
	}
	for {
		gap := space()
		switch {
		case j >= len(s):
			return nil, 0, false
		case s[j] == '>':
			return t, j + 1, true
		case strings.HasPrefix(s[j:], "/>"):
			t.alone = true
			return t, j + 2, true
		case gap == 0:
			return nil, 0, false
		}
		key := name()
		space()
		if key == "" || j >= len(s) || s[j] != '=' {
			return nil, 0, false
		}
		j++
		space()
		if j >= len(s) || s[j] != '"' && s[j] != '\'' {
			return nil, 0, false
		}
		end := strings.IndexByte(s[j+1:], s[j])
		if end < 0 || strings.IndexByte(s[j+1:j+1+end], '<') >= 0 {
			return nil, 0, false
		}
		if _, twice := t.attrs[key]; twice {
			return nil, 0, false
		}
		t.keys = append(t.keys, key)
		t.attrs[key] = unescape(s[j+1 : j+1+end])
		j += end + 2
	}
}

func unescape(s string) string {
	return strings.NewReplacer("&lt;", "<", "&gt;", ">", "&amp;", "&", "&#34;", `"`, "&#39;", "'", "&quot;", `"`).Replace(s)
}
