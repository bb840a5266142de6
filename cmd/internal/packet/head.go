package packet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"starwright/geom"
	"starwright/geom/words"
	"starwright/post/outline"
	"starwright/toolpath/finding"
)

// says is what a statement at the head of a program has to say, by the model:
// the words of those that people set up by, in their order, and the figures.
type says struct {
	label   string // "cutter"; the words before the colon, in small letters
	terms   string
	figures []figure
}

// figure is a figure of a statement, and by how much print may miss it.
type figure struct {
	outline.Figure
	tol float64
}

func count(n int) figure { return figure{outline.Figure{Value: float64(n)}, 0} }

// mm is a length that is printed to about tol.
func mm(v, tol float64) figure { return figure{outline.Figure{Value: v, Unit: outline.Length}, tol} }

// lastDecimal is half of a thousandth, and a little for rounding: heads print
// coordinates to three decimals.
const lastDecimal = 0.0006

// at is a coordinate in units of the program, printed to its last decimal.
func at(v float64) figure { return figure{outline.Figure{Value: v}, lastDecimal} }

// binding are the words by which people at a machine set up: where things lie,
// how they are held, what is cut how. Others are nobody's business.
var binding = strings.Fields(`left right front back show centre valley tip up down top bottom underside upper lower
	corner level fence grows falls conventional climb straight ball tapered facet holes outs outlines spoilboard
	x y z above below inside outside under over off screws clamps`)

// header gathers the statements of a program: comments of the form "Label:
// what it says", and the comments on the lines right below that have no label.
type header struct {
	said []statement
	line int // of the last comment
}

type statement struct {
	label string
	line  int
	texts []string
}

var labelled = words.Pattern(`^\s*([A-Z][A-Za-z ]{0,40}):\s*(.*)$`)

// comment takes in a comment of the program.
func (h *header) comment(line int, text string) {
	follows := line == h.line+1
	h.line = line
	var m []string
	if strings.IndexByte(text, ':') >= 0 { // else it is no label; a long program has a remark for each pass
		m = labelled().FindStringSubmatch(text)
	}
	if m != nil {
		h.said = append(h.said, statement{strings.ToLower(m[1]), line, []string{m[2]}})
	} else if n := len(h.said); n > 0 && follows && h.said[n-1].line+len(h.said[n-1].texts) == line {
		h.said[n-1].texts = append(h.said[n-1].texts, text)
	}
}

// axisNumber is an axis letter with a number, which are two things.
var axisNumber = words.Pattern(`\b([XYZxyz])(-?[0-9]+\.?[0-9]*)`)

// takeApart returns the binding words and the figures of a text.
func takeApart(text string) (terms []string, figures []outline.Figure) {
	s := outline.TakeApart(axisNumber().ReplaceAllString(text, "$1 $2 "))
	for _, w := range s.Words {
		switch w {
		case "center":
			w = "centre"
		case "corners":
			w = "corner"
		}
		if slices.Contains(binding, w) {
			terms = append(terms, w)
		}
	}
	return terms, s.Figures
}

// endsInFigure is a line that breaks off behind a figure.
var endsInFigure = words.Pattern(`[0-9][.0-9/ ]*$`)

// holds reports what of a statement is not as the model has it; "" where it says
// the same, or less. Where a statement goes on over several lines, as many are
// read as it needs.
func (w says) holds(s statement, u geom.Unit) (wrong string) {
	want := strings.Fields(w.terms)
	text := ""
	for k, t := range s.texts {
		text += " " + t
		terms, figures := takeApart(text)
		if k < len(s.texts)-1 && endsInFigure().MatchString(text) { // its unit stands on the next line
			_, whole := takeApart(text + " " + s.texts[k+1])
			figures = whole[:min(len(figures), len(whole))]
		}
		for i, f := range figures {
			if i >= len(w.figures) {
				return fmt.Sprintf("%s is a figure too many", show(f, u))
			}
			if m := w.figures[i]; f.Unit != m.Unit || math.Abs(f.Value-m.Value) > m.tol {
				return fmt.Sprintf("%s stands where the job has %s", show(f, u), show(m.Figure, u))
			}
		}
		if bad := notWithin(terms, want); bad != "" {
			return fmt.Sprintf("%q is not what the job has there", bad)
		}
		if len(figures) >= len(w.figures) && len(terms) >= len(want) {
			break
		}
	}
	return ""
}

// notWithin returns the first word that does not stand, in that order, among
// those wanted.
func notWithin(terms, want []string) string {
	k := 0
	for _, w := range terms {
		for k < len(want) && want[k] != w {
			k++
		}
		if k == len(want) {
			return w
		}
		k++
	}
	return ""
}

func show(f outline.Figure, u geom.Unit) string {
	if f.Unit == outline.Length {
		return u.FormatFine(f.Value)
	}
	return formatNumber(f.Value, 1)
}

// proveHead holds what a program says of itself against the model. A statement
// that is missing misleads nobody.
func (p *Proof) proveHead(h *header, g *Program) {
	for _, s := range h.said {
		for _, w := range g.says {
			if w.label != s.label {
				continue
			}
			if wrong := w.holds(s, g.Task.Unit); wrong != "" {
				p.Findings = append(p.Findings, finding.Finding{File: p.Path, Line: s.line, Block: strings.Join(s.texts[:1], ""), Rule: "words",
					What: fmt.Sprintf("the statement %q: %s", words.Capital(s.label), wrong), InWood: "what is set up by these words is set up wrong"})
			}
			break
		}
	}
}
