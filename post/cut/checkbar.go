package cut

import "starwright/geom"

// The check bar is a line of known length that anyone can lay a rule on in
// the drawing program and on the first sheet, whatever unit the program chose
// to read the file in.
const (
	longBarMM, shortBarMM = 100.0, 20.0 // millimetre drawings
	longBarIn, shortBarIn = 4.0, 1.0    // inch drawings
	barTickMM             = 2.0         // the end ticks reach this far to either side
	barGapMM              = 10.0        // clear of everything else by this
	barTextMM             = 2.5         // height of the words
	barTextGapMM          = 1.0         // baseline above the bar
)

// Bounds returns the box of everything drawn: contours with their arcs, lines,
// and the places of the labels (not their letters, whose width is the reading
// program's to choose).
func (d Drawing) Bounds() geom.Box {
	b := geom.EmptyBox()
	for _, c := range d.Contours {
		for i, v := range c.Contour {
			next := c.Contour[(i+1)%len(c.Contour)].Point
			b = b.Union(geom.Curve{A: v.Point, B: next, Bulge: v.Bulge}.Bounds())
		}
	}
	for _, l := range d.Lines {
		b = b.With(l.A).With(l.B)
	}
	for _, t := range d.Texts {
		b = b.With(t.At)
	}
	return b
}

// CheckBar returns the bar as it would stand with its left end at a place: the
// bar and its two end ticks, and the label that says how long it is, all on
// the Guide layer. It is 100 mm long, or 20 mm where the drawing is narrower
// than that; in an inch drawing 4 in or 1 in.
func (d Drawing) CheckBar(at geom.Point) ([]Line, Label) {
	l, words := d.barLength()
	end := at.Add(geom.Pt(l, 0))
	tick := geom.Pt(0, barTickMM)
	lines := []Line{
		{Guide, at, end},
		{Guide, at.Sub(tick), at.Add(tick)},
		{Guide, end.Sub(tick), end.Add(tick)},
	}
	label := Label{
		Layer:    Guide,
		At:       at.Add(geom.Pt(barTextGapMM, barTextGapMM)),
		HeightMM: barTextMM,
		Text:     words,
	}
	return lines, label
}

// WithCheckBar returns the drawing with a check bar below everything else.
func (d Drawing) WithCheckBar() Drawing {
	b := d.Bounds()
	if b.Empty() {
		b = geom.Box{}
	}
	lines, label := d.CheckBar(geom.Pt(b.Min.X, b.Min.Y-barGapMM))
	d.Lines = append(d.Lines[:len(d.Lines):len(d.Lines)], lines...)
	d.Texts = append(d.Texts[:len(d.Texts):len(d.Texts)], label)
	return d
}

// barLength returns the bar's length in mm and in words.
func (d Drawing) barLength() (float64, string) {
	w := d.Bounds().W()
	switch {
	case d.UnitMM == geom.MMPerInch && w >= longBarIn*geom.MMPerInch:
		return longBarIn * geom.MMPerInch, "4 in"
	case d.UnitMM == geom.MMPerInch:
		return shortBarIn * geom.MMPerInch, "1 in"
	case w >= longBarMM:
		return longBarMM, "100 mm"
	default:
		return shortBarMM, "20 mm"
	}
}
