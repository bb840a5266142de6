package picture

import (
	"fmt"

	"starwright/geom"
)

// Extent returns the box round all that is drawn, line widths and words
// included, in the picture's own coordinates.
func (s *Picture) Extent() geom.Box {
	b := geom.EmptyBox()
	for _, it := range s.items {
		if it.word != nil {
			b = b.Union(it.word.plate().bounds())
			continue
		}
		for _, r := range it.runs {
			for _, c := range r.Curves {
				half := 0.0
				if !it.fill {
					half = it.pen.Width / 2
				}
				b = b.Union(c.Bounds().Grow(half))
			}
		}
	}
	return b
}

// Faults looks over a finished picture and says what a reader would stumble
// over: words that overlap, words with a line through them, labels that found
// no free place, and whatever lies outside of the page.
func (s *Picture) Faults() []string {
	var out []string
	for _, text := range s.crowded {
		out = append(out, fmt.Sprintf("no free place for %q", text))
	}
	const touch = 0.05 // mm that two boxes may overlap
	for i, w := range s.words {
		p := w.plate().grow(-touch)
		for _, v := range s.words[:i] {
			if p.overlaps(v.plate()) {
				out = append(out, fmt.Sprintf("%q overlaps %q", w.Text, v.Text))
			}
		}
		if s.ink.struck(p, w) {
			out = append(out, fmt.Sprintf("a line runs through %q", w.Text))
		}
	}
	if e := s.Extent(); !s.page.Grow(geom.Touch).Holds(e) {
		out = append(out, fmt.Sprintf("the drawing takes %.1f to %.1f by %.1f to %.1f mm, the page is %.1f to %.1f by %.1f to %.1f mm",
			e.Min.X, e.Max.X, e.Min.Y, e.Max.Y, s.page.Min.X, s.page.Max.X, s.page.Min.Y, s.page.Max.Y))
	}
	return out
}

// struck reports whether a line shows through a word. A word on a white
// ground hides the lines that were there before it.
func (k *ink) struck(p plate, w Word) bool {
	hit := false
	k.cells(p.bounds(), func(x, y int) bool {
		for _, id := range k.at(x, y) {
			if s := k.segs[id]; s.owner == 0 && !(w.Plate && int(id) < w.lines) && p.meets(s.a, s.b, s.half) {
				hit = true
				return false
			}
		}
		return true
	})
	return hit
}
