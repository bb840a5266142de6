package svgread

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/toolpath/finding"
)

// Read reads a file that is in memory. An error is returned only where it holds
// more than 64 MiB; what is wrong with the file itself is in the faults and the
// form of the File. Findings give the name, and lengths in the unit.
func Read(src []byte, name string, in geom.Unit) (*cut.File, error) {
	if len(src) > maxBytes {
		return nil, fmt.Errorf("%s: larger than the %d MiB that a drawing may have", name, maxBytes>>20)
	}
	f := &cut.File{Name: name, Unit: in, Closer: "the letter Z"}
	f.Vertex = func(v geom.Vertex) string {
		k := f.Scale()
		return fmt.Sprintf("%.6g %.6g", v.X/k, -v.Y/k+0)
	}
	r := &reader{src: src, dec: xml.NewDecoder(bytes.NewReader(src)), file: f, line: 1, colours: map[string]string{}, seen: map[string]int{}}
	r.all()
	r.scale()
	r.judgePage()
	r.judgeColours()
	return f, nil
}

// reader holds what is needed while a file is read.
type reader struct {
	src  []byte
	dec  *xml.Decoder
	file *cut.File

	at, line int // a place in src that was asked for last, and its line
	elements int
	open     []group
	root     bool // the drawing has begun
	ended    bool // and ended
	full     bool // more contours than are read
	page     page
	words    *cut.FileText // the text whose letters are coming

	colours map[string]string // layer that a colour was first used on
	mixed   []mixed
	seen    map[string]int // line of the group of each layer
}

// group is an element that is open, with what lies in it inherits.
type group struct {
	name  string
	layer string
	line  int
	paint paint
}

// all reads the file to its end.
func (r *reader) all() {
	for {
		start := int(r.dec.InputOffset())
		token, err := r.dec.Token()
		switch {
		case errors.Is(err, io.EOF):
			r.end()
			return
		case err != nil:
			r.stop(err)
			return
		}
		if !r.token(start, token) || r.full {
			return
		}
	}
}

// token takes in one piece of the file, which starts at a place of it, and
// reports whether there may be more.
func (r *reader) token(start int, token xml.Token) bool {
	switch t := token.(type) {
	case xml.StartElement:
		return r.begin(start, t)
	case xml.EndElement:
		r.close(t.Name.Local)
	case xml.CharData:
		r.letters(start, t)
	case xml.ProcInst:
		if t.Target != "xml" || start > 0 {
			r.form(r.lineAt(start), "entity", "<?"+t.Target+"?>", "what is cut may be changed from outside of the file", "an instruction for other programs")
		}
	case xml.Directive:
		r.form(r.lineAt(start), "entity", "<!"+string(t[:min(len(t), 40)])+">", "programs that read it may find other words in the file", "a document type: no drawing needs one")
	}
	return true
}

// end judges that the drawing is whole.
func (r *reader) end() {
	if !r.ended {
		r.fault(0, "structure", "", "there is no drawing in the file: it begins with <svg> and ends with </svg>")
	}
}

// stop ends the reading where the file is no XML.
func (r *reader) stop(err error) {
	line := r.lineAt(min(len(r.src), int(r.dec.InputOffset())))
	what := err.Error()
	var syntax *xml.SyntaxError
	if errors.As(err, &syntax) {
		what = syntax.Msg
	}
	r.fault(line, "structure", r.text(), "no XML: %s; nothing after it was read", clip(what))
}

// begin takes in the start of an element.
func (r *reader) begin(start int, e xml.StartElement) bool {
	line := r.lineAt(start)
	r.elements++
	switch {
	case r.elements > maxElements:
		return r.giveUp(line, "more than %d elements", maxElements)
	case len(r.open) >= maxDepth:
		return r.giveUp(line, "more than %d elements within each other", maxDepth)
	case len(e.Attr) > maxAttrs:
		return r.giveUp(line, "an element of more than %d attributes", maxAttrs)
	case r.ended:
		r.fault(line, "structure", r.text(), "there is more after </svg>: it is read by no program, or by some")
	}
	r.attributes(line, e)
	if !r.root {
		return r.drawing(line, e)
	}
	if e.Name.Space != namespace {
		return r.skip(line, e) // another program's notes
	}
	g := group{name: e.Name.Local, line: line}
	if n := len(r.open); n > 0 {
		g.layer, g.paint = r.open[n-1].layer, r.open[n-1].paint
	}
	switch e.Name.Local {
	case "title", "desc", "metadata":
		return r.skip(line, e)
	}
	if n := len(r.open); n > 0 && r.open[n-1].name != "svg" && r.open[n-1].name != "g" && e.Name.Local != "tspan" {
		r.form(line, "entity", e.Name.Local, "no program draws it, or each its own way",
			"<%s> within <%s>: drawings lie in groups, not in what is drawn", clip(e.Name.Local), clip(r.open[n-1].name))
		return r.skip(line, e)
	}
	switch e.Name.Local {
	case "g":
		r.group(&g, e)
	case "path":
		r.path(&g, e, start)
	case "line":
		r.lineElement(&g, e)
	case "text":
		r.textElement(&g, e)
	case "tspan":
		if r.words == nil {
			r.form(line, "entity", e.Name.Local, "it may or may not be drawn", "a tspan outside of a text")
		}
	case "rect", "circle", "ellipse", "polyline", "polygon":
		r.painted(&g, e)
		r.file.Others = append(r.file.Others, cut.FileOther{Kind: g.name, Layer: g.layer, Line: line})
	default:
		r.form(line, "entity", e.Name.Local, "software for lasers leaves it out, or draws it elsewhere",
			"<%s>: a drawing that is cut has groups, paths, lines and texts", clip(e.Name.Local))
		return r.skip(line, e)
	}
	r.open = append(r.open, g)
	return true
}

