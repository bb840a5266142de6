package packet

import (
	"fmt"
	"math"
	"slices"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/outline"
	"starwright/toolpath/finding"
)

// wordsTol is how far a distance that is printed on a jig may lie from the jig's
// own, mm: half of the last digit that is printed.
const wordsTol = 0.05

// measured are the words on jigs that say how far the zero of the work, which is
// that of the drawing, lies from an edge of the plate.
var measured = []struct {
	words []string
	from  string // the edge, in words
	edge  func(plate geom.Box) float64
}{
	{[]string{"z0", "above", "foot"}, "the foot", func(b geom.Box) float64 { return -b.Min.Y }},
	{[]string{"x0", "from", "left", "side"}, "the left side", func(b geom.Box) float64 { return -b.Min.X }},
	{[]string{"x0", "from", "right", "side"}, "the right side", func(b geom.Box) float64 { return b.Max.X }},
	{[]string{"centre", "from", "left", "side"}, "the left side", func(b geom.Box) float64 { return -b.Min.X }},
	{[]string{"centre", "from", "right", "side"}, "the right side", func(b geom.Box) float64 { return b.Max.X }},
}

// proveWords measures the plate of a jig, as it stands on disk, where words on it
// say how far an edge lies from zero, and adds the figure: people set up by these
// words, and the plate that is cut is the one that they hold a rule to.
func (w *Work) proveWords(p *Proof, d *Drawing) {
	if !d.jig || p.Drawing == nil {
		return
	}
	plate := geom.EmptyBox()
	for i := range p.Drawing.Contours {
		if c := &p.Drawing.Contours[i]; c.Layer == cut.Outline {
			plate = plate.Union(c.Bounds())
		}
	}
	n, worst := 0, 0.0
	for _, t := range p.Drawing.Texts {
		s := outline.TakeApart(t.Text)
		for _, m := range measured {
			if !slices.Equal(s.Words, m.words) || len(s.Figures) != 1 || s.Figures[0].Unit != outline.Length {
				continue
			}
			n++
			is := m.edge(plate)
			off := math.Abs(is - s.Figures[0].Value)
			worst = math.Max(worst, off)
			if !(off <= wordsTol) {
				p.Findings = append(p.Findings, finding.Finding{File: p.Path, Line: t.Line, Block: t.Text, Rule: "words", ByMM: off,
					What:   fmt.Sprintf("says %q, and %s of the plate is %.2m from zero", t.Text, m.from, w.in(is)),
					InWood: "what is set up by these words is set up wrong"})
			}
		}
	}
	if n > 0 {
		p.Checks = append(p.Checks, finding.AtMost("words off the plate", worst, wordsTol, "mm"))
	}
}