// drawing takes in the outermost element.
func (r *reader) drawing(line int, e xml.StartElement) bool {
	r.root = true
	if e.Name.Local != "svg" || e.Name.Space != namespace {
		r.fault(line, "structure", r.text(), "no SVG: the file begins with <%s>, not with <svg xmlns=%q>", clip(e.Name.Local), namespace)
		return false
	}
	r.readPage(line, e)
	r.open = append(r.open, group{name: "svg", line: line, paint: initial})
	return true
}

// close takes in the end of an element.
func (r *reader) close(name string) {
	if n := len(r.open); n > 0 {
		if name == "text" && r.words != nil {
			r.words.Text = clip(strings.Join(strings.Fields(r.words.Text), " "))
			r.file.Texts = append(r.file.Texts, *r.words)
			r.words = nil
		}
		r.open = r.open[:n-1]
		r.ended = r.ended || n == 1
	}
}

// letters takes in what stands between elements.
func (r *reader) letters(start int, data xml.CharData) {
	switch {
	case r.words != nil:
		if len(r.words.Text) < maxWords {
			r.words.Text += string(data[:min(len(data), maxWords)])
		}
	case len(bytes.TrimSpace(data)) > 0 && !bytes.Equal(data, []byte("\ufeff")):
		line := r.lineAt(start + len(data) - len(bytes.TrimLeft(data, " \t\r\n")))
		r.fault(line, "structure", r.text(), "letters outside of a text: a line may be damaged")
	}
}

// skip passes over an element that is no part of what is drawn.
func (r *reader) skip(line int, e xml.StartElement) bool {
	for depth := 1; depth > 0; {
		token, err := r.dec.Token()
		if err != nil {
			r.stop(err)
			return false
		}
		switch t := token.(type) {
		case xml.StartElement:
			r.elements++
			if depth++; depth > maxDepth || r.elements > maxElements || len(t.Attr) > maxAttrs {
				return r.giveUp(line, "too much within <%s>", clip(e.Name.Local))
			}
		case xml.EndElement:
			depth--
		}
	}
	return true
}

// scale turns everything that is a length into millimetres.
func (r *reader) scale() {
	f, k := r.file, r.file.Scale()
	if k == 1 {
		return
	}
	for i := range f.Contours {
		c := f.Contours[i].Contour
		for j := range c {
			c[j].Point = c[j].Mul(k)
		}
	}
	for i := range f.Lines {
		f.Lines[i].A, f.Lines[i].B = f.Lines[i].A.Mul(k), f.Lines[i].B.Mul(k)
	}
	for i := range f.Texts {
		f.Texts[i].At, f.Texts[i].HeightMM = f.Texts[i].At.Mul(k), f.Texts[i].HeightMM*k
	}
}

// giveUp records a fault and ends the reading.
func (r *reader) giveUp(line int, format string, args ...any) bool {
	r.fault(line, "structure", r.text(), format+"; nothing after it was read", args...)
	return false
}

// fault records what could not be read.
func (r *reader) fault(line int, rule, block, format string, args ...any) {
	r.file.Faults = add(r.file.Faults, finding.Finding{File: r.file.Name, Line: line, Rule: rule, Block: clip(block), What: fmt.Sprintf(format, args...)})
}

// form records what was read and is against the rules for a drawing that is cut.
func (r *reader) form(line int, rule, block, inWood, format string, args ...any) {
	r.file.Form = add(r.file.Form, finding.Finding{File: r.file.Name, Line: line, Rule: rule, Block: clip(block), What: fmt.Sprintf(format, args...), InWood: inWood})
}

func add(fs []finding.Finding, f finding.Finding) []finding.Finding {
	if len(fs) >= maxFaults {
		return fs
	}
	return append(fs, f)
}

// lineAt returns the line of a place in the file; places are asked for from the
// first to the last, but for a few.
func (r *reader) lineAt(at int) int {
	if at < r.at {
		r.at, r.line = 0, 1
	}
	r.line += bytes.Count(r.src[r.at:at], []byte{'\n'})
	r.at = at
	return r.line
}

// text returns the line that lineAt was asked for last, or what stands about the
// place in one that is very long, for a message.
func (r *reader) text() string {
	before, after := r.src[max(0, r.at-maxWords):r.at], r.src[r.at:min(len(r.src), r.at+maxWords)]
	if i := bytes.LastIndexByte(before, '\n'); i >= 0 {
		before = before[i+1:]
	} else if len(before) == maxWords {
		before = nil
	}
	if i := bytes.IndexByte(after, '\n'); i >= 0 {
		after = after[:i]
	}
	return string(before) + string(after)
}

// clip makes a value fit to print: no control letters, not too long.
func clip(s string) string {
	if len(s) > maxWords {
		s = s[:maxWords]
	}
	return strings.TrimSpace(strings.Map(func(c rune) rune {
		if !unicode.IsPrint(c) {
			return '?'
		}
		return c
	}, s))
}
